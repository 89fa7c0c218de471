/** What the controls for wet and sticky hands say: the lock, and notes that can be taken back, changed and struck out. */
import { inLanguage } from './language.ts';

export const LOCK = inLanguage({
  en: {
    lock: 'Lock',
    locked: 'Locked against wet hands.',
    only: 'Only Seen works.',
    unlock: 'Unlock',
    once: 'Once more, here.',
    sure: 'Yes, unlock',
  },
});

/** Of a screen that was let in to look on. */
export const LOOKING_ON = inLanguage({
  en: { looksOn: 'This screen looks on.', elsewhere: 'What is done is done at the bowl.' },
});

export const NOTES = inLanguage({
  en: {
    just: 'Just noted',
    undo: 'Undo',
    soFar: 'Noted so far',
    none: 'Nothing noted yet.',
    change: 'Change',
    keep: 'Keep it',
    strike: 'Strike it out',
    leave: 'Leave it',
    was: 'was',
    noMark: 'Bowlside hasn’t told this page of the note yet. Try again in a moment.',
  },
});
