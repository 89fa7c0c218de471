/** Starts the thread that copies data files, and passes its answer. Knows nothing of what is in a file. */
import { Worker } from 'node:worker_threads';

export type CopyJob =
  | {
      /** `back-up`: of the file in use, as of one moment. `make-ready`: of a backup, checked and brought up to date for use. */
      readonly kind: 'back-up' | 'make-ready';
      readonly from: string;
      /** What is there is replaced. After `damaged` the copy lies there all the same. */
      readonly to: string;
    }
  /** The file in use, checked as it is at one moment; nothing is copied. */
  | { readonly kind: 'look-through'; readonly from: string };

export type CopyResult =
  | { readonly ok: true }
  /** `newer`: written by a Bowlside that knows more. `failed`: the disk. */
  | { readonly ok: false; readonly because: 'damaged' | 'newer' | 'failed'; readonly reason: string };

/** Never rejects. `signal`: gives the job up. */
export function copy(script: URL, job: CopyJob, signal?: AbortSignal): Promise<CopyResult> {
  return new Promise((resolve) => {
    const worker = new Worker(script, { workerData: job });
    let result: CopyResult = { ok: false, because: 'failed', reason: 'it was given up' };
    const stop = (): void => void worker.terminate();
    worker.on('message', (answer: CopyResult) => (result = answer));
    worker.on('error', (error) => (result = { ok: false, because: 'failed', reason: error.message }));
    worker.on('exit', () => {
      signal?.removeEventListener('abort', stop);
      resolve(result);
    });
    if (signal?.aborted) stop();
    else signal?.addEventListener('abort', stop);
  });
}
