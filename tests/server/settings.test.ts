/** What is remembered between starts comes back as it was, and what is damaged of it takes nothing else with it. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { PLAIN_BENCH } from '../../server/bench/bench.ts';
import {
  KNOWN_MOST,
  type KnownProbe,
  readSettings,
  rememberMeasuredLag,
  rememberProbe,
  rememberThermometer,
  UNKNOWN_PROBE,
} from '../../server/settings.ts';
import { type PortIdentity, thermometerId } from '../../server/source/ports.ts';
import { freshFolder } from '../support/store.ts';

const ONE: PortIdentity = { vendorId: '1a86', productId: '7523', serialNumber: null, position: '1-1', path: '/dev/a' };
const OTHER: PortIdentity = { ...ONE, position: '1-2', path: '/dev/b' };
const FIRST = thermometerId({ identity: ONE });
const SECOND = thermometerId({ identity: OTHER });

const KNOWN: KnownProbe = {
  lag: { lagS: 4.25, measuredAtWall: '2026-11-25T09:00:00.000Z' },
  correction: { offsetC: -0.4, gain: 1.01 },
  roles: { T2: 'bath', T1: 'chocolate' },
  decimalComma: true,
};

/** Nobody said anything of the bench. */
const PLAIN = { beside: [], bench: PLAIN_BENCH, ports: {} };

function written(folder: string, settings: unknown): void {
  writeFileSync(join(folder, 'settings.json'), typeof settings === 'string' ? settings : JSON.stringify(settings));
}

describe('the thermometer remembered', () => {
  test('is the one opened last, and what is known of each stays', () => {
    const folder = freshFolder();
    expect(readSettings(folder)).toEqual({ ...PLAIN, thermometer: null, probes: {} });
    rememberThermometer(folder, ONE);
    rememberProbe(folder, FIRST, () => KNOWN);
    rememberThermometer(folder, OTHER);
    expect(readSettings(folder)).toEqual({ ...PLAIN, thermometer: OTHER, probes: { [FIRST]: KNOWN } });
  });

  test('a folder that cannot be written is no reason to break', () => {
    const folder = join(freshFolder(), 'none');
    expect(rememberThermometer(folder, ONE)).toBe(false);
    expect(rememberProbe(folder, FIRST, () => KNOWN)).toBe(false);
    const file = join(freshFolder(), 'file');
    writeFileSync(file, '');
    expect(rememberMeasuredLag(join(file, 'inside'), FIRST, 4, '2026-11-25T09:00:00.000Z')).toBe(false);
  });

  test.each(['', '{', 'null', '[]', '7', '{"thermometer":7}', '{"thermometer":{"path":"/dev/ttyUSB0"}}'])(
    'counts as none where the file is damaged: %j',
    (text) => {
      const folder = freshFolder();
      written(folder, text);
      expect(readSettings(folder)).toEqual({ ...PLAIN, thermometer: null, probes: {} });
    },
  );

  test('is still known from a file of before there was more to remember', () => {
    const folder = freshFolder();
    written(folder, { thermometer: ONE });
    expect(readSettings(folder)).toEqual({ ...PLAIN, thermometer: ONE, probes: {} });
  });
});

describe('what is known of a thermometer', () => {
  test('is changed by itself: another one, and what was not changed, stay as they are', () => {
    const folder = freshFolder();
    rememberProbe(folder, FIRST, () => KNOWN);
    rememberProbe(folder, SECOND, (known) => ({ ...known, decimalComma: false }));
    rememberProbe(folder, FIRST, (known) => ({ ...known, correction: { offsetC: 1, gain: 1 } }));
    expect(readSettings(folder).probes).toEqual({
      [FIRST]: { ...KNOWN, correction: { offsetC: 1, gain: 1 } },
      [SECOND]: { ...UNKNOWN_PROBE, decimalComma: false },
    });
  });

  test('has a lag measured by another program, with its date, in a folder that was not there yet', () => {
    const folder = join(freshFolder(), 'not', 'yet');
    expect(rememberMeasuredLag(folder, FIRST, 6.5, '2026-11-25T10:00:00.000Z')).toBe(true);
    rememberProbe(folder, FIRST, (known) => ({ ...known, roles: { T1: 'chocolate' } }));
    expect(readSettings(folder).probes[FIRST]).toEqual({
      ...UNKNOWN_PROBE,
      lag: { lagS: 6.5, measuredAtWall: '2026-11-25T10:00:00.000Z' },
      roles: { T1: 'chocolate' },
    });
  });

  test.each([
    ['a key that there is not', { ...KNOWN, colour: 'red' }],
    ['a key inside that there is not', { ...KNOWN, lag: { ...KNOWN.lag, unit: 's' } }],
    ['a lag beyond what any probe has', { ...KNOWN, lag: { lagS: 301, measuredAtWall: null } }],
    ['a lag that is less than none', { ...KNOWN, lag: { lagS: -1, measuredAtWall: null } }],
    ['a correction that no command could set', { ...KNOWN, correction: { offsetC: 0, gain: 0 } }],
    ['a role that is none', { ...KNOWN, roles: { T1: 'soup' } }],
    ['something missing', { lag: KNOWN.lag }],
    ['nothing at all', null],
  ])('counts as unknown where its entry has %s; the others are kept', (_, entry) => {
    const folder = freshFolder();
    written(folder, { thermometer: ONE, probes: { [FIRST]: entry, [SECOND]: KNOWN } });
    expect(readSettings(folder)).toEqual({ ...PLAIN, thermometer: ONE, probes: { [SECOND]: KNOWN } });
  });

  test('is forgotten of the one learned of longest ago, where there are too many', () => {
    const folder = freshFolder();
    for (let i = 0; i < KNOWN_MOST; i++) rememberProbe(folder, `usb:1:${i}:x`, () => KNOWN);
    rememberProbe(folder, 'usb:1:0:x', () => KNOWN);
    rememberProbe(folder, FIRST, () => KNOWN);
    const ids = Object.keys(readSettings(folder).probes);
    expect(ids).toHaveLength(KNOWN_MOST);
    expect(ids).not.toContain('usb:1:1:x');
    expect(ids.slice(-2)).toEqual(['usb:1:0:x', FIRST]);
  });

  test('stands in a file that a person can read', () => {
    const folder = freshFolder();
    rememberProbe(folder, FIRST, () => KNOWN);
    const text = readFileSync(join(folder, 'settings.json'), 'utf8');
    expect(text).toContain('"usb:1a86:7523:1-1": {');
    expect(JSON.parse(text)).toEqual({ ...PLAIN, thermometer: null, probes: { [FIRST]: KNOWN } });
  });
});
