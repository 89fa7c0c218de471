/** A stored trace through today's engine: a second log, the curve of its estimates, and where it parts from the first. Pure. */
import { initialState, step } from '../core/engine.ts';
import { encodeEvent } from '../core/record/event-file.ts';
import type { RunEvent } from '../core/record/event.ts';
import type { RecordedInput } from '../core/record/input.ts';
import type { Reading, RunHeader } from '../core/record/run.ts';
import type { Tile } from '../core/show/wire.ts';
import { EMPTY_TALLY, tallied, type Tally } from '../store/tally.ts';
import { extended, NO_TILES } from '../store/tiles.ts';

/** Columns of the second curve (ours: as many as a run is opened with). */
const COLUMNS = 2_400;
/** Inputs between two words of how far it is, and two drawings of the curve (ours: a few hundredths of a second). */
const STRIDE = 2_000;

export interface SecondLog {
  readonly inputs: number;
  readonly events: readonly RunEvent[];
  readonly tiles: readonly Tile[];
  readonly tally: Tally;
}

/** `onStride`: called now and then with the number of inputs taken so far. */
export function judgeAgain(
  header: RunHeader,
  inputs: Iterable<RecordedInput>,
  onStride: (taken: number) => void = () => undefined,
): SecondLog {
  let state = initialState(header);
  let curve = NO_TILES;
  let tally = EMPTY_TALLY;
  let fresh: Reading[] = [];
  let taken = 0;
  const events: RunEvent[] = [];
  for (const input of inputs) {
    const turn = step(state, input);
    state = turn.state;
    events.push(...turn.events);
    fresh.push(...turn.readings);
    tally = tallied(tally, turn.events, turn.readings);
    taken += 1;
    if (taken % STRIDE !== 0) continue;
    curve = extended(curve, fresh, COLUMNS);
    fresh = [];
    onStride(taken);
  }
  return { inputs: taken, events, tiles: extended(curve, fresh, COLUMNS).tiles, tally };
}

/** The number of the first event in which two logs differ, or that only one of them has; null: they are the same. */
export function differsFrom(first: readonly RunEvent[], second: readonly RunEvent[]): number | null {
  const at = Array.from({ length: Math.max(first.length, second.length) }, (_, i) => i).find((i) => {
    const [a, b] = [first[i], second[i]];
    return a === undefined || b === undefined || encodeEvent(a) !== encodeEvent(b);
  });
  return at === undefined ? null : at + 1;
}
