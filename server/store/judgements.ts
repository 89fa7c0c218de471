/** Second logs of runs in the store: kept and taken away by the writer like all else, read back by the reader. */
import type { Judgement } from '../core/record/judgement.ts';
import type { Judged } from '../judging/messages.ts';
import type { Entry } from './batch.ts';
import type { Reader } from './reader.ts';

export class Judgements {
  readonly #reader: () => Reader;
  readonly #write: (entry: Entry) => void;

  /** `reader`: of the file in use now. `write`: hands an entry over to be written. */
  constructor(reader: () => Reader, write: (entry: Entry) => void) {
    this.#reader = reader;
    this.#write = write;
  }

  /** Of a run that is there; for another nothing is written. */
  add(run: string, judged: Judged): void {
    this.#write({ kind: 'judgement', run, judged });
  }

  drop(run: string, id: string): void {
    this.#write({ kind: 'drop-judgement', run, id });
  }

  /** Oldest first. Throws where the contents are damaged on disk, as the next does. */
  of(run: string): Judgement[] {
    return this.#reader().judgements(run);
  }

  /** In full; null where there is none of that name. */
  one(run: string, id: string): Judged | null {
    return this.#reader().judged(run, id);
  }
}
