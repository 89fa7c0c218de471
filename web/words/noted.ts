/** What is said where notes are looked through, changed and struck out. */
import { inLanguage } from './language.ts';

export const NOTED = inLanguage({
  en: {
    soFar: 'Noted so far',
    none: 'Nothing noted yet.',
    change: 'Change',
    keep: 'Keep it',
    strike: 'Strike it out',
    leave: 'Leave it',
    was: 'was',
  },
});
