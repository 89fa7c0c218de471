/**
 * The words for trouble, in full: asked for as soon as the page stands, before anything that only shows a calm bowl, and again until they
 * are here. Until then an alarm says what to do first and which it is, with its number, its voice and its answers; nothing waits for them.
 */
import { fetchAtHand } from './part.tsx';
import type * as trouble from './words/trouble.ts';

export type TroubleWords = typeof trouble;

/** Asked for again so long after they did not come, ms (ours). */
const AGAIN_AFTER_MS = 5_000;

let here: TroubleWords | null = null;

/** null: not here yet. */
export function troubleWords(): TroubleWords | null {
  return here;
}

export function takeTroubleWords(words: TroubleWords | null): void {
  here = words;
}

/** `come`: called once they are here. */
export function askForTroubleWords(come: () => void): void {
  fetchAtHand().then(
    ({ trouble }) => {
      takeTroubleWords(trouble);
      come();
    },
    () => setTimeout(askForTroubleWords, AGAIN_AFTER_MS, come),
  );
}
