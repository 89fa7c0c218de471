/** Which of a line's temperatures is the chocolate: labels, a person's choice, or the first place. */
import { describe, expect, test } from 'vitest';
import { readLine } from '../../server/core/reading/line.ts';
import { valuesByRole } from '../../server/core/reading/roles.ts';
import type { Role } from '../../server/core/record/command.ts';

function roles(line: string, given: Readonly<Record<string, Role>> = {}) {
  const read = readLine(line);
  if (!read.ok) throw new Error(read.reason);
  return valuesByRole(read.channels, given, read.places);
}

describe('without anybody saying', () => {
  test.each([
    ['31.4', { chocolate: 31.4 }],
    ['T: 31.4', { chocolate: 31.4 }],
    ['31.4,45.2', { chocolate: 31.4 }],
    ['bath: 45.2, choc: 31.4, room: 20.1', { chocolate: 31.4, bath: 45.2, room: 20.1 }],
    ['bath_temp=45.2 T=31.4', { chocolate: 31.4, bath: 45.2 }],
    ['probe: 30.2, chocolate: 31.4', { chocolate: 31.4 }],
    ['{"water":{"temp":45.2},"bowl":{"temp":31.4}}', { chocolate: 31.4, bath: 45.2 }],
    ['RH: 45 %, T: 31.4', { chocolate: 31.4 }],
    ['12345,31.4', { chocolate: 31.4 }],
  ])('%s', (line, wanted) => expect(roles(line)).toEqual(wanted));
});

test('[R8] a second probe never stands in for the chocolate while the first is at fault', () => {
  expect(roles('nan,45.2')).toEqual({});
  expect(roles('T1: open, T2: 45.2')).toEqual({});
  expect(roles('----;45.2;20.1')).toEqual({});
  expect(roles('choc: nan, probe: 45.2')).toEqual({});
});

test('[R8] a person’s choice wins over labels and places', () => {
  expect(roles('31.4,45.2', { '2': 'chocolate', '1': 'bath' })).toEqual({ chocolate: 45.2, bath: 31.4 });
  expect(roles('31.4,45.2', { '1': 'ignored' })).toEqual({ chocolate: 45.2 });
  expect(roles('bath: 31.4', { bath: 'chocolate' })).toEqual({ chocolate: 31.4 });
});

test('labels that only look like an object’s own names are ordinary labels', () => {
  expect(roles('constructor: 31.4')).toEqual({ chocolate: 31.4 });
  expect(roles('{"__proto__":31.4}')).toEqual({ chocolate: 31.4 });
});
