/** Lines of ohms and millivolts, made up for this test, and the temperatures they become by what a person said of them. */
import { describe, expect, test } from 'vitest';
import { recognise, recognitionOf } from '../../server/core/reading/recognition.ts';
import { valuesByRole } from '../../server/core/reading/roles.ts';
import { plausibleWindowC } from '../../server/core/reading/plausible.ts';
import { likelySensor, sensed } from '../../server/core/reading/sensed.ts';
import type { Role } from '../../server/core/record/command.ts';
import type { Sensor, Sensors } from '../../server/core/record/sensor.ts';
import { Bowl, shippedProfile } from '../support/bowl.ts';

/** 112.0602 Ω is 31 °C by IEC 60751; 7700.1 Ω is 31 °C by beta 3950; 1.244 mV is 31 °C of K over 0 °C. */
const PT100: Sensor = { kind: 'platinum', unit: 'ohm', ohmsAt0C: 100 };
const PT1000_IN_KOHM: Sensor = { kind: 'platinum', unit: 'kohm', ohmsAt0C: 1000 };
const NTC: Sensor = { kind: 'beta', unit: 'ohm', ohmsAt25C: 10_000, betaK: 3950 };
const GENERIC: Sensor = { kind: 'steinhart-hart', unit: 'ohm', a: 1.129148e-3, b: 2.34125e-4, c: 8.76741e-8 };
const overTyped = (type: 'K' | 'T', tempC: number): Sensor => ({
  kind: 'thermocouple',
  unit: 'mV',
  type,
  cold: { from: 'typed', tempC },
});
const overChannel = (channel: string): Sensor => ({
  kind: 'thermocouple',
  unit: 'mV',
  type: 'K',
  cold: { from: 'channel', channel },
});

/** A line as it comes from UTF-8 bytes, one character per byte. */
function utf8(line: string): string {
  return String.fromCharCode(...new TextEncoder().encode(line));
}

/** The line as it is read once its like has come for a while, and each channel that something was said of has a role, as it does. */
function readOf(line: string, sensors?: Sensors) {
  const roles = Object.fromEntries(Object.keys(sensors ?? {}).map((key): [string, Role] => [key, 'ignored']));
  const said = { decimalComma: null, roles };
  let recognition = recognitionOf(null);
  for (let turn = 0; turn < 8; turn += 1)
    ({ recognition } = recognise(recognition, alike(line, turn), turn * 1000, said));
  return sensed(recognise(recognition, line, 8_000, said).reading, sensors);
}

/** Its numbers a little otherwise, as those of a probe are from one second to the next. */
function alike(line: string, turn: number): string {
  return line.replace(/(?<![A-Za-z\d.])\d+(?:\.\d+)?/g, (number) => {
    const last = (Number(number.at(-1)) + (turn % 3)) % 10;
    return `${number.slice(0, -1)}${last}`;
  });
}

/** Channels as `key value` to a tenth of a degree, or the reason. */
function understood(line: string, sensors?: Sensors): string {
  const read = readOf(line, sensors);
  if (!read.ok) return read.reason;
  return read.channels.map(({ key, valueC }) => `${key} ${valueC.toFixed(1)}`).join(', ');
}

describe('a number of which it was said what it is', () => {
  test.each<[string, Sensors, string]>([
    ['112.06', { '1': PT100 }, '1 31.0'],
    ['1.1206', { '1': PT1000_IN_KOHM }, '1 31.0'],
    ['7700', { '1': NTC }, '1 31.0'],
    ['7720.9', { '1': GENERIC }, '1 31.0'],
    ['112.06 ohm', { '#1': PT100 }, '#1 31.0'],
    ['112.06ohms', { '#1': PT100 }, '#1 31.0'],
    [utf8('112.06 Ω'), { '#1': PT100 }, '#1 31.0'],
    [utf8('1.1206 kΩ'), { '#1': PT1000_IN_KOHM }, '#1 31.0'],
    ['probe R: 112.06', { 'probe r': PT100 }, 'probe r 31.0'],
    ['R=112.06; bath=52.0', { r: PT100 }, 'r 31.0, bath 52.0'],
    ['{"pt100_ohm":112.06,"room":21.5}', { pt100_ohm: PT100 }, 'pt100_ohm 31.0, room 21.5'],
    ['{"probe":"112.06 ohm"}', { probe: PT100 }, 'probe 31.0'],
    ['1.244 mV', { '#1': overTyped('K', 0) }, '#1 31.0'],
    [utf8('1244 µV'), { '#1': overTyped('K', 0) }, '#1 31.0'],
    ['1.238', { '1': overTyped('T', 0) }, '1 31.0'],
    // 31 °C over 22 °C is 1.244 − 0.879 mV; with temperatures added it would be 31.1.
    ['tc mV: 0.365; amb: 22.0', { 'tc mv': overChannel('amb') }, 'tc mv 31.0, amb 22.0'],
    ['tc mV: 0.365; R: 108.57', { 'tc mv': overChannel('r'), r: PT100 }, 'tc mv 31.0, r 22.0'],
  ])('%j is °C by its sensor', (line, sensors, wanted) => expect(understood(line, sensors)).toBe(wanted));

  test('is counted in what the line says, whatever was said of lines that don’t', () => {
    expect(understood('1.1206 kohm', { '#1': { ...PT1000_IN_KOHM, unit: 'ohm' } })).toBe('#1 31.0');
  });

  test('stays as printed where that was said, or nothing', () => {
    expect(understood('31.4; 45.2', { '1': { kind: 'printed' } })).toBe('1 31.4, 2 45.2');
    expect(understood('31.4; 45.2', {})).toBe('1 31.4, 2 45.2');
    expect(understood('31.4; 112.06 ohm', { '9': PT100 })).toBe('1 31.4');
  });

  test('is never taken for a temperature unasked', () => {
    for (const line of ['112.06 ohm', '1.244 mV', utf8('112.06 Ω'), 'R: 112.06', '{"ohm":112.06}'])
      expect(understood(line)).toBe('not-a-temperature');
  });

  test('leaves its channel out where no such sensor gives it, and keeps its place', () => {
    const sensors = { r: PT100 };
    const read = readOf('R: 9999.0; bath: 45.2', sensors);
    expect(read).toEqual({ ok: true, channels: [{ key: 'bath', valueC: 45.2 }], places: ['r', 'bath'] });
    expect(understood('R: 9999.0', sensors)).toBe('implausible');
  });

  test('has no temperature without its cold end: missing, or a thermocouple itself', () => {
    expect(understood('tc mV: 0.365', { 'tc mv': overChannel('amb') })).toBe('implausible');
    const both = { 'a mv': overChannel('b mv'), 'b mv': overChannel('a mv') };
    expect(understood('a mV: 0.365; b mV: 0.365', both)).toBe('implausible');
  });
});

