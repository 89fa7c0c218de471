/**
 * What has come out of the engine and no page has been told yet: write, then tell — but an alarm never waits for the disk, and a
 * stalled disk silences nothing. Keeps the order; knows neither store nor sockets.
 */
import type { RunEvent } from '../core/record/event.ts';
import type { Reading } from '../core/record/run.ts';

/** Longest that anything waits for the disk before it is told all the same, ms (design: invariant 3). */
export const STALL_MS = 1000;

/** What never waits for the disk: an alarm, and what quiets it on every other screen. */
const URGENT: ReadonlySet<RunEvent['kind']> = new Set(['alarm-raised', 'alarm-acknowledged', 'alarm-quietened']);

/** What one turn of the engine brought. */
export interface Brought {
  /** It is on disk once this many turns of the run are. */
  readonly turn: number;
  /** When it came out of the engine, feed clock: not when it holds from, which may be a minute before. */
  readonly sinceMs: number;
  readonly events: readonly RunEvent[];
  readonly readings: readonly Reading[];
}

/** A queue whose front may be told when one of three things has happened. Each method gives what may be told now, once. */
export class Untold {
  #queue: Brought[] = [];

  /** Gives everything up to here where an alarm was raised, seen or quietened in it, else nothing. */
  add(brought: Brought): readonly Brought[] {
    this.#queue.push(brought);
    return brought.events.some((event) => URGENT.has(event.kind)) ? this.all() : [];
  }

  /** `turns` of the run are on disk. */
  committed(turns: number): readonly Brought[] {
    const waiting = this.#queue.findIndex((brought) => brought.turn > turns);
    return this.#queue.splice(0, waiting < 0 ? this.#queue.length : waiting);
  }

  /** Everything, where the oldest has waited too long. */
  overdue(nowMs: number): readonly Brought[] {
    const oldest = this.#queue[0];
    return oldest !== undefined && nowMs - oldest.sinceMs > STALL_MS ? this.all() : [];
  }

  all(): readonly Brought[] {
    return this.#queue.splice(0);
  }
}
