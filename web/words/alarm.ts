/** What an alarm says, in the reader's language. */
import * as en from './en/alarm.ts';
import { inLanguage } from './language.ts';

export type { AlarmWords } from './en/alarm.ts';
export const {
  areaOf,
  wayOf,
  alarmSentence,
  standsStrip,
  raisedName,
  seenWord,
  quietLeftMs,
  quietWords,
  nameWithLimit,
  wasStrip,
  stoodWords,
  alsoWords,
} = inLanguage({ en });
