/** Which Bowlside this is. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { installedRoot } from './places.ts';

/** As its package says. */
export function installedVersion(): string {
  const { version } = JSON.parse(readFileSync(join(installedRoot(), 'package.json'), 'utf8')) as { version: string };
  return version;
}
