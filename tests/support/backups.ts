/** Backups of a store for tests: at a wall clock that stands, with runs to hold. */
import { onTestFinished } from 'vitest';
import { type Backup, Backups, type BackupsOptions } from '../../server/backups/backups.ts';
import type { Store } from '../../server/store/store.ts';
import { allRuns, madeTurns, newRun } from './store.ts';

/** The wall clock of all of them. */
export const NOW_MS = Date.parse('2026-11-26T10:00:00.000Z');

export function backupsOf(store: BackupsOptions['store'], more: Partial<BackupsOptions> = {}): Backups {
  const backups = new Backups({
    store,
    wallNowMs: () => NOW_MS,
    inUseBy: () => null,
    onRestored: () => {},
    ...more,
  });
  onTestFinished(() => backups.close());
  return backups;
}

/** An ended run of so many turns, on disk. */
export async function keptRun(store: Store, name: string, turns: number): Promise<void> {
  store.beginRun(newRun(name));
  for (const turn of madeTurns(turns)) store.append(name, turn);
  store.endRun(name, turns * 100);
  await store.flush();
}

export const namesOf = (store: Store): string[] => allRuns(store).map(({ run }) => run);

/** One that is whole; throws why it is not. */
export async function madeByHand(backups: Backups): Promise<Backup> {
  const made = await backups.make('by-hand');
  if (!made.ok) throw new Error(made.detail);
  return made.backup;
}
