/** What this process holds on to. */
import { setTimeout as wait } from 'node:timers/promises';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

/** Bytes of buffers still in use, after everything unused was let go. */
export function memoryHeld(): number {
  setFlagsFromString('--expose-gc');
  (runInNewContext('gc') as () => void)();
  return process.memoryUsage().arrayBuffers;
}

/** The least of several looks: what was let go a moment ago is given time to be gone. */
export async function memoryLeft(): Promise<number> {
  let least = Infinity;
  for (let look = 0; look < 10; look++) {
    least = Math.min(least, memoryHeld());
    await wait(10);
  }
  return least;
}
