/** Outcomes for tests, and the one that says least. */
import type { Outcome } from '../../server/core/record/card.ts';

/** Nothing was looked at; only the verdict is missing. */
export const NOT_LOOKED_AT: Omit<Outcome, 'verdict'> = {
  gloss: null,
  snap: null,
  release: null,
  streaks: null,
  fatBloom: null,
  sugarBloom: null,
  soft: null,
  words: null,
};
