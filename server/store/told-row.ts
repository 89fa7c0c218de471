/**
 * What the row of a run says beyond its record, for the list of runs: each of it follows from the header, the events, the readings or the card, so
 * that it can be put together again where it was damaged. Pure.
 */
import { type CardEntry, cardOf } from '../core/record/card.ts';
import type { RunHeader } from '../core/record/run.ts';
import { encodeTiles } from './columns.ts';
import type { Tally } from './tally.ts';
import type { Tiling } from './tiles.ts';

/** By the names of the columns. */
export function headerColumns({ profile: { id: profile, title, coating } }: RunHeader) {
  return { profile, title, coating };
}

export function tallyColumns({ standing, worstAlarm, worstOverC, crossed, visits }: Tally) {
  return {
    standing,
    worst_alarm: worstAlarm,
    worst_over_c: worstOverC,
    crossed: JSON.stringify(crossed),
    visits: JSON.stringify(visits),
  };
}

export function curveColumns({ spanMs, tiles }: Tiling) {
  return { span_ms: spanMs, tiles: encodeTiles(tiles) };
}

export function cardColumns(entries: readonly CardEntry[]) {
  const { name, centre, lot, kg, tags, outcome } = cardOf(entries);
  return { name, centre, lot, kg, tags: JSON.stringify(tags), verdict: outcome?.verdict ?? null };
}
