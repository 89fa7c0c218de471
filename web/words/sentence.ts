/** The sentence at the top of the page, in the reader's language. */
import * as en from './en/sentence.ts';
import { inLanguage } from './language.ts';

export type { Moment, Area, Arm, Sentence, PhaseWords } from './en/sentence.ts';
export const { sentence, phaseWords } = inLanguage({ en });
