/** Long work done a little at a time, so that a bowl that is watched meanwhile is not kept waiting. */
import { setImmediate } from 'node:timers/promises';

/** How long it works before it lets others have their turn, ms (ours: nobody notices, and a page is told four times a second). */
const SLICE_MS = 15;

/** Works through to the result; whatever is yielded is only a place to stop. */
export async function inSlices<Result>(work: Generator<unknown, Result>): Promise<Result> {
  for (;;) {
    const untilMs = performance.now() + SLICE_MS;
    while (performance.now() < untilMs) {
      const step = work.next();
      if (step.done === true) return step.value;
    }
    await setImmediate();
  }
}
