/** A run deleted for good from this side of the thread: one piece handed over after the other, each once the last is on disk. */
import { setTimeout } from 'node:timers/promises';
import type { Backlog } from './backlog.ts';
import type { PurgeEntry } from './batch.ts';
import { isDone } from './patience.ts';
import type { Reader } from './reader.ts';

/** Between two pieces, ms (ours: the disk is left to what is recorded three quarters of the time). */
const PAUSE_MS = 50;

/**
 * True when nothing is left of it; false where it does not lie in the bin, the disk refuses or it `isOver`: the file that was meant is not in
 * use any more, and what a backup brought back is not what somebody wanted gone. Throws what the reader throws.
 */
export async function deleted(
  piece: PurgeEntry,
  reader: Reader,
  backlog: Backlog,
  isOver: () => boolean,
): Promise<boolean> {
  const { run } = piece;
  const most = isOver() ? 0 : reader.piecesOf(run);
  for (let count = 0; count < most; count++) {
    backlog.add(piece);
    if (!(await isDone(backlog.flush())) || isOver()) return false;
    if (reader.standstillOf(run) === null) return true;
    if (!reader.isDoomed(run)) return false;
    await setTimeout(PAUSE_MS);
    if (isOver()) return false;
  }
  return false;
}
