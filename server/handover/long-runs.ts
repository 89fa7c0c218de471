/** What a long run holds, taken out of the store a piece at a time: whoever sends it on lets a bowl that is watched have its turn in between. */
import { type Channel, channelsAmong } from '../core/record/csv.ts';
import type { Reading } from '../core/record/run.ts';
import type { Store } from '../store/store.ts';
import type { ToldRun } from './told-run.ts';

/** So much of the run at a time, ms: some milliseconds of work even at forty readings a second (ours). */
const PIECE_MS = 5 * 60_000;
/** What may have come after the newest column of a run that is going, ms. */
const STILL_GOING_MS = 60_000;

/** All readings in the order they came, read as they are asked for. */
export function* readingsOf(store: Pick<Store, 'readingsOf'>, { stored, endMs }: ToldRun): Generator<Reading> {
  for (let fromMs = stored.startedAtMs; fromMs <= endMs + STILL_GOING_MS; fromMs += PIECE_MS)
    yield* store.readingsOf(stored.run, { fromMs, toMs: fromMs + PIECE_MS - 1 });
}

/** Which channels were read at all; stops after each reading. */
export function* channelsOf(readings: Iterable<Reading>): Generator<void, Channel[]> {
  const roles = new Set<string>();
  for (const { role } of readings) {
    roles.add(role);
    yield;
  }
  return channelsAmong(roles);
}

/** All pieces as one text; stops after each. */
export function* gathered(pieces: Iterable<string>): Generator<void, string> {
  const all: string[] = [];
  for (const piece of pieces) {
    all.push(piece);
    yield;
  }
  return all.join('');
}
