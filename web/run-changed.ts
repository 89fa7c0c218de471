/** Passes on that something is kept otherwise now of a run on record: from the page's line to whoever shows that run. */
type Listener = (run: string) => void;

const listeners = new Set<Listener>();

export function tellRunChanged(run: string): void {
  for (const listener of listeners) listener(run);
}

/** Calls back whenever a run has changed; returns how to stop that. */
export function onRunChanged(listener: Listener): () => void {
  listeners.add(listener);
  return () => void listeners.delete(listener);
}
