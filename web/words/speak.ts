/** The button of the spoken read-out, as it stands. */
import { inLanguage } from './language.ts';

export const SPEAK = inLanguage({ en: { off: 'Speak', on: 'Speaking' } });
