/** What a run begins with: flags before what is remembered, real thermometers each by itself and across starts. */
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { NO_CORRECTION } from '../../../server/core/record/run.ts';
import { KnownProbes } from '../../../server/known/known-probes.ts';
import { readSettings, rememberMeasuredLag } from '../../../server/settings.ts';
import { ICE_POINT } from '../../support/checked.ts';
import { freshFolder } from '../../support/store.ts';

const ONE = { id: 'usb:1a86:7523:A1', simulated: false };
const OTHER = { id: 'usb:1a86:7523:B2', simulated: false };
const SIMULATED = { id: 'simulated-bowl', simulated: true };
const NOTHING = { probeLagS: null, correction: NO_CORRECTION, roles: {}, decimalComma: null };
const MEASURED_AT = '2026-11-25T09:00:00.000Z';

function start(folder: string, flagLagS: number | null = null, names: Readonly<Record<string, string>> = {}) {
  return new KnownProbes({ folder, flagLagS, names });
}

describe('the lag of a probe', () => {
  test('is unknown until it is said, and known to the next start, for that thermometer alone', () => {
    const folder = freshFolder();
    const probes = start(folder);
    expect(probes.lagOf(ONE)).toBeNull();
    probes.setLag(ONE, 5);
    expect(probes.of(ONE)).toEqual({ ...NOTHING, probeLagS: 5 });
    expect(start(folder).of(ONE).probeLagS).toBe(5);
    expect(start(folder).lagOf(ONE)).toEqual({ lagS: 5, from: 'said', measuredAtWall: null });
    expect(start(folder).of(OTHER)).toEqual(NOTHING);
  });

  test('is said with its date where it was measured, until a person says otherwise or has it forgotten', () => {
    const folder = freshFolder();
    rememberMeasuredLag(folder, ONE.id, 6.5, MEASURED_AT);
    const probes = start(folder);
    expect(probes.lagOf(ONE)).toEqual({ lagS: 6.5, from: 'measured', measuredAtWall: MEASURED_AT });
    probes.setLag(ONE, 3);
    expect(probes.lagOf(ONE)).toEqual({ lagS: 3, from: 'said', measuredAtWall: null });
    probes.setLag(ONE, null);
    expect(start(folder).of(ONE)).toEqual(NOTHING);
  });

  test('is the one of the flag where there is one, and that one is not remembered', () => {
    const folder = freshFolder();
    rememberMeasuredLag(folder, ONE.id, 6.5, MEASURED_AT);
    const probes = start(folder, 2);
    expect(probes.lagOf(ONE)).toEqual({ lagS: 2, from: 'flag', measuredAtWall: null });
    expect(probes.of(OTHER).probeLagS).toBe(2);
    probes.learn(ONE, { name: 'set-correction', offsetC: 1, gain: 1 });
    expect(start(folder).of(ONE)).toEqual({ ...NOTHING, probeLagS: 6.5, correction: { offsetC: 1, gain: 1 } });
  });
});

describe('what commands say of a thermometer', () => {
  test('is known to the next start: correction, roles, and which comma is meant', () => {
    const folder = freshFolder();
    const probes = start(folder);
    expect(probes.learn(ONE, { name: 'set-correction', offsetC: -0.4, gain: 1.02 })).toBe(true);
    expect(probes.learn(ONE, { name: 'assign-role', channel: 'T2', role: 'bath' })).toBe(true);
    expect(probes.learn(ONE, { name: 'assign-role', channel: 'T1', role: 'chocolate' })).toBe(true);
    expect(probes.learn(ONE, { name: 'choose-reading', decimalComma: true })).toBe(true);
    expect(probes.learn(ONE, { name: 'next' })).toBe(false);
    const known = {
      probeLagS: null,
      correction: { offsetC: -0.4, gain: 1.02 },
      roles: { T1: 'chocolate', T2: 'bath' },
      decimalComma: true,
    };
    expect(probes.of(ONE)).toEqual(known);
    expect(start(folder).of(ONE)).toEqual(known);
    expect(start(folder).of(OTHER)).toEqual(NOTHING);
  });

  test('is known of its numbers and its check, until the chocolate is another channel or another sensor', () => {
    const folder = freshFolder();
    const probes = start(folder);
    const sensor = { kind: 'platinum', unit: 'ohm', ohmsAt0C: 100 } as const;
    probes.learn(ONE, { name: 'assign-role', channel: 'ohm', role: 'chocolate', sensor });
    expect(start(folder).of(ONE)).toEqual({ ...NOTHING, roles: { ohm: 'chocolate' }, sensors: { ohm: sensor } });
    const check = { checkedAtWall: MEASURED_AT, points: [ICE_POINT] };
    const checked = { name: 'set-correction', offsetC: -0.4, gain: 1, check } as const;
    for (const undoing of [
      { name: 'assign-role', channel: 'ohm', role: 'chocolate', sensor },
      { name: 'assign-role', channel: 'ohm', role: 'bath' },
      { name: 'assign-role', channel: 'other', role: 'chocolate' },
      { name: 'set-correction', offsetC: 0, gain: 1 },
    ] as const) {
      probes.learn(ONE, { name: 'assign-role', channel: 'ohm', role: 'chocolate' });
      probes.learn(ONE, { name: 'assign-role', channel: 'other', role: 'ignored' });
      probes.learn(ONE, checked);
      probes.learn(ONE, { name: 'assign-role', channel: 'room', role: 'room' });
      expect(start(folder).of(ONE).check).toEqual(check);
      probes.learn(ONE, undoing);
      expect(start(folder).of(ONE).check).toBeNull();
    }
  });

  test('lasts as long as the server where it is said of the simulated bowl, or where the folder cannot be written', () => {
    const command = { name: 'set-correction', offsetC: 1, gain: 1 } as const;
    const missing = join(freshFolder(), 'none');
    for (const [folder, source] of [
      [freshFolder(), SIMULATED],
      [missing, ONE],
    ] as const) {
      const probes = start(folder);
      probes.learn(source, command);
      expect(probes.of(source).correction).toEqual({ offsetC: 1, gain: 1 });
      expect(start(folder).of(source)).toEqual(NOTHING);
      expect(readSettings(folder).probes).toEqual({});
    }
  });

  test('is known of the same thermometer whether it was found or its port was named', () => {
    const folder = freshFolder();
    start(folder).setLag(ONE, 5);
    const named = { id: 'serial:/dev/ttyUSB0', simulated: false };
    const probes = start(folder, null, { [named.id]: ONE.id });
    expect(probes.of(named).probeLagS).toBe(5);
    probes.learn(named, { name: 'choose-reading', decimalComma: false });
    expect(start(folder).of(ONE)).toEqual({ ...NOTHING, probeLagS: 5, decimalComma: false });
  });
});

describe('a run that goes on', () => {
  const FROM_RUN = { probeLagS: 9, correction: { offsetC: 2, gain: 1 }, roles: {}, decimalComma: null };

  test('says what it knew where nothing else is known; its lag came by a flag that is not given now', () => {
    const probes = start(freshFolder());
    probes.recover(ONE, FROM_RUN);
    expect(probes.of(ONE)).toEqual({ ...FROM_RUN, probeLagS: null });
  });

  test('does not undo what is remembered', () => {
    const folder = freshFolder();
    start(folder).learn(ONE, { name: 'set-correction', offsetC: 3, gain: 1 });
    const probes = start(folder);
    probes.recover(ONE, FROM_RUN);
    expect(probes.of(ONE).correction).toEqual({ offsetC: 3, gain: 1 });
  });
});
