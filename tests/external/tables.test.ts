/** The shipped bands against published three-kind tables. Touching one of them is asked, no more: the tables differ among themselves. */
import { describe, expect, test } from 'vitest';
import type { Band } from '../../server/core/record/profile.ts';
import { shipped } from '../support/shipped.ts';

type Table = Readonly<Record<'melt' | 'cool' | 'work', Readonly<Record<'dark' | 'milk' | 'white', Band>>>>;

/** °C. H. McGee, On Food and Cooking (2004), chocolate chapter, tempering chart. */
const MCGEE: Table = {
  melt: { dark: [45, 50], milk: [40, 45], white: [40, 40] },
  cool: { dark: [28, 29], milk: [27, 28], white: [24, 25] },
  work: { dark: [31, 32], milk: [30, 31], white: [27, 28] },
};

/** °C. Temperature guide of a professional chocolate recipe book. */
const RECIPE_BOOK: Table = {
  melt: { dark: [50, 55], milk: [45, 50], white: [45, 50] },
  cool: { dark: [28, 29], milk: [27, 28], white: [26, 27] },
  work: { dark: [31, 32], milk: [30, 31], white: [29, 30] },
};

/** The same guide: milk and white never above this, °C. */
const RECIPE_BOOK_MILK_LIMIT_C = 50;

/** °C. A cocoa quality guide's tempering appendix, not split by kind: 45, then 27, then 31. */
const QUALITY_GUIDE = { melt: 45, cool: 27, work: 31 } as const;

const COATINGS = ['dark', 'milk', 'white'] as const;
const PHASES = ['melt', 'cool', 'work'] as const;
const CASES = COATINGS.flatMap((coating) => PHASES.map((id) => [coating, id] as const));

function bandOf(coating: string, id: string): Band {
  return shipped(coating).phases.find((phase) => phase.id === id)!.bandC;
}

function touch(one: Band, other: Band): boolean {
  return one[0] <= other[1] && other[0] <= one[1];
}

test.each(CASES)('%s, %s: the band touches McGee or the recipe-book guide', (coating, id) => {
  const band = bandOf(coating, id);
  expect(touch(band, MCGEE[id][coating]) || touch(band, RECIPE_BOOK[id][coating])).toBe(true);
});

test.each(COATINGS)('%s: the work band touches both tables, and rewarm aims at the same band', (coating) => {
  const work = bandOf(coating, 'work');
  expect(touch(work, MCGEE.work[coating])).toBe(true);
  expect(touch(work, RECIPE_BOOK.work[coating])).toBe(true);
  expect(bandOf(coating, 'rewarm')).toEqual(work);
});

test.each(PHASES)('dark, %s: the band holds the figure of the cocoa quality guide, edges included', (id) => {
  expect(touch(bandOf('dark', id), [QUALITY_GUIDE[id], QUALITY_GUIDE[id]])).toBe(true);
});

test.each(['milk', 'white'])('%s: the scorch ceiling keeps under the recipe-book guide’s limit', (coating) => {
  expect(shipped(coating).phases[0]!.ceilingC).toBeLessThan(RECIPE_BOOK_MILK_LIMIT_C);
});

describe('white, where the two tables contradict each other', () => {
  test.each(['cool', 'work'] as const)(
    '%s: they do not even touch, and the profile’s text gives both and sends the reader to the bag',
    (id) => {
      const [mcgee, book] = [MCGEE[id].white, RECIPE_BOOK[id].white];
      expect(touch(mcgee, book)).toBe(false);
      const { sources, source } = shipped('white');
      for (const text of [sources![`phases.${id}.bandC`]!, source]) {
        expect(text).toMatch(/contradict/);
        expect(text).toMatch(/bag's own numbers/);
      }
      expect(sources![`phases.${id}.bandC`]).toContain(`McGee ${mcgee.join('–')} °C`);
      expect(sources![`phases.${id}.bandC`]).toContain(`guide ${book.join('–')} °C`);
    },
  );

  test('dark and milk agree in both tables where they cool and work', () => {
    for (const id of ['cool', 'work'] as const) {
      for (const coating of ['dark', 'milk'] as const) expect(MCGEE[id][coating]).toEqual(RECIPE_BOOK[id][coating]);
    }
  });
});
