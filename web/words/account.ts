/** What happened in a run, in the reader's language. */
import * as en from './en/account.ts';
import { inLanguage } from './language.ts';

export type { AccountLine } from './en/account.ts';
export const { accountLines } = inLanguage({ en });
