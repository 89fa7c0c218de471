/**
 * Keys that do what buttons do, for hands that can't: a foot pedal is a keyboard with one key. Each viewer can teach any key by pressing
 * it. Pure; knows no page.
 */
export const KEY_ACTIONS = ['note', 'seen', 'next', 'lock', 'sound'] as const;
export type KeyAction = (typeof KEY_ACTIONS)[number];

/** The key for each act, as the browser names it (`KeyboardEvent.key`); null: none. */
export type Keys = Readonly<Record<KeyAction, string | null>>;

export const USUAL_KEYS: Keys = { note: 'n', seen: ' ', next: 'ArrowRight', lock: 'l', sound: 'm' };

/** One name for one key: a letter is the same with the shift lock on. */
export function keyNamed(key: string): string {
  return key.length === 1 ? key.toLowerCase() : key;
}

export function actionOf(keys: Keys, key: string): KeyAction | null {
  const name = keyNamed(key);
  return KEY_ACTIONS.find((action) => keys[action] === name) ?? null;
}

export function isKeys(value: unknown): value is Keys {
  if (typeof value !== 'object' || value === null) return false;
  const kept = value as Readonly<Record<string, unknown>>;
  return KEY_ACTIONS.every((action) => kept[action] === null || typeof kept[action] === 'string');
}
