/** The road in words for those who can't see it, in the reader's language. */
import * as en from './en/road-summary.ts';
import { inLanguage } from './language.ts';

export const { roadSummary } = inLanguage({ en });
