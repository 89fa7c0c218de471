/** What the thermometer says and how it is understood, in the reader's language. */
import * as en from './en/heard.ts';
import { inLanguage } from './language.ts';

export const { HEARD, ROLE_WORD, WHY_WORD, valueWords, formatWords, valueName, capital, sent } = inLanguage({ en });
