/** Why a server that is there lets this screen see nothing, in the reader's language. */
import * as en from './en/refused.ts';
import { inLanguage } from './language.ts';

export const { REFUSED } = inLanguage({ en });
