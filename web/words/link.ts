/** How the thermometer's link stands, as a sentence, in the reader's language. */
import * as en from './en/link.ts';
import { inLanguage } from './language.ts';

export type { LinkNow } from './en/link.ts';
export const { linkSentence, causeAndAct } = inLanguage({ en });
