/** How the temper stands, for whoever asks, in the reader's language. */
import * as en from './en/standing.ts';
import { inLanguage } from './language.ts';

export type { StandingWords } from './en/standing.ts';
export const { STANDING_IS_A_GUESS, hasStanding, standingName, standingWords } = inLanguage({ en });