test.each([
  [109.73, 'ohm', { kind: 'platinum', ohmsAt0C: 100 }],
  [1.0973, 'kohm', { kind: 'platinum', ohmsAt0C: 1000 }],
  [9814, 'ohm', { kind: 'beta', ohmsAt25C: 10_000 }],
  [0.365, 'mV', { kind: 'thermocouple', type: 'K' }],
  [365, 'uV', { kind: 'thermocouple', unit: 'uV' }],
] as const)('%d %s is proposed as what it most likely is', (value, unit, sensor) => {
  expect(likelySensor(value, unit)).toMatchObject({ unit, ...sensor });
});

describe('in a run', () => {
  test('[R15] the channel is the chocolate in °C from the moment it is said, and before nothing', () => {
    const bowl = new Bowl(shippedProfile('dark'), 31).start('work').line(utf8('112.06 Ω'));
    expect(bowl.readings).toEqual([]);
    bowl.do({ name: 'assign-role', channel: '#1', role: 'chocolate', sensor: PT100 }).line(utf8('112.06 Ω'));
    expect(bowl.readings.map(({ role, valueC }) => [role, valueC])).toEqual([['chocolate', 31]]);
    expect(bowl.events.findLast(({ kind }) => kind === 'role-changed')).toMatchObject({
      channel: '#1',
      sensor: PT100,
    });
  });

  test('[R15] a role said later leaves what the number is', () => {
    const bowl = new Bowl(shippedProfile('dark'), 31, { sensors: { '#1': PT100 }, roles: { ohm: 'chocolate' } });
    bowl.start('work').do({ name: 'assign-role', channel: '#1', role: 'bath' }).line('112.06 ohm');
    expect(bowl.readings.map(({ role, valueC }) => [role, valueC])).toEqual([['bath', 31]]);
  });
});

test.each(['K', 'T'] as const)(
  'a cold end that stands for a fault makes of millivolts no temperature that a bowl could have (%s)',
  (type) => {
    const sensors: Sensors = {
      mv: { kind: 'thermocouple', unit: 'mV', type, cold: { from: 'channel', channel: 'amb' } },
    };
    const madeAt = (coldC: number): number | null => {
      const channels = [
        { key: 'amb', valueC: coldC },
        { key: 'mv', valueC: 0.36, electric: 'mV' as const },
      ];
      const made = sensed({ ok: true, channels, places: ['amb', 'mv'] }, sensors);
      return made.ok ? (made.channels.find(({ key }) => key === 'mv')?.valueC ?? null) : null;
    };
    expect(madeAt(22)).toBeCloseTo(31, 0);
    const [lowestC, highestC] = plausibleWindowC(shippedProfile('dark'));
    for (const coldC of [-127, -128, -196.6, -242.02, -273.15, -999, 327.67, 655.35, 988.79, 999, 2047.75, 9999, 65535])
      expect(madeAt(coldC) ?? Infinity).not.toSatisfy((tempC: number) => tempC >= lowestC && tempC <= highestC);
  },
);

test('line after line alike, a number that is known to be ohms stays ohms, with a sensor said and without', () => {
  const roles = { r: 'chocolate' } as const;
  let recognition = recognitionOf(null);
  for (let s = 0; s < 30; s++) {
    const text = `amb: 22.${10 + s}; R: 112.${10 + s} ohm`;
    const read = recognise(recognition, text, s * 1000, { roles, decimalComma: null });
    recognition = read.recognition;
    if (!read.reading.ok) throw new Error(`${text}: ${read.reading.reason}`);
    expect(sensed(read.reading, {})).toMatchObject({ channels: [{ key: 'amb' }] });
    const made = sensed(read.reading, { r: { kind: 'platinum', unit: 'kohm', ohmsAt0C: 100 } });
    if (!made.ok) throw new Error(made.reason);
    expect(valuesByRole(made.channels, roles, made.places).chocolate).toBeCloseTo(31.1 + s * 0.026, 1);
  }
  expect(recognition.format).not.toBeNull();
});
