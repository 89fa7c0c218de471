/**
 * The curve of a stored run as its page holds it: the whole in columns from the start, and every reading around the moments that
 * were looked at, fetched as they are wanted. Knows nothing of heads, speeds or drawing.
 */
import { isTile, isWireReading } from '../server/core/show/decode.ts';
import type { Tile, WireReading } from '../server/core/show/wire.ts';
import { QUALITY_CODE } from '../server/core/show/wire.ts';
import { Curve } from './curve.ts';
import { checked, isListOf } from './fetched.ts';
import { ask, hasFields } from './post.ts';
import type { OpenedRun } from './fetched.ts';
import type { Answer } from './post.ts';

/** A stretch of a run's curve, as the server gives it: every reading of up to ten minutes, else null and columns. */
export interface CurvePart {
  readonly readings: readonly WireReading[] | null;
  readonly tiles: readonly Tile[];
}

/** Readings are fetched and kept in stretches of this length, ms (ours: half of what the server gives one by one, 100 KB). */
const STRETCH_MS = 300_000;
/** Stretches kept (ours: as many as somebody goes to and fro between). */
const STRETCHES_KEPT = 12;
/** No column of a stored curve is narrower, ms. */
const FINEST_COLUMN_MS = 1_000;
/** How far back `rowsUpTo` goes, ms (ours: what a trend of a minute needs, and one interval of columns more). */
const ROWS_BACK_MS = 120_000;

export function fetchCurve(run: string, fromMs: number, toMs: number, columns: number): Promise<Answer<CurvePart>> {
  const query = `fromMs=${fromMs}&toMs=${toMs}&columns=${columns}`;
  return ask(`/api/runs/${encodeURIComponent(run)}/curve?${query}`).then((answer) => checked(answer, isCurvePart));
}

export class StoredCurve {
  /** The whole run, for the chart. */
  readonly curve = new Curve();
  readonly #run: string;
  readonly #columns: readonly WireReading[];
  readonly #spanMs: number;
  readonly #fetch: typeof fetchCurve;
  /** By number of the stretch; null: under way. Oldest wish first. */
  readonly #stretches = new Map<number, readonly WireReading[] | null>();

  constructor({ info, tiles }: Pick<OpenedRun, 'info' | 'tiles'>, fetchPart = fetchCurve) {
    this.#run = info.run;
    this.#fetch = fetchPart;
    this.#spanMs = spanOf(tiles);
    this.#columns = rowsOf(tiles, this.#spanMs);
    this.curve.addTiles(tiles);
  }

  /**
   * What was read in the two minutes up to a moment, oldest first: every reading where it is here, else a row for each column, which
   * stands at the column's end (or at the moment itself, where that is earlier) and at the middle of what was read in it.
   */
  rowsUpTo(atMs: number): readonly WireReading[] {
    const fromMs = atMs - ROWS_BACK_MS;
    const held = [numberOf(fromMs), numberOf(atMs)].map((number) => this.#stretches.get(number) ?? null);
    if (held.every((rows) => rows !== null)) {
      const rows = numberOf(fromMs) === numberOf(atMs) ? held[0]! : held.flat();
      return between(rows, fromMs, atMs);
    }
    return this.#columnsUpTo(fromMs, atMs);
  }

  /**
   * Sees to it that every reading around a moment, and `aheadMs` after it, is here soon. True when something has come that was not here
   * before; false where all was here, is on its way already, or cannot be had.
   */
  async want(atMs: number, aheadMs: number): Promise<boolean> {
    const missing: number[] = [];
    for (let number = numberOf(atMs - ROWS_BACK_MS); number <= numberOf(atMs + aheadMs); number++)
      if (!this.#stretches.has(number)) missing.push(number);
    const came = await Promise.all(missing.slice(0, STRETCHES_KEPT).map((number) => this.#fetchStretch(number)));
    return came.includes(true);
  }

  async #fetchStretch(number: number): Promise<boolean> {
    this.#stretches.set(number, null);
    const fromMs = Math.max(0, number * STRETCH_MS);
    const answer = await this.#fetch(this.#run, fromMs, (number + 1) * STRETCH_MS - 1, 1);
    if (!answer.ok || answer.value.readings === null) {
      this.#stretches.delete(number);
      return false;
    }
    this.#stretches.set(number, answer.value.readings);
    const oldest = [...this.#stretches.keys()].slice(0, -STRETCHES_KEPT);
    for (const each of oldest) this.#stretches.delete(each);
    return true;
  }

  #columnsUpTo(fromMs: number, atMs: number): readonly WireReading[] {
    const rows = between(this.#columns, fromMs, atMs);
    const next = this.#columns[countUpTo(this.#columns, atMs)];
    const isBegun = next !== undefined && next[0] - this.#spanMs < atMs;
    return isBegun ? [...rows, [atMs, next[1], next[2], next[3]]] : rows;
  }
}

function numberOf(atMs: number): number {
  return Math.floor(Math.max(0, atMs) / STRETCH_MS);
}

/** A column as one row at its last millisecond. */
function rowsOf(tiles: readonly Tile[], spanMs: number): readonly WireReading[] {
  return tiles.map(([atMs, lowC, highC, estimateC]): WireReading => {
    const endMs = atMs + spanMs - 1;
    if (lowC === null || highC === null) return [endMs, 0, QUALITY_CODE.rejected, estimateC];
    return [endMs, Math.round((lowC + highC) * 50) / 100, QUALITY_CODE.good, estimateC];
  });
}

/** Columns stand at multiples of their width, and most have a neighbour. */
function spanOf(tiles: readonly Tile[]): number {
  const apart = tiles.slice(1).map(([atMs], i) => atMs - tiles[i]![0]);
  return Math.max(FINEST_COLUMN_MS, apart.length === 0 ? 0 : Math.min(...apart));
}

function between(rows: readonly WireReading[], fromMs: number, toMs: number): readonly WireReading[] {
  return rows.slice(countUpTo(rows, fromMs - 1), countUpTo(rows, toMs));
}

/** How many rows are not after a moment. */
function countUpTo(rows: readonly WireReading[], atMs: number): number {
  let low = 0;
  let high = rows.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle]![0] <= atMs) low = middle + 1;
    else high = middle;
  }
  return low;
}

function isCurvePart(value: unknown): value is CurvePart {
  if (!hasFields<CurvePart>('readings', 'tiles')(value)) return false;
  const { readings, tiles } = value;
  return (readings === null || isListOf(isWireReading)(readings)) && isListOf(isTile)(tiles);
}
