/** What an alarm says in full, in the reader's language. */
import * as en from './en/alarm-words.ts';
import { inLanguage } from './language.ts';

export const { wayOf, alarmSentence, standsStrip, wasStrip, stoodWords, alsoWords } = inLanguage({ en });
