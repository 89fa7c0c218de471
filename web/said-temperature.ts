/** The temperature that sentences speak of: the one on the page, as long as it stands for the chocolate. Judges nothing. */
import type { NowMessage } from '../server/core/show/wire.ts';

type Known = Pick<NowMessage, 'reading' | 'stale' | 'probeOutSinceMs' | 'estimate'>;

/** Probe and chocolate apart by more than this is worth a word, °C (ours: the tenth where advice could change). */
const APART_C = 0.25;

/** The number says what the probe does, and the chocolate is by so much another that the page says both. */
export function isApart({ reading, estimate }: Pick<Known, 'reading' | 'estimate'>): boolean {
  return reading !== null && estimate !== null && Math.abs(estimate.tempC - reading.valueC) >= APART_C;
}

/**
 * °C; null: nothing is known of the chocolate. What is said of the number above or below it has to add up with it: only where the two are apart, or
 * the number is none of now, the estimate is meant.
 */
export function saidTempC(now: Known): number | null {
  const { reading, estimate, stale, probeOutSinceMs } = now;
  if (estimate === null) return null;
  return reading === null || stale || probeOutSinceMs !== null || isApart(now) ? estimate.tempC : reading.valueC;
}
