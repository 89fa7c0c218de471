/** Waiting for the disk before something is answered: what a page is told is kept should be. */
import type { Session } from './session/session.ts';
import type { Store } from './store/store.ts';

/** A disk that has not answered by then is not waited for, ms (ours: well before a page gives up). */
const PATIENCE_MS = 2_000;

/** True where all that was handed over is on disk; false where that takes too long or fails for now: the store goes on trying. */
export function onDisk(store: Pick<Store, 'flush'>): Promise<boolean> {
  let patience: NodeJS.Timeout | undefined;
  const tooLong = new Promise<false>((resolve) => {
    patience = setTimeout(() => resolve(false), PATIENCE_MS);
  });
  const written = store.flush().then(
    () => true,
    () => false,
  );
  return Promise.race([written, tooLong]).finally(() => clearTimeout(patience));
}

export interface Changes {
  readonly sessions: ReadonlyMap<string, Session>;
  readonly store: Pick<Store, 'flush'>;
}

/** Tells all pages that something is kept otherwise now of a run, once it is on disk: they ask for it then. Gives what `onDisk` gives. */
export async function toldOnDisk({ sessions, store }: Changes, run: string): Promise<boolean> {
  const isKept = await onDisk(store);
  for (const session of sessions.values()) session.runChanged(run);
  return isKept;
}
