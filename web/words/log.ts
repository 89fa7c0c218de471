/** A run's log read out, in the reader's language. */
import * as en from './en/log.ts';
import { inLanguage } from './language.ts';

export type { LogLine } from './en/log.ts';
export const { logLine, lookBack } = inLanguage({ en });
