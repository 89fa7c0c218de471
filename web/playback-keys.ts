/**
 * Keys on a run looked back at. A key that this viewer has taught to do something does that here too, as far as there is such a thing
 * (a pedal for Note notes, one for Next goes to the next event); all others do what they do for everybody. Pure.
 */
import { actionOf, USUAL_KEYS } from './keys.ts';
import type { KeyAction, Keys } from './keys.ts';

export type PlaybackAct =
  | { readonly kind: 'note' }
  | { readonly kind: 'play-or-stop' }
  | { readonly kind: 'slower' }
  | { readonly kind: 'faster' }
  | { readonly kind: 'move'; readonly byMs: number }
  | { readonly kind: 'event'; readonly by: -1 | 1 };

/** As the browser names it, and whether shift is held. */
export interface Press {
  readonly key: string;
  readonly shiftKey: boolean;
}

/** An arrow moves the head by this, ms (ours: held down, it scrubs at some five minutes a second). */
export const SMALL_STEP_MS = 10_000;
export const LARGE_STEP_MS = 60_000;

const TAUGHT: Readonly<Partial<Record<KeyAction, PlaybackAct>>> = {
  note: { kind: 'note' },
  seen: { kind: 'play-or-stop' },
  next: { kind: 'event', by: 1 },
};

const FOR_EVERYBODY: Readonly<Record<string, PlaybackAct>> = {
  ' ': { kind: 'play-or-stop' },
  ArrowLeft: { kind: 'move', byMs: -SMALL_STEP_MS },
  ArrowRight: { kind: 'move', byMs: SMALL_STEP_MS },
  '+': { kind: 'faster' },
  '-': { kind: 'slower' },
  n: { kind: 'note' },
};

/** null: the key does nothing here. */
export function playbackAct(keys: Keys, { key, shiftKey }: Press): PlaybackAct | null {
  const action = actionOf(keys, key);
  const isTaught = action !== null && USUAL_KEYS[action] !== keys[action];
  if (isTaught) return TAUGHT[action] ?? null;
  if (shiftKey && key === 'ArrowLeft') return { kind: 'event', by: -1 };
  if (shiftKey && key === 'ArrowRight') return { kind: 'event', by: 1 };
  return Object.hasOwn(FOR_EVERYBODY, key) ? FOR_EVERYBODY[key]! : null;
}
