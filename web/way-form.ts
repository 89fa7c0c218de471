/** In which form the way to a phase's goal can be said: with one time, a range, a least, or without a time and why. Pure; no words. */
import type { Estimate, FanBead } from '../server/core/bowl/estimate.ts';
import type { Phase } from '../server/core/record/profile.ts';
import { nearEdgeC } from '../server/core/show/course.ts';

export type ArrivalForm = 'about' | 'about-and' | 'within' | 'or-more' | 'unsure';
export type WayForm = ArrivalForm | 'there' | 'leaving' | 'still' | 'away' | 'short' | 'just' | 'far';

/** Rates below this a minute count as standing still, °C/min (ours, with the page's trend words). */
export const STEADY_C_PER_MIN = 0.05;
/** Longer forecasts are not worth a figure, s (ours). */
const FORECAST_MAX_S = 90 * 60;
/** A range is not worth saying up to this share of the time left either way, and replaces the single figure from that share on (ours). */
const NARROW_SHARE = 0.25;
const WIDE_SHARE = 0.5;
/** Ends further apart than so many times the nearer one tell nothing, unless they are within this of each other, s (ours). */
const APART_AT_MOST = 4;
const NEAR_S = 60;
/** Levelling off nearer to the edge than this may still reach it, °C (ours: what the estimate itself may be off by). */
const SHORT_C = 0.2;

/** A rate that may be off by so much over the first bead of the fan, °C, says nothing of which way it goes (ours: more than stirring does). */
const DOUBT_C = 0.3;

/** Whether doing nothing at a choice leads down, as a bowl left in the cold. False where there is no forecast of it. */
export function isCooledBy(leftOn: readonly FanBead[], fromC: number): boolean {
  return (leftOn.at(-1)?.medianC ?? fromC) < fromC;
}

/** Whether the fan still lies on both sides, and wide: a bowl just looked at, or just taken elsewhere. False where there is no fan: of stored runs. */
export function isRateUnknown(estimate: Estimate | null, [first]: readonly FanBead[]): boolean {
  if (estimate === null || first === undefined) return false;
  const { lowC, highC } = first;
  return (highC - lowC) / 2 > DOUBT_C && lowC < estimate.tempC && estimate.tempC < highC;
}

/** Seconds until the arrival, and the ends of its interval; a `highS` of null is open. Null: nothing known, or too far off to say. */
export function arrivalForm(etaS: number | null, lowS: number | null, highS: number | null): ArrivalForm | null {
  if (etaS === null || etaS > FORECAST_MAX_S) return null;
  if (lowS === null) return 'about';
  if (highS === null) return etaS > APART_AT_MOST * lowS ? 'unsure' : 'or-more';
  if (highS > APART_AT_MOST * lowS && highS - lowS > NEAR_S) return 'unsure';
  const offS = Math.max(etaS - lowS, highS - etaS);
  if (offS <= etaS * NARROW_SHARE) return 'about';
  return offS >= etaS * WIDE_SHARE ? 'within' : 'about-and';
}

/** Drifting out of the band within this is said, s (ours: time to reach for the heat). */
const WARM_SOON_S = 420;

/** Seconds until a bowl that cools in its working band is under it; null: it is not on that way, or far from it. */
export function leavesInS({ bandC: [lowC] }: Phase, { tempC, rateCPerMin }: Estimate): number | null {
  if (rateCPerMin >= -STEADY_C_PER_MIN || tempC < lowC) return null;
  const inS = ((tempC - lowC) / -rateCPerMin) * 60;
  return inS < WARM_SOON_S ? inS : null;
}

/** `isUnknown`: the rate is; then nothing but an arrival is told of where it goes. */
export function wayForm(phase: Phase, estimate: Estimate, isUnknown = false): WayForm {
  if (!isUnknown && phase.heading === 'hold' && leavesInS(phase, estimate) !== null) return 'leaving';
  const { tempC, rateCPerMin, peakC, etaS, etaLowS, etaHighS } = estimate;
  if (etaS === 0) return 'there';
  const arrival = arrivalForm(etaS, etaLowS, etaHighS);
  if (arrival !== null) return arrival;
  if (isUnknown) return 'unsure';
  const edgeC = nearEdgeC(phase);
  const towards = Math.sign(edgeC - tempC);
  if (Math.abs(rateCPerMin) < STEADY_C_PER_MIN) return 'still';
  if (rateCPerMin * towards < 0) return 'away';
  // A level that lies behind it is one of before it was moved.
  if (peakC === null || (peakC - tempC) * towards <= 0) return 'unsure';
  const shortC = (edgeC - peakC) * towards;
  if (shortC > SHORT_C) return 'short';
  return shortC > 0 ? 'just' : 'far';
}
