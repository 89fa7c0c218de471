/** What is said while no run goes, in the reader's language. */
import * as en from './en/idle.ts';
import { inLanguage } from './language.ts';

export const {
  linkWords,
  carefulSentence,
  carefulChosenSentence,
  noSeedSentence,
  noSeedHint,
  waitingSentence,
  REFUSAL,
} = inLanguage({ en });
