/**
 * A backup in the place of the file in use, while everything around the store goes on: made ready as a copy first, then exchanged within one turn
 * of the event loop. Knows neither runs nor tables.
 */
import type { Backlog } from './backlog.ts';
import { copy, type CopyResult } from './copying.ts';
import { problemOf } from './database.ts';
import { remove, succeed, withoutLog } from './datafile.ts';
import { isDone } from './patience.ts';

export type RestoreResult = CopyResult | { readonly ok: false; readonly because: 'in-use'; readonly reason: string };

export interface Exchange {
  readonly backup: string;
  readonly file: string;
  /** Under which name the file in use is kept. */
  readonly aside: string;
  /** Asked at the last moment: whether nothing uses the file by itself. */
  readonly isFree: () => boolean;
  /** Gives it up, as long as nothing is exchanged. */
  readonly signal: AbortSignal;
}

/** What has the file open. */
export interface Hands {
  /** Looks at what is about to take its place, ready for use; throws where it cannot be read. */
  readonly lookAt: (successor: string) => void;
  /** False: it is stuck. */
  readonly closeWriter: () => Promise<boolean>;
  readonly openWriter: () => void;
  readonly closeReader: () => void;
  readonly openReader: () => void;
}

const IN_USE: RestoreResult = { ok: false, because: 'in-use', reason: 'a run is going' };

/** Never rejects. Nothing is changed where it does not come to a good end. */
export async function putBack(script: URL, what: Exchange, backlog: Backlog, hands: Hands): Promise<RestoreResult> {
  const successor = `${what.file}.restored`;
  const ready = await copy(script, { kind: 'make-ready', from: what.backup, to: successor }, what.signal);
  const result = ready.ok ? await exchanged(successor, what, backlog, hands) : ready;
  remove(successor);
  return result;
}

async function exchanged(successor: string, what: Exchange, backlog: Backlog, hands: Hands): Promise<RestoreResult> {
  if (what.signal.aborted) return failed('it was given up');
  if (!(await isDone(backlog.flush()))) return failed('the disk does not take what waits');
  if (!backlog.isEmpty) return IN_USE;
  backlog.hold();
  const isClosed = await hands.closeWriter();
  try {
    if (!isClosed) return failed('the disk does not answer');
    if (!what.isFree() || !backlog.isEmpty) return IN_USE;
    hands.lookAt(successor);
    takePlace(successor, what, hands);
    return { ok: true };
  } catch (error) {
    return failed(problemOf(error));
  } finally {
    hands.openWriter();
    backlog.goOn();
  }
}

/** Nothing else happens in here, so that nobody ever meets a store that cannot be read. */
function takePlace(successor: string, { file, aside }: Exchange, { closeReader, openReader }: Hands): void {
  closeReader();
  try {
    withoutLog(file);
    succeed(file, successor, aside);
  } finally {
    openReader();
  }
}

function failed(reason: string): RestoreResult {
  return { ok: false, because: 'failed', reason };
}
