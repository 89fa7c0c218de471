/**
 * The main side's end of the writer thread: starts it in good time, passes batches and answers, and starts another should one die.
 * Knows nothing of what a batch holds.
 */
import { Worker } from 'node:worker_threads';
import type { Entry, FromWriter, Progress, ToWriter } from './batch.ts';

/** How long a closing writer may take for its last checkpoint before it is left to the end of the process, ms (ours). */
const CLOSE_MS = 5_000;

/** It is started so long after, or by the first batch: a start that nothing is written in does not wait for it, ms (ours). */
const START_AFTER_MS = 2_000;

export interface WriterHooks {
  readonly committed: (progress: readonly Progress[]) => void;
  readonly failed: (reason: string) => void;
}

export class WriterThread {
  readonly #script: URL;
  readonly #file: string;
  readonly #hooks: WriterHooks;
  readonly #starting: NodeJS.Timeout;
  #worker: Worker | null = null;
  #closing = false;

  constructor(script: URL, file: string, hooks: WriterHooks) {
    this.#script = script;
    this.#file = file;
    this.#hooks = hooks;
    this.#starting = setTimeout(() => void this.#started(), START_AFTER_MS).unref();
  }

  /** Answered by one of the hooks, later. */
  post(entries: readonly Entry[]): void {
    const worker = this.#started();
    if (typeof worker === 'string') setImmediate(() => this.#closing || this.#hooks.failed(worker));
    else worker.postMessage({ kind: 'batch', entries } satisfies ToWriter);
  }

  /** True: the file is closed. False: the thread is stuck and has been given up. */
  async close(): Promise<boolean> {
    this.#closing = true;
    clearTimeout(this.#starting);
    const worker = this.#worker;
    if (worker === null) return true;
    worker.postMessage({ kind: 'close' } satisfies ToWriter);
    return new Promise<boolean>((resolve) => {
      const patience = setTimeout(() => {
        worker.unref();
        resolve(false);
      }, CLOSE_MS);
      worker.once('exit', () => {
        clearTimeout(patience);
        resolve(true);
      });
    });
  }

  /** Or why there is none now: the system may have no room for another thread. */
  #started(): Worker | string {
    try {
      return (this.#worker ??= this.#start());
    } catch (error) {
      return `the writer cannot be started: ${error instanceof Error ? error.message : String(error)}`;
    }
  }

  #start(): Worker {
    const worker = new Worker(this.#script, { workerData: this.#file });
    let why = 'the writer stopped';
    worker.on('message', (answer: FromWriter) => {
      if (answer.kind === 'committed') this.#hooks.committed(answer.progress);
      else this.#hooks.failed(answer.reason);
    });
    worker.on('error', (error) => (why = `the writer stopped: ${error.message}`));
    worker.on('exit', () => {
      if (this.#worker === worker) this.#worker = null;
      if (!this.#closing) this.#hooks.failed(why);
    });
    return worker;
  }
}
