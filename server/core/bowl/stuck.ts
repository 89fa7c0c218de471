/** A thermometer that repeats itself: exactly the same value for longer than the stirring seen so far allows. Knows no bowl. */
import type { Filter } from './filter.ts';

/**
 * So many readings, for so long, milliseconds, may be stuck; it is where the stirring was livelier than this, °C, and than so many
 * steps of the thermometer, and where it lasts so many times longer than stirring resembles itself. Ours.
 */
const STUCK_READINGS = 8;
const STUCK_MS = 12_000;
const LIVELY_C = 0.06;
const LIVELY_STEPS = 2;
const STUCK_SWIRLS = 3;

/** The newest value, since when it has been exactly the same, and for how many readings. Plain data, replaced at each reading. */
export interface Same {
  readonly valueC: number;
  readonly sinceMs: number;
  readonly readings: number;
}

export function followSame(before: Same | null, atMs: number, valueC: number): Same {
  return before !== null && before.valueC === valueC
    ? { valueC, sinceMs: before.sinceMs, readings: before.readings + 1 }
    : { valueC, sinceMs: atMs, readings: 1 };
}

/** `stepC`: steps of the thermometer, null before they are known. */
export function isStuck(same: Same, atMs: number, stepC: number | null, filter: Readonly<Filter>): boolean {
  const forMs = atMs - same.sinceMs;
  if (same.readings < STUCK_READINGS || forMs < STUCK_MS || stepC === null) return false;
  const lively = filter.usualSwingC > Math.max(LIVELY_C, LIVELY_STEPS * stepC);
  return lively && forMs > 1000 * STUCK_SWIRLS * filter.swirlS;
}
