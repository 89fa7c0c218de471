/** What the page asks of backups. */
import { checked } from './fetched.ts';
import { type Answer, ask, hasFields } from './post.ts';

/** As the server tells it (`server/backups/backups.ts`). */
export interface BackupCard {
  readonly name: string;
  readonly kind: 'nightly' | 'by-hand' | 'before-restore';
  readonly madeAtWall: string;
  readonly bytes: number;
  readonly damage: string | null;
}

export interface Kept {
  readonly folder: string;
  readonly dataBytes: number;
  readonly freeBytes: number | null;
  readonly nightsKept: number;
  readonly nextNightAtWall: string;
  readonly trouble: { readonly atWall: string; readonly words: string } | null;
  /** What became of the data file, a sentence each. */
  readonly notices: readonly string[];
  readonly backups: readonly BackupCard[];
}

/** Copying and checking years of runs takes its time, ms (ours). */
const PATIENCE_MS = 15 * 60_000;

export async function fetchKept(): Promise<Answer<Kept>> {
  return checked(await ask('/api/backups'), hasFields<Kept>('folder', 'dataBytes', 'freeBytes', 'notices', 'backups'));
}

export async function makeBackup(): Promise<Answer<BackupCard>> {
  const answer = await ask('/api/backups', {}, 'POST', PATIENCE_MS);
  return checked(answer, hasFields<BackupCard>('name', 'madeAtWall', 'bytes'));
}

export function putBack(name: string): Promise<Answer<unknown>> {
  return ask(`${addressOf(name)}/restore`, {}, 'POST', PATIENCE_MS);
}

export function deleteBackup(name: string): Promise<Answer<unknown>> {
  return ask(addressOf(name), undefined, 'DELETE');
}

/** Where its file is fetched, too. */
export function addressOf(name: string): string {
  return `/api/backups/${encodeURIComponent(name)}`;
}
