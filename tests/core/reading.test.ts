/** Lines as thermometers send them, made up for this test, and what is understood of each. No device is named or needed. */
import { describe, expect, test } from 'vitest';
import type { RejectReason } from '../../server/core/record/event.ts';
import { MOST_VALUES } from '../../server/core/reading/channel.ts';
import { type LineOptions, MAX_LINE_LENGTH, readLine } from '../../server/core/reading/line.ts';

/** Channels as `key value` to a thousandth of a degree, or the reason. */
function understood(line: string, options?: LineOptions): string {
  const read = readLine(line, options);
  if (!read.ok) return read.reason;
  return read.channels.map(({ key, valueC }) => `${key} ${Number(valueC.toFixed(3))}`).join(', ');
}

/** A line as it comes from UTF-8 bytes, one character per byte. */
function utf8(line: string): string {
  return String.fromCharCode(...new TextEncoder().encode(line));
}

function reads(title: string, table: Readonly<Record<string, string>>): void {
  describe(title, () => {
    test.each(Object.entries(table))('%j', (line, wanted) => expect(understood(line)).toBe(wanted));
  });
}

reads('a bare number is the first channel', {
  '31.4': '1 31.4',
  '  31.40 ': '1 31.4',
  '+31.4': '1 31.4',
  '-5': '1 -5',
  '-0.0': '1 0',
  '31': '1 31',
  '.5': '1 0.5',
  '+3.142E+01': '1 31.42',
  '31.4\r': '1 31.4',
});

reads('a unit is understood, glued or apart, and converted', {
  '31.4C': '1 31.4',
  '31.4 c': '1 31.4',
  '31.4°C': '1 31.4',
  '31.4 ° C': '1 31.4',
  '31.4 deg C': '1 31.4',
  '31.4 degC': '1 31.4',
  '31.4 Celsius': '1 31.4',
  '31.4º': '1 31.4',
  '88.52F': '1 31.4',
  '88.52 °F': '1 31.4',
  '88.52 deg F': '1 31.4',
  '304.55 K': '1 31.4',
  '304.55K': '1 31.4',
  [utf8('31.4 °C')]: '1 31.4',
  [utf8('31.4°C')]: '1 31.4',
  [utf8('88.52 ℉')]: '1 31.4',
  [utf8('31.4 ℃')]: '1 31.4',
});

reads('a label names its channel', {
  'T: 31.4': 't 31.4',
  'T=31.4': 't 31.4',
  'T:31.4C': 't 31.4',
  'T31.4': 't 31.4',
  'T: -5.2': 't -5.2',
  'Temp - 31.4': 'temp 31.4',
  'temp 31.4 C': 'temp 31.4',
  'temp 31': 'temp 31',
  'Chocolate: 31.4': 'chocolate 31.4',
  'Schokolade: 31.4': 'schokolade 31.4',
  'Temp:\t31.4': 'temp 31.4',
  'Probe 1: 31.4': 'probe 1 31.4',
  'probe 1 31.4': 'probe 1 31.4',
  'ch1:31.4 ch2:45.0': 'ch1 31.4, ch2 45',
  '1: 31.4, 2: 45.0': '1 31.4, 2 45',
  'Sensor 1: temp=31.4': 'sensor 1 temp 31.4',
  'water bath = 44.9 C': 'water bath 44.9',
  'T 31.4 T 45.0': 't 31.4, t 2 45',
});

reads('a label may carry the unit', {
  'Temp(C): 31.4': 'temp 31.4',
  'Temp (°F): 88.52': 'temp 31.4',
  'temp_f=88.52': 'temp_f 31.4',
  'tempF=88.52': 'tempf 31.4',
  'F: 88.52': 'f 31.4',
  'C=31.4;F=88.52': 'c 31.4',
  'K: 31.4': 'k 31.4',
});

reads('several values are several channels, whatever stands between them', {
  '31.4,45.2': '1 31.4, 2 45.2',
  '31.4, 45.2': '1 31.4, 2 45.2',
  '31.4;45.2;20.1': '1 31.4, 2 45.2, 3 20.1',
  '31.4\t45.2': '1 31.4, 2 45.2',
  '31.4 45.2': '1 31.4, 2 45.2',
  '  31.4      45.2': '1 31.4, 2 45.2',
  '31.4 C   45.2 C': '1 31.4, 2 45.2',
  '31.4 | 45.2': '1 31.4, 2 45.2',
  '(31.4, 45.2)': '1 31.4, 2 45.2',
  '"31.4","45.2"': '1 31.4, 2 45.2',
  '31.4,45.2,': '1 31.4, 2 45.2',
  'chocolate 31.4 bath 44.0': 'chocolate 31.4, bath 44',
  'chocolate,31.4,bath,45': 'chocolate 31.4, bath 45',
  'T: 31.4 C, B: 45.1 C': 't 31.4, b 45.1',
});

