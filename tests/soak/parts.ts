/** The parts of a soak by name, and how far each goes. */
import { bootNoise, chunkings, endlessLine } from './bytes.ts';
import { crashes } from './crashes.ts';
import { damageAtRest, damageInUse } from './damage.ts';
import { hours } from './hours.ts';
import { disks, stalledDisk } from './disks.ts';
import { migrations } from './migrations.ts';
import { powerCuts } from './powercuts.ts';
import { renames } from './renames.ts';
import type { Bounds, Row } from './rows.ts';
import { socketCuts, stalledPages } from './sockets.ts';
import { realUnplugs, virtualUnplugs } from './unplugs.ts';

export interface Part {
  readonly run: (bounds: Bounds) => Promise<readonly Row[]>;
  /** In full. */
  readonly count: number;
  /** In a test; 0: not there. */
  readonly few: number;
  /** Kept by it, by their ids. */
  readonly rules: string;
}

export const PARTS: Readonly<Record<string, Part>> = {
  'virtual-unplugs': { run: virtualUnplugs, count: 10_000, few: 15, rules: 'L4' },
  'real-unplugs': { run: realUnplugs, count: 300, few: 4, rules: 'L4 L8' },
  renames: { run: renames, count: 1_000, few: 30, rules: 'L7' },
  'boot-noise': { run: bootNoise, count: 200, few: 5, rules: 'R1' },
  'endless-line': { run: endlessLine, count: 10, few: 10, rules: 'L2' },
  crashes: { run: crashes, count: 2_000, few: 20, rules: 'S1 S10' },
  'power-cuts': { run: powerCuts, count: 2_000, few: 25, rules: 'S1 S4' },
  'damage-at-rest': { run: damageAtRest, count: 1_000, few: 6, rules: 'S9' },
  'damage-in-use': { run: damageInUse, count: 1_000, few: 2, rules: 'S9' },
  disks: { run: disks, count: 200, few: 3, rules: 'S3' },
  'stalled-disk': { run: stalledDisk, count: 60, few: 2, rules: 'S3' },
  'socket-cuts': { run: socketCuts, count: 10_000, few: 60, rules: 'W3' },
  'stalled-pages': { run: stalledPages, count: 60, few: 1, rules: 'W4' },
  hours: { run: hours, count: 8, few: 0, rules: 'L8' },
  migrations: { run: migrations, count: 200, few: 2, rules: 'S8' },
  chunkings: { run: chunkings, count: 10_000, few: 200, rules: 'L1' },
};
