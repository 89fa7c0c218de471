/**
 * The shipped bands against the melting points of cocoa butter's crystal forms, from outside this project.
 * The column used is Wille & Lutton's; see DISAGREEING for what the others say.
 */
import { describe, expect, test } from 'vitest';
import type { Phase } from '../../server/core/record/profile.ts';
import { shipped } from '../support/shipped.ts';

/**
 * °C, as reproduced from R. L. Wille, E. S. Lutton, "Polymorphism of cocoa butter", J. Am. Oil Chem. Soc. 43 (1966) 491–496. Reproductions
 * give form IV as 27.3 or 27.5 (the table itself was not opened): what is said of it must hold for both.
 */
const WILLE_LUTTON_C = { II: 23.3, III: 25.5, IV: [27.3, 27.5], V: 33.8, VI: 36.3 } as const;

/** °C. Form V as K. W. Smith, K. van Malssen give it ("Cocoa Butter Crystallisation", slides, 2002); β′ is one range, 21–28, to them. */
const DISAGREEING = { V: 31.5, VI: 33.5, betaPrime: [21, 28] } as const;

const [IV_LOW_C, IV_HIGH_C] = WILLE_LUTTON_C.IV;

function phase(coating: string, id: string): Phase {
  return shipped(coating).phases.find((one) => one.id === id)!;
}

describe('dark, by the Wille & Lutton column (others put form V 2 °C lower and see III and IV as one range)', () => {
  const cool = phase('dark', 'cool');
  const work = phase('dark', 'work');

  test('the work band, from floor to ceiling, melts form IV and leaves form V', () => {
    for (const one of [work, phase('dark', 'rewarm')]) {
      expect(one.floorC ?? one.bandC[0]).toBeGreaterThan(IV_HIGH_C);
      expect(one.ceilingC).toBeLessThan(WILLE_LUTTON_C.V);
    }
  });

  test('the cooling band lies about form IV: its low edge lets IV grow beside V, its high edge is not yet out of reach of it', () => {
    expect(cool.bandC[0]).toBeLessThan(IV_LOW_C);
    expect(cool.bandC[1]).toBeGreaterThan(IV_HIGH_C);
    expect(cool.bandC[1] - IV_HIGH_C).toBeLessThan(1);
  });

  test('the cooling floor stays above form III', () => {
    expect(cool.floorC).toBeGreaterThan(WILLE_LUTTON_C.III);
  });

  test('temper is lost between the melting points of form V and form VI', () => {
    expect(work.lostAboveC).toBeGreaterThanOrEqual(WILLE_LUTTON_C.V);
    expect(work.lostAboveC).toBeLessThan(WILLE_LUTTON_C.VI);
  });
});

describe('milk and white, by the same column: milk fat softens cocoa butter, so they lie lower', () => {
  test.each(['milk', 'white'])(
    '%s: the work band melts form IV, and lost lies under form V of plain cocoa butter',
    (coating) => {
      const work = phase(coating, 'work');
      expect(work.bandC[0]).toBeGreaterThan(IV_HIGH_C);
      expect(work.lostAboveC).toBeLessThan(WILLE_LUTTON_C.V);
    },
  );

  test.each(['milk', 'white'])('%s: the cooling band reaches below form IV', (coating) => {
    expect(phase(coating, 'cool').bandC[1]).toBeLessThan(IV_LOW_C);
    expect(phase(coating, 'cool').floorC).toBeGreaterThan(WILLE_LUTTON_C.II);
  });
});

test.each(['dark', 'milk', 'white'])(
  '%s: the melt band lies above form VI by every column, so that no memory of a crystal is left',
  (coating) => {
    const highestVI = Math.max(WILLE_LUTTON_C.VI, DISAGREEING.VI);
    expect(phase(coating, 'melt').bandC[0]).toBeGreaterThan(highestVI + 3);
  },
);

test('the columns do contradict each other: by Smith & van Malssen form V melts inside the dark work band, so no single melting point is a bound here', () => {
  const work = phase('dark', 'work');
  expect(work.bandC[0]).toBeLessThan(DISAGREEING.V);
  expect(work.bandC[1]).toBeGreaterThan(DISAGREEING.V);
  expect(work.bandC[0]).toBeGreaterThan(DISAGREEING.betaPrime[1]);
});
