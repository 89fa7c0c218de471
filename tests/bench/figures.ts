/** Figures of a measurement: where the project lies, small arithmetic, a table for eyes and a file for machines. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';

/** Two folders up, both from here and from where the bundled measurement runs. */
export const ROOT = join(import.meta.dirname, '..', '..');

/** One thing measured, once in each round. */
export interface Figure {
  readonly name: string;
  readonly unit: string;
  /** Not to be exceeded; absent: only told. */
  readonly goal?: number;
  /** Not to be fallen short of; absent: only told. */
  readonly least?: number;
  readonly rounds: readonly number[];
}

/** The smallest value that at least this share of them does not exceed. */
export function percentile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? NaN;
}

export function median(values: readonly number[]): number {
  return percentile(values, 0.5);
}

/** Name, median, goal, and each round, in columns. */
export function tableOf(figures: readonly Figure[]): string[] {
  const rows = figures.map(({ name, unit, goal, least, rounds }) => [
    name,
    `${shown(median(rounds))} ${unit}`,
    goal !== undefined ? `≤ ${shown(goal)}` : least !== undefined ? `≥ ${shown(least)}` : '',
    rounds.map(shown).join(', '),
  ]);
  return inColumns([['', 'median', 'goal', 'rounds'], ...rows]);
}

/** The first column begins at the left, the others end at the right. */
export function inColumns(all: readonly (readonly string[])[]): string[] {
  const widths = all[0]!.map((_, i) => Math.max(...all.map((row) => row[i]!.length)));
  return all.map((row) =>
    row.map((cell, i) => (i === 0 ? cell.padEnd(widths[i]!) : cell.padStart(widths[i]!))).join('  '),
  );
}

/** Keeps them in `dist/bench-figures/`, which is ignored. */
export function keep(part: string, figures: readonly Figure[]): string {
  return kept('bench-figures', part, {
    figures: figures.map((figure) => ({ ...figure, median: median(figure.rounds) })),
  });
}

/** Writes what was found into a folder of `dist/`, with what the machine was and how busy. Gives the file. */
export function kept(folder: string, part: string, found: object): string {
  mkdirSync(join(ROOT, 'dist', folder), { recursive: true });
  const file = join(ROOT, 'dist', folder, `${part}.json`);
  const machine = { node: process.version, processor: cpus()[0]?.model ?? '', cores: cpus().length, load: loadavg() };
  writeFileSync(file, `${JSON.stringify({ part, at: new Date().toISOString(), machine, ...found }, null, 2)}\n`);
  return file;
}

function shown(value: number): string {
  return value.toFixed(value < 10 ? 2 : 1);
}
