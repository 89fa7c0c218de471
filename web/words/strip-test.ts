/** What the strip test says as a step, in the reader's language. */
import * as en from './en/strip-test.ts';
import { inLanguage } from './language.ts';

export const { STRIP_TEST, LOOK_NAME, waitingWords, stripSentence, testLines } = inLanguage({ en });
