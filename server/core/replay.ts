/**
 * The engine run over a whole trace at once: its log, and what it would have shown meanwhile. As fast as it goes;
 * pacing is the page's business, and files are not known here.
 */
import type { Estimate } from './bowl/estimate.ts';
import { estimateAt, initialState, type State, step } from './engine.ts';
import type { RunEvent } from './record/event.ts';
import type { Input } from './record/input.ts';
import type { RunHeader } from './record/run.ts';

/** The log that today's engine makes of these inputs. */
export function runTrace(header: RunHeader, inputs: Iterable<Input>): RunEvent[] {
  return [...replayTrace(header, inputs, null)].filter((answer) => answer.kind !== 'estimate');
}

/**
 * The log, and with it an estimate every `estimatesEveryMs` from the run's start on (start, start + every, …; null: none), in
 * the order of time. At equal times events come first: an estimate is made after all inputs of its moment. Between inputs the
 * engine is asked by a tick, which never changes a log. Moments with nothing to estimate are left out. `stepping`: `step`, or a
 * measured one.
 */
export function* replayTrace(
  header: RunHeader,
  inputs: Iterable<Input>,
  estimatesEveryMs: number | null,
  stepping: typeof step = step,
): Generator<RunEvent | Estimate> {
  let state = initialState(header);
  let grid = NOTHING_DUE;
  let lastMs = -Infinity;
  for (const input of inputs) {
    for (; dueMs(grid) < input.atMs; grid = next(grid)) state = yield* ask(state, dueMs(grid), stepping);
    const turn = stepping(state, input);
    yield* turn.events;
    state = turn.state;
    lastMs = input.atMs;
    const started = turn.events.find((event) => event.kind === 'run-started');
    if (started && estimatesEveryMs !== null) grid = gridFrom(started.atMs, estimatesEveryMs, input.atMs);
  }
  for (; dueMs(grid) <= lastMs; grid = next(grid)) state = yield* ask(state, dueMs(grid), stepping);
}

/** The moments an estimate is due: `startMs` + `count` × `everyMs`. */
interface Grid {
  readonly startMs: number;
  readonly everyMs: number;
  readonly count: number;
}

/** Before the run has started, and where no estimates are wanted. */
const NOTHING_DUE: Grid = { startMs: Infinity, everyMs: 1, count: 0 };

/** A run may be found to have started a while ago: what was due before `nowMs` is not made up afterwards. */
function gridFrom(startMs: number, everyMs: number, nowMs: number): Grid {
  return { startMs, everyMs, count: Math.max(0, Math.ceil((nowMs - startMs) / everyMs)) };
}

/** Counted from the start, so that fractions of a millisecond do not add up. */
function dueMs(grid: Grid): number {
  return Math.round(grid.startMs + grid.count * grid.everyMs);
}

function next(grid: Grid): Grid {
  return { ...grid, count: grid.count + 1 };
}

function* ask(state: State, atMs: number, stepping: typeof step): Generator<RunEvent | Estimate, State> {
  const turn = stepping(state, { kind: 'tick', atMs });
  yield* turn.events;
  const estimate = estimateAt(turn.state, atMs);
  if (estimate !== null) yield estimate;
  return turn.state;
}
