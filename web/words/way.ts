/** The way to a phase's goal in words, in the reader's language. */
import * as en from './en/way.ts';
import { inLanguage } from './language.ts';

export type { Unsure } from './en/way.ts';
export const {
  UNSURE_HINT,
  wayWords,
  courseWords,
  standsAt,
  isStill,
  aheadOf,
  atNow,
  coastOf,
  leftWords,
  leftName,
  leftLine,
} = inLanguage({ en });
