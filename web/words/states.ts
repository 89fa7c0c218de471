/** What the page of a run says about itself, in the reader's language. */
import * as en from './en/states.ts';
import { inLanguage } from './language.ts';

export type { LostBy } from './en/states.ts';
export const { SIMULATED_RIBBON, WAITING, lostSentence, screensWords } = inLanguage({ en });
