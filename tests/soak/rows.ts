/** What a soak found: rows with a bound each, a table for eyes and a file for machines. */
import { execFileSync } from 'node:child_process';
import { inColumns, kept, ROOT } from '../bench/figures.ts';

export interface Row {
  readonly name: string;
  readonly unit: string;
  readonly value: number;
  /** Not to be exceeded, or to be reached; neither: only told. */
  readonly most?: number;
  readonly least?: number;
  /** It depends on how busy the machine is: judged by a soak, never by a test. */
  readonly timing?: true;
}

/** How far a part goes, whichever bound is met first. */
export interface Bounds {
  readonly count: number;
  readonly seed: number;
  /** Of the machine's time, seconds; Infinity: to the end of the count. */
  readonly seconds: number;
}

/** Counts from 0 up to the bounds. */
export function* within({ count, seconds }: Bounds): Generator<number> {
  const lastMs = performance.now() + seconds * 1000;
  for (let i = 0; i < count && performance.now() < lastMs; i++) yield i;
}

function isBroken({ value, most = Infinity, least = -Infinity }: Row): boolean {
  return !(value <= most && value >= least);
}

export function brokenRows(rows: readonly Row[]): readonly Row[] {
  return rows.filter(isBroken);
}

export function tableOf(rows: readonly Row[]): string[] {
  const cells = rows.map((row) => {
    const bound = row.most !== undefined ? `≤ ${row.most}` : row.least !== undefined ? `≥ ${row.least}` : '';
    return [row.name, `${Number(row.value.toPrecision(6))} ${row.unit}`.trim(), bound, isBroken(row) ? 'BROKEN' : ''];
  });
  return inColumns(cells);
}

/** In `dist/soak/`, which is ignored, with seed, commit, machine and how busy it was. */
export function keepRows(part: string, rows: readonly Row[], seed: number): string {
  return kept('soak', part, { commit: commit(), seed, rows });
}

/** Empty outside of a repository. */
function commit(): string {
  try {
    return execFileSync('git', ['describe', '--always', '--dirty'], { cwd: ROOT, encoding: 'utf8' }).trim();
  } catch {
    return '';
  }
}
