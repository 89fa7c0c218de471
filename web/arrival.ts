/** Coming to another page: the window is called after it, and whoever walks by keys, or listens, goes on at its sentence. */
import { PLACE_TITLE, titled } from './words/places.ts';

/** `word`: its part of the address. The first page one comes to leaves the focus to the browser. */
export function arrive(word: string, isNew: boolean): void {
  document.title = titled(PLACE_TITLE[word]);
  if (isNew) focusHeading();
}

/** A page that is still coming says so in a sentence of its own: the focus goes on to the one that takes its place. */
const following = new MutationObserver(() => {
  if (document.activeElement === document.body) focusNow();
});

/** Until whoever came does something. */
function focusHeading(): void {
  focusNow();
  following.disconnect();
  following.observe(document.body, { childList: true, subtree: true });
  const stop = (): void => following.disconnect();
  for (const kind of ['pointerdown', 'keydown']) window.addEventListener(kind, stop, { once: true, capture: true });
}

function focusNow(): void {
  const heading = document.querySelector<HTMLElement>('h1');
  if (heading === null) return;
  heading.tabIndex = -1;
  heading.focus({ preventScroll: true });
}
