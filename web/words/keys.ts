/** What keys and what they do are called. */
import type { KeyAction } from '../keys.ts';
import { inLanguage } from './language.ts';

export const KEY_DOES = inLanguage<Readonly<Record<KeyAction, string>>>({
  en: {
    note: 'Note it',
    seen: 'Seen',
    next: 'Next phase',
    lock: 'Lock',
    sound: 'Sound on or off',
  },
});

export const KEY_WORDS = inLanguage({
  en: {
    title: 'Keys and foot pedals',
    intro: 'A foot pedal is a keyboard with one key. To teach one, tap Teach, then press it.',
    teach: 'Teach',
    press: 'Press it now',
    none: 'no key',
    usual: 'The usual keys',
    inNotes: 'In the sheet of acts, 1 to 9 note the first nine; the Note key moves on, the Seen key notes.',
  },
});

const NAMES = inLanguage<Readonly<Record<string, string>>>({
  en: {
    ' ': 'Space',
    ArrowRight: 'Arrow right',
    ArrowLeft: 'Arrow left',
    ArrowUp: 'Arrow up',
    ArrowDown: 'Arrow down',
    PageUp: 'Page up',
    PageDown: 'Page down',
  },
});

export function keyName(key: string | null): string {
  if (key === null) return KEY_WORDS.none;
  return NAMES[key] ?? (key.length === 1 ? key.toUpperCase() : key);
}
