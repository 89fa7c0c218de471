/** What is said where the controls are locked. */
import { inLanguage } from './language.ts';

export const UNLOCK = inLanguage({
  en: {
    only: 'Only Seen works.',
    unlock: 'Unlock',
    once: 'Once more, here.',
    sure: 'Yes, unlock',
  },
});
