/** How far a thermometer is to be believed, in the reader's language. */
import * as en from './en/belief.ts';
import { inLanguage } from './language.ts';

export const { beliefWords, partsWords, SURE_WORDS, checkedWords, CHECK_LINK } = inLanguage({ en });
