/** What an alarm says at once, in the reader's language. */
import * as en from './en/alarm.ts';
import { inLanguage } from './language.ts';

export const { FIRST, areaOf, alarmSaid, raisedName, seenWord, quietLeftMs, quietWords, nameWithLimit } = inLanguage({
  en,
});
