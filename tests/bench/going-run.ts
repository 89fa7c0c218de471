/** A run as the server has it while it goes, without a disk: each line goes through the engine and is told. */
import type { State } from '../../server/core/engine.ts';
import { initialState, learnedOf } from '../../server/core/engine.ts';
import type { ServerMessage } from '../../server/core/show/wire.ts';
import { LiveRun } from '../../server/session/live-run.ts';
import { headerFor } from '../support/bowl.ts';
import { shipped } from '../support/shipped.ts';
import { newRun } from './made-runs.ts';

/** Lines after which the made-up bowl is stirred the same way again. */
export const ROUND = 600;

/** °C: stirred, and held in the working band; the same in every round. */
export function stirredC(n: number): number {
  const turn = (2 * Math.PI * (n % ROUND)) / ROUND;
  return Math.round((31.4 + 0.08 * Math.sin(7 * turn) + 0.05 * Math.sin(83 * turn)) * 100) / 100;
}

type Told = (message: ServerMessage) => void;

export class GoingRun {
  readonly #run: LiveRun;
  readonly #everyMs: number;
  #atMs = 0;
  #turns = 0;

  /** `everyMs`: between two lines. */
  constructor(everyMs: number, tell: Told) {
    const profile = shipped('dark');
    const run = newRun('going', '2026-11-25T06:00:00.000Z', profile, false);
    const state: State = initialState(headerFor(profile));
    this.#everyMs = everyMs;
    this.#run = new LiveRun(
      run,
      { state, turns: 0, before: null },
      {
        store: { append: () => this.#turns++, endRun: () => {}, annotate: () => {} },
        clock: { nowMs: () => this.#atMs },
        tell,
        learnedOf,
      },
    );
    this.#run.feed({ kind: 'command', atMs: 0, source: 'person', command: { name: 'start', phase: 'work' } });
  }

  /** So many lines more. Each is on the disk at once. */
  hear(lines: number): void {
    for (let n = 0; n < lines; n++) {
      this.#atMs += this.#everyMs;
      const text = stirredC(this.#atMs / this.#everyMs).toFixed(2);
      this.#run.feed({ kind: 'line', atMs: this.#atMs, source: 'made up', text });
      this.#run.committed(this.#run.state.seq, this.#turns);
    }
  }
}
