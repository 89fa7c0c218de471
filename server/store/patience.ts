/** Trying again for a while, and no longer. */
import { setTimeout } from 'node:timers/promises';

/** Tries every `everyMs` until it is done, for at most `mostMs`. An attempt that hangs is not waited for. */
export async function untilDone(attempt: () => Promise<boolean>, everyMs: number, mostMs: number): Promise<void> {
  // Called off once it is done: a timer left behind would keep the process from ending.
  const deadline = new AbortController();
  const late = setTimeout(mostMs, true, { signal: deadline.signal });
  late.catch(() => {});
  while (!(await Promise.race([attempt(), late]))) await setTimeout(everyMs);
  deadline.abort();
}

/** Whether it came to a good end; never rejects. */
export function isDone(work: Promise<unknown>): Promise<boolean> {
  return work.then(
    () => true,
    () => false,
  );
}

/** As the work goes, but for at most `mostMs`: then it rejects, whatever becomes of the work. */
export async function inTime<Result>(work: Promise<Result>, mostMs: number): Promise<Result> {
  const patience = new AbortController();
  const late = setTimeout(mostMs, null, { signal: patience.signal }).then(() => {
    throw new Error(`it took longer than ${mostMs} ms`);
  });
  late.catch(() => {});
  return Promise.race([work, late]).finally(() => patience.abort());
}
