/** Teaching a key what it does. Pure; knows no page. */
import { KEY_ACTIONS, keyNamed } from './keys.ts';
import type { KeyAction, Keys } from './keys.ts';

/** Keys that are never taught: they belong to the browser, and to whoever walks the page with them. */
const NEVER: ReadonlySet<string> = new Set([
  'Tab',
  'Escape',
  'Shift',
  'Control',
  'Alt',
  'Meta',
  'Dead',
  'Unidentified',
]);

export function canBeTaught(key: string): boolean {
  return key !== '' && !NEVER.has(key);
}

/** A key does one thing: taught anew, it is taken from what it did before. */
export function taught(keys: Keys, action: KeyAction, key: string): Keys {
  const name = keyNamed(key);
  const freed = KEY_ACTIONS.map((other) => [other, keys[other] === name ? null : keys[other]] as const);
  return { ...(Object.fromEntries(freed) as Record<KeyAction, string | null>), [action]: name };
}
