/** How the temper stands, in a word, in the reader's language. */
import * as en from './en/standing.ts';
import { inLanguage } from './language.ts';

export const { LOW_FOR_LONG, hasStanding, maySayStanding, standingAtEnd, standingName } = inLanguage({ en });
