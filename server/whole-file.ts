/** Small files that are replaced whole: either the old one or the new one is there afterwards, never half of one. */
import { renameSync, writeFileSync } from 'node:fs';

/** For the person who runs the server alone. Throws what the disk says. */
export function writeWhole(path: string, text: string): void {
  writeFileSync(`${path}.new`, text, { mode: 0o600, flush: true });
  renameSync(`${path}.new`, path);
}
