/** What the page says about itself, in the reader's language. */
import * as en from './en/states.ts';
import { inLanguage } from './language.ts';

export type { LostBy } from './en/states.ts';
export const {
  SIMULATED_RIBBON,
  linkWords,
  carefulSentence,
  carefulChosenSentence,
  carefulStrip,
  noSeedSentence,
  noSeedHint,
  waitingSentence,
  WAITING,
  lostSentence,
  carriedOnWords,
  REFUSAL,
  playbackRibbon,
  BOUNDS_ARE_OURS,
  CAUTIONS,
  screensWords,
} = inLanguage({ en });
