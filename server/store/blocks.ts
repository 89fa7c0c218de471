/** A minute of readings as it lies in the data file, with the columns of its curve. Pure. */
import type { Reading } from '../core/record/run.ts';
import { encodeReadings, encodeTiles, MAX_ROWS } from './columns.ts';
import { FINEST_SPAN_MS, tilesOfReadings } from './tiles.ts';

const BLOCK_MS = 60_000;

export interface Block {
  readonly readings: Uint8Array;
  readonly tiles: Uint8Array;
}

/** Whether the reading begins a new block after those of the one that is filling. */
export function startsBlock(filling: readonly Reading[], reading: Reading): boolean {
  const first = filling[0];
  return first !== undefined && (minuteOf(reading) > minuteOf(first) || filling.length >= MAX_ROWS);
}

export function encodedBlock(readings: readonly Reading[]): Block {
  return { readings: encodeReadings(readings), tiles: encodeTiles(tilesOfReadings(readings, FINEST_SPAN_MS)) };
}

function minuteOf({ atMs }: Reading): number {
  return Math.floor(atMs / BLOCK_MS);
}
