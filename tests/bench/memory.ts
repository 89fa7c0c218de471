/** What an hour of a run leaves in the server's memory, its columns included: the engine, what was told of it, and nothing of the disk. */
import { memoryHeld } from '../support/memory.ts';
import type { Figure } from './figures.ts';
import { GoingRun } from './going-run.ts';

const PER_HOUR = 3_600;
const EVERY_MS = 1_000;
/** Until all that only ever holds the newest is full, h. */
const WARM_H = 4;
const HOURS = 8;
const GOAL_MB = 0.2;

export function measureMemory(rounds: number): Promise<readonly Figure[]> {
  const grown = Array.from({ length: rounds }, grownPerHour);
  return Promise.resolve([
    { name: 'server, a reading a second', unit: 'MB per h of run', goal: GOAL_MB, rounds: grown },
  ]);
}

function grownPerHour(): number {
  const run = new GoingRun(EVERY_MS, () => {});
  run.hear(WARM_H * PER_HOUR);
  const before = heldMb();
  run.hear(HOURS * PER_HOUR);
  const after = heldMb();
  run.hear(1);
  return (after - before) / HOURS;
}

function heldMb(): number {
  const buffers = memoryHeld();
  return (process.memoryUsage().heapUsed + buffers) / 1e6;
}
