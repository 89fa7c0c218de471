/** What the bar of the strip test says, in the reader's language. */
import * as en from './en/strip-steps.ts';
import { inLanguage } from './language.ts';

export const { STRIP_TEST, LOOK_NAME, waitingWords } = inLanguage({ en });
