/** Inputs of several thermometers in one run: each is read by what is known of its own, and none but the chocolate's is judged by. */
import { describe, expect, test } from 'vitest';
import { initialState, type State, step } from '../../server/core/engine.ts';
import type { RunEvent } from '../../server/core/record/event.ts';
import type { Input } from '../../server/core/record/input.ts';
import { knownAfter } from '../../server/core/record/probe.ts';
import {
  type Companion,
  ENGINE_VERSION,
  NO_CORRECTION,
  type Reading,
  type RunHeader,
} from '../../server/core/record/run.ts';
import { decodeRunFile, encodeRunFile } from '../../server/core/record/trace.ts';
import { emptyView, foldEvents } from '../../server/core/show/view.ts';
import { shippedProfile } from '../support/bowl.ts';

const BATH: Companion = { correction: { offsetC: -1, gain: 1 }, roles: { '': 'bath' }, decimalComma: true };
const ROOM: Companion = { correction: NO_CORRECTION, roles: { '': 'ignored', '2': 'room' }, decimalComma: null };

/** Platinum, read 1 °C too high at ice. */
const OHMS: Companion = {
  correction: { offsetC: -1, gain: 1 },
  check: {
    checkedAtWall: '2026-11-25T09:00:00.000Z',
    points: [{ against: 'ice', trueC: 0, withinC: 0.2, readC: 1, spreadC: 0.02, stepC: 0.01, readings: 60 }],
  },
  roles: { '': 'ignored', '#1': 'bath' },
  sensors: { '#1': { kind: 'platinum', unit: 'ohm', ohmsAt0C: 100 } },
  decimalComma: null,
};

const HEADER: RunHeader = {
  engine: ENGINE_VERSION,
  profile: shippedProfile('dark'),
  condition: 'tempered',
  probeLagS: null,
  correction: { offsetC: 0.5, gain: 1 },
  roles: {},
  decimalComma: null,
  companions: { 'usb:bath': BATH, 'usb:room': ROOM },
};

type Untimed = Input extends infer I ? (I extends Input ? Omit<I, 'atMs'> : never) : never;

/** A run in the working phase, told what comes a second apart. */
function run(header: RunHeader = HEADER) {
  let state: State = initialState(header);
  let atMs = 0;
  const events: RunEvent[] = [];
  const readings: Reading[] = [];
  const take = (input: Untimed): void => {
    atMs += 1_000;
    const output = step(state, { atMs, ...input } as Input);
    state = output.state;
    events.push(...output.events);
    readings.push(...output.readings);
  };
  const line = (source: string, text: string): void => take({ kind: 'line', source, text });
  take({ kind: 'command', source: 'person', command: { name: 'start', phase: 'work' } });
  return { take, line, events, readings, state: () => state };
}

function told(readings: readonly Reading[]) {
  return readings.map(({ role, valueC }) => [role, valueC]);
}

test('[E13] each line is read, given its roles and corrected by what is known of the thermometer it came from', () => {
  const { line, readings } = run();
  const all = (s: number): void => {
    line('usb:choc', `31.${String(s)}0`);
    line('usb:bath', `41,${String(s)}`);
    line('usb:room', `99.${String(9 - s)},20.${String(s)}`);
  };
  // How each writes is found out over some lines.
  for (let s = 0; s <= 5; s++) all(s);
  expect(told(readings).slice(-3)).toEqual([
    ['chocolate', 32],
    ['bath', 40.5],
    ['room', 20.5],
  ]);
});

test('[E13] a thermometer beside the bowl gives no chocolate, whatever its labels say, until a person says so', () => {
  const { line, take, readings } = run();
  line('usb:room', 'choc: 55.0');
  line('usb:bath', 'chocolate=44.0');
  expect(told(readings)).toEqual([['bath', 43]]);
  take({
    kind: 'command',
    source: 'person',
    command: { name: 'assign-role', channel: 'choc', role: 'chocolate', source: 'usb:room' },
  });
  line('usb:room', 'choc: 31.0');
  expect(told(readings).at(-1)).toEqual(['chocolate', 31]);
});

