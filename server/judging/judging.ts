/**
 * Judging stored traces again: one at a time, in a thread of its own, so that a bowl that is going never waits for it. Bounded in time and
 * memory; what comes of it is handed to the store. Knows neither engine nor requests.
 */
import { Worker } from 'node:worker_threads';
import type { Profile } from '../core/record/profile.ts';
import { onDisk } from '../on-disk.ts';
import { dataFileIn, type Store } from '../store/store.ts';
import type { FromJudge, Judged, Task } from './messages.ts';

/** Longest judging, ms, and its memory, MB (ours: eight hours of ten readings a second took 40 s and 60 MB on a busy machine). */
const LONGEST_MS = 600_000;
const MOST_MEMORY_MB = 512;

/** One that is going. */
export interface Going {
  readonly id: string;
  readonly run: string;
  readonly profile: string;
  /** 0 to 1. */
  readonly share: number;
}

/** The last one that came to nothing, for as long as no other of the run was begun. */
export interface Failed {
  readonly id: string;
  readonly reason: string;
}

export interface JudgingOptions {
  readonly store: Pick<Store, 'folder' | 'judgements' | 'flush'>;
  /** The built thread. */
  readonly script: URL;
  readonly wallNowMs: () => number;
  readonly newId: () => string;
  readonly longestMs?: number;
}

export class Judging {
  readonly #options: JudgingOptions;
  readonly #failed = new Map<string, Failed>();
  #going: Going | null = null;
  #worker: Worker | null = null;
  /** What comes of the one that is going has been handed over to the store. */
  #isJudged = false;

  constructor(options: JudgingOptions) {
    this.#options = options;
  }

  /** The one that is going, whichever run it is of. */
  get going(): Going | null {
    return this.#going;
  }

  failureOf(run: string): Failed | null {
    return this.#failed.get(run) ?? null;
  }

  /** Begins; null where another one is going. `profile` null: the run's own, which is called `title`. */
  begin(run: string, profile: Profile | null, title: string): Going | null {
    if (this.#going !== null) return null;
    const { store, script, wallNowMs, newId } = this.#options;
    const id = newId();
    const judgedAtWall = new Date(wallNowMs()).toISOString();
    const task: Task = { file: dataFileIn(store.folder), run, id, judgedAtWall, profile };
    // Throws where the system has no room for another thread: nothing is going then.
    const worker = new Worker(script, {
      workerData: task,
      resourceLimits: { maxOldGenerationSizeMb: MOST_MEMORY_MB },
    });
    this.#failed.delete(run);
    this.#going = { id, run, profile: profile?.title ?? title, share: 0 };
    this.#watch(worker, this.#going);
    return this.#going;
  }

  /** Breaks off the one that is going, if it is this one; what it came to is taken back, if that waits for the disk already. */
  stop(id: string): boolean {
    if (this.#going?.id !== id) return false;
    if (this.#isJudged) this.#options.store.judgements.drop(this.#going.run, id);
    this.#end();
    return true;
  }

  close(): void {
    this.#end();
  }

  #watch(worker: Worker, { id, run }: Going): void {
    this.#worker = worker;
    const isOurs = (): boolean => this.#worker === worker;
    const fail = (reason: string): void => {
      if (!isOurs() || this.#isJudged) return;
      this.#failed.set(run, { id, reason });
      this.#end();
    };
    const late = setTimeout(() => fail('it took too long'), this.#options.longestMs ?? LONGEST_MS);
    late.unref();
    worker.on('message', (message: FromJudge) => {
      if (!isOurs()) return;
      if (message.kind === 'progress') this.#going = { ...this.#going!, share: message.share };
      if (message.kind === 'failed') fail(message.reason);
      if (message.kind === 'judged') void this.#keep(run, message.judged).then(() => isOurs() && this.#end());
    });
    worker.on('error', (error) => fail(error.message));
    worker.on('exit', () => {
      clearTimeout(late);
      fail('the judging stopped');
    });
  }

  /** It is there once it is on disk. A disk that takes its time gets it later: it is handed over, and so it has not failed. */
  async #keep(run: string, judged: Judged): Promise<void> {
    this.#isJudged = true;
    this.#options.store.judgements.add(run, judged);
    await onDisk(this.#options.store);
  }

  #end(): void {
    void this.#worker?.terminate();
    this.#worker = null;
    this.#going = null;
    this.#isJudged = false;
  }
}
