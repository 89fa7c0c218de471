/** Figures as they are said. */
import { describe, expect, test } from 'vitest';
import { arrival, bound, clock, degrees, guess, inAbout, span, trend, unbroken } from '../../web/words/measure.ts';
import { lasted } from '../../web/words/lasted.ts';
import { elapsed } from '../../web/words/elapsed.ts';
import { sayIn } from '../../web/words/manner.ts';
import { bandsInOrder } from '../../web/words/bands.ts';

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

test('the bands of a way are said in their order, in the unit of the viewer, one that only goes on once', () => {
  const phases = [
    [45, 50],
    [27, 28],
    [31, 32],
    [31, 32],
  ].map(([low, high]) => ({ bandC: [low!, high!] as const }));
  const joined = bandsInOrder(phases, ', then ');
  expect(joined).toBe('45\u2060–\u206050, then 27\u2060–\u206028, then 31\u2060–\u206032\u00a0°C');
  sayIn('F');
  expect(bandsInOrder(phases, ', then ').replaceAll('\u2060', '')).toBe(
    '113–122, then 80.6–82.4, then 87.8–89.6\u00a0°F',
  );
  sayIn('C');
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

test.each([
  [44, '45 s'],
  [119, '2 min'],
  [17 * 60, '17 min'],
  [23 * 60, '25 min'],
  [78 * 60, '1 h 20 min'],
])('%d s that are a guess are said no finer than anybody knows: %s', (s, said) => {
  expect(guess(s)).toBe(said);
});

describe('arrival', () => {
  test.each([
    ['narrow: the range is not worth saying', 240, 190, 300, 'in about 4 min'],
    ['within half either way: both', 240, 180, 340, 'in about 4 min, 3 to 6'],
    ['both, in seconds', 60, 40, 80, 'in about 60 s, 40 to 80'],
    ['both, in two units', 100, 70, 140, 'in about 100 s, 70 s to 2 min'],
    ['wide: no single figure deserves to stand out', 270, 120, 480, 'in 2 to 8 min'],
    ['wide, in two units', 130, 60, 200, 'in 1 to 3 min'],
    ['far: in steps of five minutes', 2220, 1400, 3000, 'in about 35 min, 25 to 50'],
    ['beyond an hour the unit stays', 3000, 2000, 4200, 'in about 50 min, 35 min to 1 h 10 min'],
    ['a range that rounds to one figure is none', 150, 125, 149, 'in about 3 min'],
    ['with no upper end it is a least', 600, 360, null, 'in 6 min or more'],
    ['one unit for both ends from two minutes on', 180, 85, 260, 'in 1 to 4 min'],
    ['with no range at all', 240, null, null, 'in about 4 min'],
  ])('%s', (_, etaS, lowS, highS, said) => {
    expect(arrival(etaS, lowS, highS)).toBe(said);
  });
  test('not known, or not worth a figure, is nothing', () => {
    expect(arrival(null, null, null)).toBeNull();
    expect(arrival(3 * 3600, 3 * 3600, 3 * 3600)).toBeNull();
    expect([arrival(270, 120, 481), arrival(270, 60, null)]).toEqual([null, null]);
  });
  test('however far apart its ends, a moment close by is told', () => {
    expect(arrival(20, 2, 50)).toBe('within 50 s');
  });
});

test('a figure keeps its unit, and a range its ends, on one line', () => {
  expect(unbroken('28 °C in about 4 min, 3 to 6. Dip to it.').split(' ')).toEqual([
    '28\u00a0°C',
    'in',
    'about',
    '4\u00a0min,',
    '3\u00a0to\u00a06.',
    'Dip',
    'to',
    'it.',
  ]);
  expect(unbroken('in 40 s to 4 min')).toBe('in 40\u00a0s to\u00a04\u00a0min');
  const units = [
    '°C',
    '°F',
    'min',
    's',
    'h',
    'day',
    'days',
    'kg',
    'g',
    'cm',
    'm',
    'mV',
    'Ω',
    'kΩ',
    'kB',
    'MB',
    'GB',
    '%',
  ];
  for (const unit of units) expect(unbroken(`by 32 ${unit}, then`)).toBe(`by 32\u00a0${unit}, then`);
  for (const words of ['3 stirs', '2 minutes', '4 goes', '5 months']) expect(unbroken(words)).toBe(words);
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
  // As a span says it, so that a run of 1 h 22 min ends at 1:22.
  const s = 81 * 60 + 36;
  expect([span(s), elapsed(s * 1000)]).toEqual(['1 h 22 min', '1:22']);
});

test('a guess is never nothing: what is nearer than can be told may come any moment', () => {
  expect([2.4, 2.5, 44, 150].map(inAbout)).toEqual(['any moment', 'in about 5 s', 'in about 45 s', 'in about 3 min']);
  expect(guess(0.4)).toBe('5 s');
});