describe('[E10] a channel with a correction of its own', () => {
  const check = OHMS.check!;
  const own = { name: 'set-correction', offsetC: -2, gain: 1, check, channel: 'bath' } as const;
  const both = (s: number): string => `choc: 31.${s}0; bath: 41.${s}0`;

  test('has it whatever it is in, and the others keep what is said of their thermometer', () => {
    const { line, take, readings, state, events } = run();
    for (let s = 0; s <= 5; s++) line('usb:choc', both(s));
    expect(told(readings).slice(-2)).toEqual([
      ['bath', 41.5],
      ['chocolate', 32],
    ]);
    take({ kind: 'command', source: 'person', command: own });
    expect(events.at(-1)).toMatchObject({ kind: 'correction-changed', channel: 'bath', check });
    line('usb:choc', both(6));
    expect(told(readings).slice(-2)).toEqual([
      ['bath', 39.6],
      ['chocolate', 32.1],
    ]);
    for (const [channel, role] of [
      ['choc', 'ignored'],
      ['bath', 'chocolate'],
    ] as const)
      take({ kind: 'command', source: 'person', command: { name: 'assign-role', channel, role } });
    line('usb:choc', 'choc: 41.00; bath: 31.00');
    expect(told(readings).at(-1)).toEqual(['chocolate', 29]);
    expect(state().header.corrections).toEqual({ bath: { correction: { offsetC: -2, gain: 1 }, check } });
  });

  test('of a companion too, and a run file keeps it to the byte', () => {
    const corrections = { '2': { correction: { offsetC: 0.3, gain: 1 }, check } };
    const header: RunHeader = { ...HEADER, companions: { 'usb:room': { ...ROOM, corrections } }, corrections };
    const { line, readings, state } = run(header);
    for (let s = 0; s <= 5; s++) line('usb:room', `99.${9 - s},20.${s}`);
    expect(told(readings).at(-1)).toEqual(['room', 20.8]);
    const text = encodeRunFile({ what: 'trace', header: state().header, labels: {}, inputs: [], events: [] });
    const back = decodeRunFile(text);
    expect(back).toMatchObject({ ok: true, value: { header: { corrections } } });
    expect(back.ok && encodeRunFile(back.value)).toBe(text);
  });

  test('loses its check where its number, or its cold end’s, is of another sensor, and keeps it where another one’s is', () => {
    const couple = { kind: 'thermocouple', unit: 'mV', type: 'K', cold: { from: 'channel', channel: 'amb' } } as const;
    const known: Companion = {
      ...ROOM,
      sensors: { tip: couple },
      corrections: { tip: { correction: NO_CORRECTION, check }, other: { correction: NO_CORRECTION, check } },
    };
    const printed = { kind: 'printed' } as const;
    const after = (channel: string) =>
      knownAfter(known, { name: 'assign-role', channel, role: 'ignored', sensor: printed }).corrections;
    expect(after('tip')).toEqual({ tip: { correction: NO_CORRECTION }, other: { correction: NO_CORRECTION, check } });
    expect(after('amb')).toEqual(after('tip'));
    expect(after('third')).toEqual(known.corrections);
  });
});

test('[G1] a thermometer that comes into the chocolate in mid-run brings its own lag', () => {
  const { line, take, state } = run({ ...HEADER, probeLagS: 9 });
  line('usb:choc', '31.00');
  const role = { name: 'assign-role', channel: '', role: 'chocolate', source: 'usb:spare' } as const;
  take({ kind: 'command', source: 'bowlside', command: role });
  expect(state().expectations.lagS).toBe(9);
  take({ kind: 'command', source: 'bowlside', command: { ...role, lagS: 3 } });
  expect(state().expectations.lagS).toBe(3);
  take({ kind: 'command', source: 'bowlside', command: { ...role, lagS: null } });
  expect(state().expectations.lagS).toBeNull();
});

