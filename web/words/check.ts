/** What is said of the thermometer, in the reader's language. */
import * as en from './en/check.ts';
import { inLanguage } from './language.ts';

export const {
  CHECK,
  STANDARD,
  watchWords,
  pointWords,
  outcomeWords,
  madeWords,
  probeName,
  offWords,
  correctionWords,
} = inLanguage({ en });
