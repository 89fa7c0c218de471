/** Units and decimal marks: temperatures shift and scale, differences only scale, and every sentence follows. */
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { decimalMark, fromUnit, inUnit, sayAsIn, sayIn, unitName } from '../../web/words/manner.ts';
import { day } from '../../web/words/day.ts';
import { apart, bound, degrees, goal, measured, trend, unbroken } from '../../web/words/measure.ts';
import { whole } from '../../web/words/whole.ts';
import { levels } from '../../web/road/ticks.ts';

afterEach(() => {
  sayIn('C');
  sayAsIn('en');
});

test('a locale that the browser does not take itself is none', () => {
  expect(() => sayAsIn('en-US@posix')).not.toThrow();
  expect(decimalMark()).toMatch(/^[.,]$/);
});

describe('°F', () => {
  beforeEach(() => sayIn('F'));

  // 31 °C is 87.8 °F and 32 °C is 89.6 °F by the definition °F = °C × 9/5 + 32.
  test('a temperature shifts and scales, a difference and a rate only scale', () => {
    expect([degrees(31), bound(32), goal(27.5), measured(0), whole(35)]).toEqual([
      '87.8',
      '89.6',
      '81.5 °F',
      '32.0 °F',
      '95',
    ]);
    expect(apart(0.5)).toBe('0.9');
    expect(trend(1).words).toBe('rising 1.8 a minute');
    expect(unitName()).toBe('degrees Fahrenheit');
  });

  test('the chart’s round numbers are round in it, at their true height', () => {
    const phase = { id: 'melt', heading: 'up', bandC: [45, 50] } as const;
    const round = levels(phase, [20, 53]).filter(({ rank }) => rank === 9);
    expect(round.length).toBeGreaterThan(0);
    for (const { text, valueC } of round) {
      expect(Number(text) % 10).toBe(0);
      expect(inUnit(valueC)).toBeCloseTo(Number(text), 9);
    }
  });

  test('there and back is the same', () => {
    for (const valueC of [-40, 0, 31.4, 100]) expect(fromUnit(inUnit(valueC))).toBeCloseTo(valueC, 9);
  });

  test('a figure stays on one line with its unit', () => {
    expect(unbroken('81.5 °F in 4 min')).toBe('81.5\u00a0°F in 4\u00a0min');
  });
});

test.each([
  ['en-US', 'Tue Nov 24', 'Mon Nov 24 2025'],
  ['en-GB', 'Tue 24 Nov', 'Mon 24 Nov 2025'],
  ['de-DE', 'Tue 24 Nov', 'Mon 24 Nov 2025'],
])(
  'a day is in the page’s words and in the order of the place, with its year where that is another: %s',
  (locale, is, was) => {
    sayAsIn(locale);
    const now = new Date('2026-12-01T12:00:00');
    const days = ['2026-11-24T13:40:00', '2025-11-24T13:40:00', 'when'].map((wall) => day(wall, now));
    // Where it has commas differs from one Node to the next.
    expect(days.map((each) => each.replaceAll(',', ''))).toEqual([is, was, '']);
  },
);

describe('the decimal mark', () => {
  test.each([
    ['de-DE', '31,6', '32,5'],
    ['en-US', '31.6', '32.5'],
    ['fr-CH', '31,6', '32,5'],
    ['ar-EG', '31.6', '32.5'],
  ])('%s: %s and %s', (locale, value, limit) => {
    sayAsIn(locale);
    expect([degrees(31.6), bound(32.5)]).toEqual([value, limit]);
    expect(value).toContain(decimalMark());
  });
});
