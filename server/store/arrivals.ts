/**
 * Runs from elsewhere on their way into the data file: row by row under a hidden name, in pieces so small that what is recorded meanwhile is
 * never held up, and shown as a whole at the end. What does not get so far is deleted as from the bin.
 */
import { setTimeout } from 'node:timers/promises';
import type { Backlog } from './backlog.ts';
import type { ArrivalEntry } from './batch.ts';
import type { IncomingRun } from './incoming.ts';
import { inTime } from './patience.ts';
import { BLOCKS_AT_ONCE, ROWS_AT_ONCE } from './purge.ts';
import type { NewRun } from './records.ts';

/** Between two pieces, ms (ours: the disk is left to what is recorded half of the time). */
const PAUSE_MS = 20;
/** A disk that does not take a piece within this is not waited for, ms (ours: a page gives up later). */
const PATIENCE_MS = 5_000;

export interface ArrivalHooks {
  /** Whether a run of that name is on disk. */
  readonly isThere: (run: string) => boolean;
  /** Deletes what lies in the bin. */
  readonly purge: (run: string) => Promise<boolean>;
}

export class Arrivals {
  readonly #backlog: Pick<Backlog, 'add' | 'flush'>;
  readonly #hooks: ArrivalHooks;
  /** Hidden names by the run's own. */
  readonly #going = new Map<string, string>();

  constructor(backlog: Pick<Backlog, 'add' | 'flush'>, hooks: ArrivalHooks) {
    this.#backlog = backlog;
    this.#hooks = hooks;
  }

  isGoing(run: string): boolean {
    return this.#going.has(run);
  }

  /** Whether that is a name under which something is arriving: it must not be deleted yet. */
  isHidden(name: string): boolean {
    return [...this.#going.values()].includes(name);
  }

  /** Rejects where the disk refuses or stalls; nothing of the run is shown then, now or later. */
  async bringIn(run: NewRun, content: IncomingRun): Promise<void> {
    const wallMs = Date.now();
    const hidden = hiddenName(run.run, wallMs);
    this.#going.set(run.run, hidden);
    try {
      for (const entry of entriesOf(run, content, hidden, wallMs)) {
        this.#backlog.add(entry);
        await inTime(this.#backlog.flush(), PATIENCE_MS);
        await setTimeout(PAUSE_MS);
      }
      if (!this.#hooks.isThere(run.run)) throw new Error('another data file was put in place meanwhile');
    } catch (error) {
      this.#backlog.add({ kind: 'turned-away', run: run.run, hidden, importedAtWall: content.importedAtWall });
      this.#going.delete(run.run);
      void this.#hooks.purge(hidden);
      throw error;
    }
    this.#going.delete(run.run);
  }
}

/** No run is called so: a name holds no blank (`intake.ts`). */
function hiddenName(run: string, wallMs: number): string {
  return `${run} arriving ${wallMs}`;
}

function* entriesOf(run: NewRun, content: IncomingRun, hidden: string, wallMs: number): Generator<ArrivalEntry> {
  const { inputs, events, blocks, notes, card, ...ending } = content;
  const counts = { turns: inputs.length, seq: events.length };
  yield { kind: 'arriving', run: { ...run, run: hidden }, wallMs, ending: { ...ending, ...counts } };
  for (const [first, rows] of pieces(inputs)) yield { kind: 'rows', hidden, first, of: 'inputs', rows };
  for (const [first, rows] of pieces(events)) yield { kind: 'rows', hidden, first, of: 'events', rows };
  for (const [first, rows] of pieces(blocks, BLOCKS_AT_ONCE)) yield { kind: 'rows', hidden, first, of: 'blocks', rows };
  for (const [first, rows] of pieces(notes)) yield { kind: 'rows', hidden, first, of: 'notes', rows };
  for (const [first, rows] of pieces(card)) yield { kind: 'rows', hidden, first, of: 'card', rows };
  yield { kind: 'arrived', run: run.run, hidden };
}

/** Each with the number of its first row, from 0. */
function* pieces<T>(rows: readonly T[], most = ROWS_AT_ONCE): Generator<[number, readonly T[]]> {
  for (let first = 0; first < rows.length; first += most) yield [first, rows.slice(first, first + most)];
}
