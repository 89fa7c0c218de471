import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseCommand } from '../../server/core/record/command-file.ts';
import { shipped } from '../support/shipped.ts';

const profiles = [shipped('dark'), shipped('milk')];
const dark = profiles[0]!;
const PT100 = { kind: 'platinum', unit: 'ohm', ohmsAt0C: 100 } as const;
const ICE = { against: 'ice', trueC: 0, withinC: 0.2, readC: 0.4, spreadC: 0.05, stepC: 0.1, readings: 61 } as const;
const CHECK = { checkedAtWall: '2026-11-26T09:00:00.000Z', points: [ICE] };
const FAR_OFF = { ...CHECK, points: [{ ...ICE, readC: 12 }] };

describe('a posted command', () => {
  test.each([
    { name: 'start', phase: 'melt' },
    { name: 'next' },
    { name: 'back' },
    { name: 'end' },
    { name: 'act', act: 'off-heat' },
    { name: 'acknowledge', alarm: 'overshoot' },
    { name: 'acknowledge', alarm: 'overshoot', by: 'Jo' },
    { name: 'quieten', alarm: 'scorch' },
    { name: 'assign-role', channel: 't2', role: 'bath' },
    { name: 'assign-role', channel: 't2', role: 'chocolate', sensor: PT100 },
    { name: 'choose-reading', decimalComma: true },
    { name: 'set-correction', offsetC: -0.4, gain: 1.01 },
    { name: 'set-correction', offsetC: -0.4, gain: 1, check: CHECK },
    { name: 'choose-profile', profile: dark, condition: 'melted' },
  ])('is taken as it is: $name', (command) => {
    expect(parseCommand(command, profiles)).toEqual({ ok: true, command });
  });

  test('may name a profile by its id, and then holds all of it', () => {
    const parsed = parseCommand({ name: 'choose-profile', profile: 'milk', condition: 'solid' }, profiles);
    expect(parsed).toEqual({ ok: true, command: { name: 'choose-profile', profile: profiles[1], condition: 'solid' } });
  });

  test.each([
    [null, 'command'],
    [[], 'command'],
    ['next', 'command'],
    [{}, 'command.name'],
    [{ name: 'stop' }, 'command.name'],
    [{ name: 'next', now: true }, 'command.now'],
    [{ name: 'start' }, 'command.phase'],
    [{ name: 'start', phase: '' }, 'command.phase'],
    [{ name: 'start', phase: 'x'.repeat(201) }, 'command.phase'],
    [{ name: 'act', act: 'danced' }, 'command.act'],
    [{ name: 'acknowledge', alarm: 'fire' }, 'command.alarm'],
    [{ name: 'acknowledge', alarm: 'scorch', by: 7 }, 'command.by'],
    [{ name: 'assign-role', channel: 't2', role: 'oven' }, 'command.role'],
    [{ name: 'assign-role', channel: '__proto__', role: 'bath' }, 'command.channel'],
    [{ name: 'set-correction', offsetC: 0, gain: 1, channel: '__proto__' }, 'command.channel'],
    [{ name: 'choose-reading', decimalComma: 'yes' }, 'command.decimalComma'],
    [{ name: 'set-correction', offsetC: 21, gain: 1 }, 'command.offsetC'],
    [{ name: 'set-correction', offsetC: 0, gain: 0 }, 'command.gain'],
    [{ name: 'set-correction', offsetC: -0.3, gain: 1, check: CHECK }, 'command.offsetC'],
    [{ name: 'set-correction', offsetC: -12, gain: 1, check: FAR_OFF }, 'command.check.points'],
    [{ name: 'set-correction', offsetC: 0, gain: 1, check: { ...CHECK, points: [] } }, 'command.check.points'],
    [{ name: 'assign-role', channel: 't2', role: 'bath', sensor: { kind: 'glass' } }, 'command.sensor.kind'],
    [
      { name: 'assign-role', channel: 't2', role: 'bath', sensor: { ...PT100, ohmsAt0C: 1 } },
      'command.sensor.ohmsAt0C',
    ],
    [{ name: 'choose-profile', profile: 'ruby', condition: 'solid' }, 'command.profile'],
    [{ name: 'choose-profile', profile: 'dark' }, 'command.condition'],
    [{ name: 'choose-profile', profile: { ...dark, phases: [] }, condition: 'solid' }, 'command.profile.phases'],
  ])('%j is refused, and the place named', (value, path) => {
    const parsed = parseCommand(value, profiles);
    expect(parsed).toMatchObject({ ok: false, complaint: { path } });
  });

  test('is never a reason to break, whatever was posted', () => {
    const anything = fc.oneof(
      fc.anything(),
      fc.record({ name: fc.constantFrom('start', 'act', 'choose-profile'), profile: fc.anything() }),
    );
    fc.assert(
      fc.property(anything, (value) => typeof parseCommand(value, profiles).ok === 'boolean'),
      { seed: 20261125, numRuns: 500 },
    );
  });
});
