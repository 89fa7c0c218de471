/**
 * The words for trouble, in full: asked for as soon as the page stands, before anything that only shows a calm bowl, and again until they
 * are here. Until then an alarm says what to do first and which it is, with its number and its answers; nothing waits for them. What sounds comes
 * in one piece with them: until then the host rings, for no screen is heard that has it not.
 */
import { askUntilHere, fetchAtHand } from './part.tsx';
import type * as trouble from './words/trouble.ts';

export type TroubleWords = typeof trouble;

let here: TroubleWords | null = null;

/** null: not here yet. */
export function troubleWords(): TroubleWords | null {
  return here;
}

export function takeTroubleWords(words: TroubleWords | null): void {
  here = words;
}

/** `come`: called once they are here. Returns how to stop asking. */
export function askForTroubleWords(come: () => void): () => void {
  return askUntilHere(
    fetchAtHand,
    ({ trouble }) => {
      takeTroubleWords(trouble);
      come();
    },
    () => undefined,
  );
}