reads('one-line JSON, one level deep, with its names as labels', {
  '{"chocolate":31.4,"bath":45}': 'chocolate 31.4, bath 45',
  '{ "Temp": "31.4" }': 'temp 31.4',
  '{"temp":"88.52 F"}': 'temp 31.4',
  '{"temp":"31.4 \\u00b0C"}': 'temp 31.4',
  [utf8('{"temp":"31.4 °C"}')]: 'temp 31.4',
  '{"temp":88.52,"unit":"F"}': 'temp 31.4',
  '{"temp_f":88.52}': 'temp_f 31.4',
  '[31.4,45.2]': '1 31.4, 2 45.2',
  '[ "31.4", 45.2 ]': '1 31.4, 2 45.2',
  '{"choc":{"temp":31.4,"hum":45},"bath":{"temp":44}}': 'choc.temp 31.4, bath.temp 44',
  '[{"id":1,"temp":31.4},{"id":2,"temp":45}]': '1.temp 31.4, 2.temp 45',
  '{"temps":[31,45.2]}': 'temps.1 31, temps.2 45.2',
  '{"temp":NaN,"bath":45.1}': 'bath 45.1',
  '{"temp":null,"bath":45.1}': 'bath 45.1',
  '{"a":{"b":{"temp":31.4}}}': 'not-a-temperature',
  '{"temp": 31.': 'broken-json',
  '[31.4, 45': 'broken-json',
  '{}': 'no-number',
  '{"temp":NaN}': 'device-fault',
  '{"ok":true,"n":4}': 'not-a-temperature',
});

reads('other quantities are no temperatures and take no place among them', {
  'T: 31.4, RH: 45.2 %': 't 31.4',
  'Humidity: 45.00%  Temperature: 24.00°C': 'temperature 24',
  '31.4 C,45 %,1013.2 hPa': '1 31.4',
  '45 %,31.4': '1 31.4',
  'T 31.4 H 45': 't 31.4',
  't_ms=12345 temp=31.4': 'temp 31.4',
  't=12 temp=31.4': 'temp 31.4',
  '{"t":12,"temp":31.4}': 'temp 31.4',
  '12345,31.4': '1 31.4',
  '12:34:56 31.4': '1 31.4',
  '12:34:56,31.4': '1 31.4',
  '2026-05-01T12:34:56Z;31.4': '1 31.4',
  '2026-05-01 12:34:56,31.4': '1 31.4',
  'count: 7; temp: 31.4': 'temp 31.4',
  'target: 32.0 temp: 31.4': 'temp 31.4',
  'sample temp: 31.4': 'sample temp 31.4',
  'pressure: 1013.2 hPa': 'not-a-temperature',
  'humidity: 45.2': 'not-a-temperature',
  'uptime 12 s': 'not-a-temperature',
});

reads('a missing value leaves its channel out and shifts no other', {
  '31.4;;45.2': '1 31.4, 3 45.2',
  'nan,45.2': '2 45.2',
  '31.4,nan': '1 31.4',
  'nan 45.2': '2 45.2',
  '-- 45.2': '2 45.2',
  'err;45.2': '2 45.2',
  'T1: open, T2: 31.4': 't2 31.4',
  'T1: ---- T2: 31.4': 't2 31.4',
  'T1: , T2: 31.4': 't2 31.4',
  '-127.00,45.2': '1 -127, 2 45.2',
});

reads('a device that tells of a fault is believed', {
  nan: 'device-fault',
  NaN: 'device-fault',
  '-nan': 'device-fault',
  inf: 'device-fault',
  'T: inf': 'device-fault',
  ERR: 'device-fault',
  Error: 'device-fault',
  open: 'device-fault',
  'T: fault': 'device-fault',
  '----': 'device-fault',
  '--.-': 'device-fault',
  'T: -': 'device-fault',
  'ERR 31.4': 'device-fault',
  '31.4 ERR': 'device-fault',
  'sensor fault 12': 'device-fault',
  'Failed to read the sensor!': 'device-fault',
});

