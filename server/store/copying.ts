/** Starts the process that copies data files, and passes its answer. Knows nothing of what is in a file. */
import { fork } from 'node:child_process';

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

/** Never rejects. `signal`: gives the job up, at once: a thread would only be let go once SQLite is through with a long file, seconds later. */
export async function copy(script: URL, job: CopyJob, signal?: AbortSignal): Promise<CopyResult> {
  try {
    return await answerTo(script, job, signal);
  } catch (error) {
    return failed(error instanceof Error ? error.message : String(error));
  }
}

/** Rejects where no process can be started. */
function answerTo(script: URL, job: CopyJob, signal?: AbortSignal): Promise<CopyResult> {
  return new Promise((resolve, reject) => {
    const child = fork(script, [JSON.stringify(job)], { stdio: ['ignore', 'ignore', 'inherit', 'ipc'] });
    let result: CopyResult | null = null;
    const stop = (): void => void child.kill('SIGKILL');
    child.on('message', (answer) => (result = answer as CopyResult));
    child.on('error', reject);
    child.on('close', () => {
      signal?.removeEventListener('abort', stop);
      resolve(result ?? failed(signal?.aborted ? 'it was given up' : 'it ended without an answer'));
    });
    if (signal?.aborted) stop();
    else signal?.addEventListener('abort', stop);
  });
}

function failed(reason: string): CopyResult {
  return { ok: false, because: 'failed', reason };
}
