/** Passes on that something is kept otherwise now of a run on record: from the page's line to whoever shows that run. */
interface Listener {
  /** null: any run. */
  readonly run: string | null;
  readonly changed: () => void;
}

const listeners = new Set<Listener>();

/** null: a line that was cut has come back, and any run may have changed meanwhile. */
export function tellRunChanged(run: string | null): void {
  for (const listener of listeners) {
    if (run === null || listener.run === null || listener.run === run) listener.changed();
  }
}

/** Calls back whenever this run may have changed, or any where it is null; returns how to stop that. */
export function onRunChanged(run: string | null, changed: () => void): () => void {
  const listener = { run, changed };
  listeners.add(listener);
  return () => void listeners.delete(listener);
}
