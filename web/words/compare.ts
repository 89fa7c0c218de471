/** What is said of runs laid over one another, in the reader's language. */
import * as en from './en/compare.ts';
import { inLanguage } from './language.ts';

export const { COMPARE, figureRows, differenceWords } = inLanguage({ en });
