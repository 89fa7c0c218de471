/** What a cue says while it is worth saying, in the reader's language. */
import * as en from './en/cue.ts';
import { inLanguage } from './language.ts';

export const { isLeavingDue, cueWords } = inLanguage({ en });
