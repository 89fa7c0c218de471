/** What this process holds on to. */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

/** Bytes of buffers still in use, after everything unused was let go. */
export function memoryHeld(): number {
  setFlagsFromString('--expose-gc');
  (runInNewContext('gc') as () => void)();
  return process.memoryUsage().arrayBuffers;
}
