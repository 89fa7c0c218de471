/** What stands for a while after a note, to take it back. */
import { inLanguage } from './language.ts';

export const TAKEN_BACK = inLanguage({ en: { just: 'Just noted', undo: 'Undo' } });