reads('start-up texts, menus and log lines are no readings', {
  'Booting v1.2.3': 'not-a-temperature',
  '### 12 ready': 'not-a-temperature',
  'Press 1 for menu': 'not-a-temperature',
  '1) start': 'not-a-temperature',
  '1 - read once': 'not-a-temperature',
  'Found 1 devices': 'not-a-temperature',
  'rst:0x1 (POWERON)': 'not-a-temperature',
  'load:0x3fff0030,len:1184': 'not-a-temperature',
  'Firmware: 2.1': 'not-a-temperature',
  'Version 1.2': 'not-a-temperature',
  'fw1.2': 'not-a-temperature',
  'Sampling interval: 1.0 s': 'not-a-temperature',
  'Calibration offset: 0.35': 'not-a-temperature',
  'Retry: 3': 'not-a-temperature',
  'sensor 12': 'not-a-temperature',
  'Ready 31.4': 'not-a-temperature',
  'heap 23456': 'not-a-temperature',
  '10.0.0.1': 'not-a-temperature',
  '[INFO] sensor 12 ok': 'not-a-temperature',
  'the bath is now at 44.5': 'not-a-temperature',
  '31.4 C and rising': 'not-a-temperature',
  'set the dial to 31.4 C': 'not-a-temperature',
  'time,temp,hum': 'no-number',
  'Connecting...': 'no-number',
  hello: 'no-number',
});

reads('half lines and rubbish are no readings', {
  '': 'empty',
  '   ': 'empty',
  '\t': 'empty',
  '31.': 'not-a-temperature',
  '31.4.5': 'not-a-temperature',
  '31.29.50': 'not-a-temperature',
  '31-45': 'not-a-temperature',
  '3l.4': 'not-a-temperature',
  '0x1F': 'not-a-temperature',
  '31.4\u0000': 'not-a-temperature',
  '\u0007 31.4': 'not-a-temperature',
  '\u00ff\u00fe31.4': 'not-a-temperature',
  '3\u00811.4': 'not-a-temperature',
  '{"temp":31.4,"x":"\u00ff"}': 'not-a-temperature',
  '\u00b0': 'no-number',
});

test('[R10] a line longer than the reader before it passes on is refused, be it a number', () => {
  const padded = `${' '.repeat(MAX_LINE_LENGTH - 6)}T:31.4`;
  expect(understood(padded)).toBe('t 31.4');
  expect(understood(` ${padded}`)).toBe('too-long' satisfies RejectReason);
});

test('[R3] a line of more values than any thermometer has is refused', () => {
  const values = (count: number) => Array.from({ length: count }, () => '31.4');
  for (const written of [
    (count: number) => values(count).join(' '),
    (count: number) => `[${values(count).join(',')}]`,
  ]) {
    expect(understood(written(MOST_VALUES)).split(', ')).toHaveLength(MOST_VALUES);
    expect(understood(written(MOST_VALUES + 1))).toBe('not-a-temperature' satisfies RejectReason);
  }
});

describe('[R9] a comma is a decimal mark or a separator', () => {
  const table: readonly (readonly [line: string, unsaid: string, decimal: string, separator: string])[] = [
    ['31,4', '1 31.4', '1 31.4', '1 31, 2 4'],
    ['31,4 °C', '1 31.4', '1 31.4', '1 31, 2 4'],
    ['-31,45', '1 -31.45', '1 -31.45', '1 -31, 2 45'],
    ['T: 31,4', 't 31.4', 't 31.4', 't 31, 2 4'],
    ['31,4;45,2', '1 31.4, 2 45.2', '1 31.4, 2 45.2', '1 31, 2 4, 3 45, 4 2'],
    ['31,4\t45,2', '1 31.4, 2 45.2', '1 31.4, 2 45.2', '1 31, 2 4, 3 45, 4 2'],
    ['31,4 45,2', '1 31.4, 2 45.2', '1 31.4, 2 45.2', '1 31, 2 4, 3 45, 4 2'],
    ['31,4, 45,2', '1 31.4, 2 45.2', '1 31.4, 2 45.2', '1 31, 2 4, 3 45, 4 2'],
    ['31.4,45.2', '1 31.4, 2 45.2', '1 31.4, 2 45.2', '1 31.4, 2 45.2'],
    ['31.4,45', '1 31.4, 2 45', '1 31.4, 2 45', '1 31.4, 2 45'],
    ['31, 45', '1 31, 2 45', '1 31, 2 45', '1 31, 2 45'],
    ['31,45,22', '1 31, 2 45, 3 22', '1 31.45, 2 22', '1 31, 2 45, 3 22'],
    ['31,4,45,2', 'ambiguous', '1 31.4, 2 45.2', '1 31, 2 4, 3 45, 4 2'],
    ['31,0625', 'ambiguous', '1 31.063', '1 31, 2 625'],
    ['{"temp":"31,4"}', 'temp 31.4', 'temp 31.4', 'not-a-temperature'],
  ];
  test.each(table)('%j', (line, unsaid, decimal, separator) => {
    expect(understood(line)).toBe(unsaid);
    expect(understood(line, { decimalComma: null })).toBe(unsaid);
    expect(understood(line, { decimalComma: true })).toBe(decimal);
    expect(understood(line, { decimalComma: false })).toBe(separator);
  });
});
