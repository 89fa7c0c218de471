/** What the controls for wet and sticky hands say: the lock, and notes that can be taken back. */
import { inLanguage } from './language.ts';

export const LOCK = inLanguage({ en: { lock: 'Lock', locked: 'Locked against wet hands.' } });

/** Of a screen that was let in to look on. */
export const LOOKING_ON = inLanguage({
  en: { looksOn: 'This screen looks on.' },
});

export const NOTES = inLanguage({
  en: {
    noMark: 'Bowlside hasn’t told this page of the note yet. Try again in a moment.',
  },
});
