/** The terminal's own bell. Only where there is a terminal: a file or a pipe would collect the character and ring nobody. */
import type { Ringer } from './ringer.ts';

const BEL = '\u0007';

export function terminalBell(output: Pick<NodeJS.WriteStream, 'write' | 'isTTY'>): Ringer {
  return {
    ring() {
      if (output.isTTY) output.write(BEL);
    },
    close() {},
  };
}
