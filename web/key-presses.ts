/** Listens for the viewer's keys. Keys typed into a field, or meant for a focused button, stay theirs. */
import { actionOf, isKeys, USUAL_KEYS } from './keys.ts';
import type { Keys } from './keys.ts';
import { keep, kept } from './kept.ts';
import type { KeyHandlers } from './use-keys.ts';

const KEPT = 'keys';

export function keptKeys(): Keys {
  return kept(KEPT, isKeys, USUAL_KEYS);
}

export function keepKeys(keys: Keys): void {
  keep(KEPT, keys);
}

/** `handlers`: those of now, asked for at each press. `isInSheet`: they are of an open sheet. Returns how to stop that. */
export function listenForKeys(handlers: () => KeyHandlers, isInSheet: boolean): () => void {
  const press = (event: KeyboardEvent): void => {
    if (event.repeat || !isForUs(event, isInSheet)) return;
    const action = actionOf(keptKeys(), event.key);
    const handle = action === null ? undefined : handlers()[action];
    if (handle === undefined) return;
    event.preventDefault();
    handle();
  };
  watchFocus();
  window.addEventListener('keydown', press);
  return () => window.removeEventListener('keydown', press);
}

/** Whether a key was pressed on the page itself: not into a field, not on a button it was walked to, not past an open sheet. */
export function isForUs(event: KeyboardEvent, isInSheet: boolean): boolean {
  if (event.defaultPrevented || event.ctrlKey || event.altKey || event.metaKey) return false;
  if ((document.querySelector('dialog[open]') !== null) !== isInSheet) return false;
  const at = event.target instanceof Element ? event.target : document.body;
  const field = at.closest('input, textarea, select');
  if (field !== null) return field.matches('[type="range"]') && !(at === walkedTo && MOVES_A_LINE.test(event.key));
  const isPress = event.key === ' ' || event.key === 'Enter';
  return !isPress || at.closest('button, a') === null || at !== walkedTo;
}

/** Keys that a line to drag along has for itself, once it was walked to. */
const MOVES_A_LINE = /^(?:Arrow|Page|Home$|End$)/;

/** What the focus was walked to by keys. A button that a finger left the focus on is nobody's aim, whichever keys come afterwards. */
let walkedTo: EventTarget | null = null;

export function wasWalkedTo(target: EventTarget | null): boolean {
  return target !== null && target === walkedTo;
}

/** Once is enough: the same listener is never added twice. */
export function watchFocus(): void {
  window.addEventListener('focusin', rememberFocus);
}

function rememberFocus({ target }: FocusEvent): void {
  walkedTo = target instanceof Element && target.matches(':focus-visible') ? target : null;
}
