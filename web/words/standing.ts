/** How the temper stands, for whoever asks, in the reader's language. */
import * as en from './en/standing.ts';
import { inLanguage } from './language.ts';

export type { StandingWords } from './en/standing.ts';
export const { LOW_FOR_LONG, STANDING_IS_A_GUESS, hasStanding, maySayStanding, standingName, standingWords } =
  inLanguage({ en });
