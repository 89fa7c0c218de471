/** What is written on the map, in the reader's language. */
import * as en from './en/road.ts';
import { inLanguage } from './language.ts';

export const { BOUND_NAME, ON_MAP, FOOT } = inLanguage({ en });
