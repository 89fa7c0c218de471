/** What the sentence says of a strip test, in the reader's language. */
import * as en from './en/strip-test.ts';
import { inLanguage } from './language.ts';

export const { stripSentence, testLines } = inLanguage({ en });
