/** Conversion to °C against definitions and against a book that prints both scales. Read from lines, as a thermometer would send them. */
import { describe, expect, test } from 'vitest';
import { readLine } from '../../server/core/reading/line.ts';

function inC(line: string): number {
  const read = readLine(line);
  if (!read.ok) throw new Error(`${line}: ${read.reason}`);
  return read.channels[0]!.valueC;
}

describe('exact by definition', () => {
  test.each([
    ['32 °F', 0],
    ['212 °F', 100],
    ['-40 °F', -40],
    ['98.6 °F', 37],
    ['-459.67 °F', -273.15],
    ['273.15 K', 0],
    ['373.15 K', 100],
    ['0 K', -273.15],
    ['304.65 K', 31.5],
    ['31.5 °C', 31.5],
  ])('%s is %d °C', (line, celsius) => {
    expect(inC(line)).toBeCloseTo(celsius, 10);
  });

  test('a degree on the Kelvin scale is a degree Celsius, and nine of Fahrenheit’s are five', () => {
    expect(inC('305 K') - inC('304 K')).toBeCloseTo(1, 10);
    expect(inC('97 F') - inC('88 F')).toBeCloseTo(5, 10);
  });
});

describe('H. McGee, On Food and Cooking (2004), tempering chart, °F beside °C (rounded from °F by the book: 0.6 °C allowed)', () => {
  const ROUNDING_C = 0.6;
  const chart = [
    ['dark, melt', 113, 45],
    ['dark, melt', 122, 50],
    ['milk, melt', 104, 40],
    ['milk, melt', 113, 45],
    ['white, melt', 104, 40],
    ['dark, cool', 82, 28],
    ['dark, cool', 84, 29],
    ['milk, cool', 80, 27],
    ['milk, cool', 82, 28],
    ['white, cool', 76, 25],
    ['dark, work', 88, 31],
    ['dark, work', 90, 32],
    ['milk, work', 86, 30],
    ['milk, work', 88, 31],
    ['white, work', 80, 27],
    ['white, work', 82, 28],
  ] as const;

  test.each(chart)('%s: %d °F is about %d °C', (_, fahrenheit, celsius) => {
    expect(Math.abs(inC(`${fahrenheit} F`) - celsius)).toBeLessThanOrEqual(ROUNDING_C);
  });

  test('one pair of the chart is further apart than rounding: white is cooled to 74 °F or 24 °C, which are 0.67 °C apart', () => {
    expect(24 - inC('74 F')).toBeCloseTo(2 / 3, 10);
  });
});
