/** Figures as they are said. */
import { describe, expect, test } from 'vitest';
import { arrival, bound, clock, degrees, elapsed, lasted, span, trend } from '../../web/words/measure.ts';

test.each([
  [31.56, '31.6'],
  [31, '31.0'],
  [-0.04, '0.0'],
  [-3.25, '-3.2'],
])('%d degrees are said with one decimal: %s', (valueC, said) => {
  expect(degrees(valueC)).toBe(said);
});

test('a bound is said as it was written', () => {
  expect([27, 32.5, 27.25].map(bound)).toEqual(['27', '32.5', '27.25']);
});

test.each([
  [-4, '0 s'],
  [45, '45 s'],
  [119, '119 s'],
  [120, '2 min'],
  [24 * 60, '24 min'],
  [3600, '1 h'],
  [6180, '1 h 43 min'],
])('%d s are seconds under two minutes, then minutes: %s', (s, said) => {
  expect(span(s)).toBe(said);
});

test.each([
  [45, '45 s'],
  [60, '1 min'],
  [215, '3 min 35 s'],
  [1440, '24 min'],
])('%d s that have passed are said to the second while that means something: %s', (s, said) => {
  expect(lasted(s)).toBe(said);
});

describe('arrival', () => {
  test('“about” where the range is under half of it either way', () => {
    expect(arrival(240, 200, 300)).toBe('in about 4 min');
  });
  test('else the range, its unit once', () => {
    expect(arrival(270, 120, 600)).toBe('in 2 to 10 min');
    expect(arrival(150, 40, 240)).toBe('in 40 s to 4 min');
  });
  test('with no upper end it is a least', () => {
    expect(arrival(600, 540, null)).toBe('in 9 min or more');
  });
  test('not known, or not worth a figure, is nothing', () => {
    expect(arrival(null, null, null)).toBeNull();
    expect(arrival(3 * 3600, 3 * 3600, 3 * 3600)).toBeNull();
  });
});

test.each([
  [0.04, 'level', 'steady'],
  [0.1, 'up', 'creeping up'],
  [-0.2, 'down', 'creeping down'],
  [1.04, 'up', 'rising 1.0 a minute'],
  [-0.9, 'down', 'falling 0.9 a minute'],
] as const)('%d °C a minute is a word and an arrow', (rate, arrow, words) => {
  expect(trend(rate)).toEqual({ arrow, words });
});

test('clock time counts from the run’s start, and a missing label is no time', () => {
  expect(clock('2026-11-24T13:40:00', 5_000, 5_000 + 71 * 60_000)).toBe('14:51');
  expect(clock('', 0, 0)).toBe('');
});

test('elapsed time is hours and minutes', () => {
  expect([0, 22 * 60_000, 103 * 60_000, -5].map(elapsed)).toEqual(['0:00', '0:22', '1:43', '0:00']);
});
