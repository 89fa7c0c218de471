/** Why the temper stands so, for whoever asks, in the reader's language. */
import * as en from './en/standing-why.ts';
import { inLanguage } from './language.ts';

export const { STANDING_IS_A_GUESS, standingWords } = inLanguage({ en });