describe('[E14] what a thermometer beside the bowl does', () => {
  test('silence of the chocolate is told while the bath goes on, and silence of the bath is not', () => {
    const { line, events, take } = run();
    for (let s = 0; s < 20; s++) line('usb:choc', `31.${10 + (s % 3)}`);
    for (let s = 0; s < 30; s++) line('usb:choc', `31.${10 + (s % 3)}`);
    expect(events.filter(({ kind }) => kind === 'alarm-raised')).toEqual([]);
    for (let s = 0; s < 30; s++) line('usb:bath', `40,${10 + s}`);
    take({ kind: 'command', source: 'person', command: { name: 'act', act: 'stirred' } });
    expect(events.filter(({ kind }) => kind === 'alarm-raised')).toMatchObject([{ alarm: 'probe-silent' }]);
  });

  test('one that stands still is not the chocolate’s standing still, and what it says is not the newest line', () => {
    const { line, state, readings } = run();
    for (let s = 0; s < 60; s++) {
      line('usb:choc', (31.2 + 0.3 * Math.sin(s)).toFixed(2));
      line('usb:bath', '40,00');
    }
    expect(readings.filter(({ role, quality }) => role === 'chocolate' && quality !== 'good')).toEqual([]);
    expect(state().lastLine).not.toContain(',');
  });

  test('its link is told with its name, and neither page nor power-on rule takes it for the chocolate’s', () => {
    const { take, line, events, readings } = run();
    take({ kind: 'link', source: 'usb:choc', up: true });
    for (let s = 0; s < 10; s++) line('usb:choc', `31.${20 + (s % 3)}`);
    take({ kind: 'link', source: 'usb:room', up: false, why: 'unplugged' });
    const links = events.filter((event) => event.kind === 'link');
    expect(links).toMatchObject([{ up: true }, { up: false, why: 'unplugged', source: 'usb:room' }]);
    expect(links[0]).not.toHaveProperty('source');
    expect(foldEvents(emptyView, events).link).toMatchObject({ up: true });
    take({ kind: 'link', source: 'usb:bath', up: true });
    line('usb:bath', '85,0');
    expect(told(readings).at(-1)).toEqual(['bath', 84]);
  });
});

test('[E15] one that comes in the middle of a run gives nothing but what commands say of it', () => {
  const { companions: _, ...alone } = HEADER;
  const { take, line, readings, events, state } = run(alone);
  const say = (command: Extract<Untimed, { kind: 'command' }>['command']): void =>
    take({ kind: 'command', source: 'bowlside', command });
  say({ name: 'set-correction', offsetC: -2, gain: 1, source: 'usb:new' });
  line('usb:new', '22.0');
  expect(readings).toEqual([]);
  say({ name: 'assign-role', channel: '', role: 'room', source: 'usb:new' });
  line('usb:new', '22.0');
  line('usb:choc', '31.0');
  expect(told(readings)).toEqual([
    ['room', 20],
    ['chocolate', 31.5],
  ]);
  expect(state().header).toMatchObject({ correction: { offsetC: 0.5 }, roles: {} });
  expect(events.filter(({ kind }) => kind === 'correction-changed')).toEqual([]);
  expect(events.find(({ kind }) => kind === 'role-changed')).toMatchObject({ role: 'room', source: 'usb:new' });
});

describe('what a number is, and how it was checked,', () => {
  test('[E13] is known of each thermometer by itself: ohms beside the bowl are a bath, and in the chocolate still nothing', () => {
    const { line, readings, state } = run({ ...HEADER, companions: { 'usb:ohms': OHMS } });
    line('usb:ohms', '115.54 ohm');
    line('usb:choc', '115.54 ohm');
    expect(told(readings)).toEqual([['bath', 39]]);
    expect(state().rejected).toEqual({ 'not-a-temperature': 1 });
  });

  test('[E15] comes by commands that name the thermometer, and changes nothing of the chocolate’s', () => {
    const { companions: _, ...alone } = HEADER;
    const { take, line, readings, events, state } = run(alone);
    const say = (command: Extract<Untimed, { kind: 'command' }>['command']): void =>
      take({ kind: 'command', source: 'bowlside', command: command });
    const { correction, check, roles, sensors } = OHMS;
    say({ name: 'assign-role', channel: '#1', role: roles['#1']!, sensor: sensors!['#1']!, source: 'usb:ohms' });
    say({ name: 'set-correction', ...correction, check: check!, source: 'usb:ohms' });
    line('usb:ohms', '115.54 ohm');
    expect(told(readings)).toEqual([['bath', 39]]);
    expect(state().header.companions).toMatchObject({ 'usb:ohms': { check, sensors } });
    expect(state().header).not.toHaveProperty('sensors');
    expect(state().header).not.toHaveProperty('check');
    expect(events.find(({ kind }) => kind === 'role-changed')).toMatchObject({
      sensor: sensors!['#1'],
      source: 'usb:ohms',
    });
  });
});

test('[F1] a run file keeps what is known of each thermometer', () => {
  const companions = { ...HEADER.companions, 'usb:ohms': OHMS };
  const file = {
    what: 'trace',
    header: { ...HEADER, companions },
    labels: {},
    inputs: [],
    events: [],
  } as const;
  const read = decodeRunFile(encodeRunFile(file));
  expect(read).toMatchObject({ ok: true, value: { header: file.header } });
  const { companions: _, ...alone } = HEADER;
  const without = decodeRunFile(encodeRunFile({ ...file, header: alone }));
  if (!without.ok) throw new Error(without.reason);
  expect(without.value.header).toEqual(alone);
});
