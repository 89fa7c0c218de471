/**
 * A curve as min-max columns that never get more than asked for: when there are too many, neighbours are joined and the span doubles,
 * so a peak survives at any length. Pure; only the chocolate's good readings count.
 */
import type { Reading } from '../core/record/run.ts';
import type { Tile } from '../core/show/wire.ts';

export interface Tiling {
  /** Width of a column, ms. */
  readonly spanMs: number;
  /** Oldest first; `atMs` is a multiple of `spanMs`. A span in which nothing came has no column. */
  readonly tiles: readonly Tile[];
}

/** The finest columns kept, ms (ours: far below what a picture of a run can show). */
export const FINEST_SPAN_MS = 1_000;

/** Columns of the small picture of a run (ours: two pixels each in a list row). */
export const PICTURE_COLUMNS = 120;

export const NO_TILES: Tiling = { spanMs: FINEST_SPAN_MS, tiles: [] };

/** The readings as columns of `spanMs`. A reading that comes late is counted in the newest column. */
export function tilesOfReadings(readings: readonly Reading[], spanMs: number): Tile[] {
  const own = readings.filter((reading) => reading.role === 'chocolate').map((reading) => tileOf(reading, spanMs));
  return joined(own, spanMs);
}

/** `tiling` with more readings, in at most `limit` columns. */
export function extended(tiling: Tiling, readings: readonly Reading[], limit: number): Tiling {
  const more = tilesOfReadings(readings, tiling.spanMs);
  const newest = tiling.tiles.at(-1);
  if (more.length === 0) return tiling;
  const tail = newest === undefined ? more : joined([newest, ...more], tiling.spanMs);
  return within({ spanMs: tiling.spanMs, tiles: [...tiling.tiles.slice(0, -1), ...tail] }, limit);
}

/** The same curve in at most `limit` columns (at least one). */
export function within(tiling: Tiling, limit: number): Tiling {
  let { spanMs, tiles } = tiling;
  while (tiles.length > Math.max(1, limit)) {
    spanMs *= 2;
    tiles = joined(tiles, spanMs);
  }
  return { spanMs, tiles };
}

/**
 * Pieces of a curve in the finest columns, oldest first, as one in at most `limit` columns: what `within` gives of all of them. Each piece is
 * joined at once as far as all will be in any case, so that a long curve is never held in fine columns. `count`: no more than there are tiles.
 */
export function gathered(pieces: Iterable<readonly Tile[]>, count: number, limit: number): Tiling {
  let spanMs = FINEST_SPAN_MS;
  while ((count * FINEST_SPAN_MS) / spanMs > Math.max(1, limit)) spanMs *= 2;
  const tiles: Tile[] = [];
  for (const piece of pieces) for (const tile of joined(piece, spanMs)) tiles.push(tile);
  return within({ spanMs, tiles: joined(tiles, spanMs) }, limit);
}

function tileOf({ atMs, valueC, quality, estimateC }: Reading, spanMs: number): Tile {
  const startMs = Math.floor(atMs / spanMs) * spanMs;
  return quality === 'good' ? [startMs, valueC, valueC, estimateC] : [startMs, null, null, estimateC];
}

function joined(tiles: readonly Tile[], spanMs: number): Tile[] {
  const columns: Tile[] = [];
  for (const tile of tiles) {
    const startMs = Math.floor(tile[0] / spanMs) * spanMs;
    const last = columns.at(-1);
    if (last !== undefined && startMs <= last[0]) columns[columns.length - 1] = union(last, tile);
    else columns.push([startMs, tile[1], tile[2], tile[3]]);
  }
  return columns;
}

function union([atMs, lowC, highC, estimateC]: Tile, [, low, high, estimate]: Tile): Tile {
  return [atMs, either(lowC, low, Math.min), either(highC, high, Math.max), estimate ?? estimateC];
}

function either(a: number | null, b: number | null, pick: (a: number, b: number) => number): number | null {
  if (a === null || b === null) return a ?? b;
  return pick(a, b);
}
