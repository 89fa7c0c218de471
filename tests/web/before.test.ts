/** Before melting: dew point against a table, and what is said of rooms. */
import { afterEach, describe, expect, test } from 'vitest';
import { dewPointC, roomFit, typedNumber } from '../../web/room.ts';
import { roomWords, uncheckedWords } from '../../web/words/before.ts';
import { sayIn } from '../../web/words/manner.ts';

afterEach(() => sayIn('C'));

describe('dew point', () => {
  // Magnus formula, constants of Alduchov and Eskridge (1996, from memory); figures reckoned apart from this code, to a tenth.
  test.each([
    [18, 50, 7.4],
    [20, 50, 9.3],
    [20, 60, 12.0],
    [22, 50, 11.1],
    [22, 60, 13.9],
    [25, 60, 16.7],
    [25, 70, 19.1],
    [20, 100, 20.0],
  ])('%d °C and %d per cent: %d °C', (roomC, humidity, dewC) => {
    expect(dewPointC(roomC, humidity)).toBeCloseTo(dewC, 1);
  });
});

describe('the room', () => {
  test.each([
    [16, 'cool'],
    [18, 'fit'],
    [22, 'fit'],
    [23, 'warm'],
    [24, 'too-warm'],
  ])('%d °C is %s', (roomC, fit) => {
    expect(roomFit(roomC)).toBe(fit);
  });

  test('24 °C is said plainly, damp air too, and both in the viewer’s unit', () => {
    expect(roomWords(24, 65)).toEqual([
      '24 °C and more is too warm: strips and trays hardly set, and go dull. Cool the room first.',
      'Dew point 17 °C: what is colder sweats here, and sugar bloom follows.',
      'Over 60 % is too damp for coating.',
    ]);
    sayIn('F');
    expect(roomWords(24, null)[0]).toMatch(/^75\.2 °F and more is too warm/);
  });

  test('an unchecked thermometer is said to be one, with what it can mean', () => {
    expect(uncheckedWords()).toMatch(/31\.4 may be 30 or 33\./);
  });

  test.each([
    ['21,5', 21.5],
    [' 21.5 ', 21.5],
    ['', null],
    ['warm', null],
    ['210', null],
  ])('typed as %j', (text, value) => {
    expect(typedNumber(text, [-10, 50])).toBe(value);
  });
});
