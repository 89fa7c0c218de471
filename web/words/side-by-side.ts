/** Two logs of one trace beside each other, in the reader's language. */
import * as en from './en/side-by-side.ts';
import { inLanguage } from './language.ts';

export type { ComparedRow } from './en/side-by-side.ts';
export const { comparedRows, comparedSentence, differences, whyNotTheSame, JUDGED } = inLanguage({ en });
