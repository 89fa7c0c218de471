/** The built program, as `npm run build` leaves it: what a person starts. */
import { statSync } from 'node:fs';
import { join } from 'node:path';

const BUILT = join(import.meta.dirname, '../../dist');

/** What Node is given to run. Throws where it is not built, or older than the compiled server: another program than the one meant. */
export function program(): string {
  const file = join(BUILT, 'program/cli.js');
  if (builtAtMs(file) < builtAtMs(join(BUILT, '.build/server.tsbuildinfo')))
    throw new Error('the program is not built, or was before the server was compiled: run `npm run build` first');
  return file;
}

function builtAtMs(file: string): number {
  return statSync(file, { throwIfNoEntry: false })?.mtimeMs ?? 0;
}
