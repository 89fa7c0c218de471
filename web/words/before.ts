/** What is said before melting, in the reader's language. */
import * as en from './en/before.ts';
import { inLanguage } from './language.ts';

export const { BEFORE, roomLabel, uncheckedWords, roomWords } = inLanguage({ en });
