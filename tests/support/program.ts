/** What `npm run build` leaves: the program that a person starts, and what that starts itself. */
import { statSync } from 'node:fs';
import { join } from 'node:path';

const BUILT = join(import.meta.dirname, '../../dist');

/** What Node is given to run. Throws as the next does. */
export function program(): string {
  return built('program/cli.js');
}

/** A file by its place in dist. Throws where it is not built, or older than the compiled server: another one than is meant. */
export function built(place: string): string {
  const file = join(BUILT, place);
  if (builtAtMs(file) < builtAtMs(join(BUILT, '.build/server.tsbuildinfo')))
    throw new Error('the program is not built, or was before the server was compiled: run `npm run build` first');
  return file;
}

function builtAtMs(file: string): number {
  return statSync(file, { throwIfNoEntry: false })?.mtimeMs ?? 0;
}
