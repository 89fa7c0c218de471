/**
 * Where the bowl is going if nobody changes anything, and where it would coast to if the heat were taken away now.
 * Simple and honest: one exponential approach with the estimated rate. Knows nothing of phases or alarms.
 *
 *   unchanged:  T(t) = T + r·course·(1 − e^(−t/course))
 *   left alone: T∞   = T + r·COAST       wall and bath layer give up what they still hold
 */
import type { Band } from '../record/profile.ts';
import type { FanBead } from './estimate.ts';
import { courseOfS, rateSdCPerS, tempSdC } from './filter.ts';
import type { Filter } from './filter.ts';

/**
 * How long the present rate goes on, in effect, after the bowl has left its bath, seconds. A steel bowl of 1 kg still 7 °C above
 * 31 °C chocolate ends 0.9 °C up (domain §6.2); at the 1.4 °C/min that goes with it that is 39 s. Ours.
 */
export const COAST_S = 40;
/** Slower than this is standing still, °C/s: 0.05 °C/min. Ours, the page's own word "steady". */
const STEADY_C_PER_S = 0.05 / 60;
/** 80 % of a normal distribution lies within so many standard deviations. */
const EIGHTY = 1.2816;
/** Nobody plans further ahead than this, seconds. Ours. */
const FURTHEST_S = 3600;
/** A hand on the heat or the bath adds this much doubt to the rate over a minute, °C/s. Ours. */
const HAND_C_PER_S = 0.003;
const FAN_S = 180;
const FAN_STEP_S = 30;

/** Time to a temperature on the unchanged course, seconds; 0: there or past it; null: not on this course. */
export interface Arrival {
  readonly etaS: number;
  readonly lowS: number;
  /** null: it may level off before. */
  readonly highS: number | null;
}

/** `towards`: +1 where the target is reached from below, −1 from above. */
export function arrival(filter: Filter, targetC: number, towards: 1 | -1): Arrival | null {
  const wayC = (targetC - filter.tempC) * towards;
  if (wayC <= 0) return { etaS: 0, lowS: 0, highS: 0 };
  const rate = filter.rateCPerS * towards;
  const course = courseOfS(filter);
  const etaS = timeFor(wayC, rate, course);
  if (etaS === null) return null;
  const spread = EIGHTY * Math.hypot(rateSdCPerS(filter), HAND_C_PER_S * Math.min(1, etaS / 60));
  const near = EIGHTY * tempSdC(filter);
  return {
    etaS,
    lowS: timeFor(Math.max(0, wayC - near), rate + spread, course) ?? 0,
    highS: timeFor(wayC + near, rate - spread, course),
  };
}

/** Seconds to go `wayC` at a rate that eases off over `course` seconds; null where it levels off before, or is steady, or too far. */
function timeFor(wayC: number, rateCPerS: number, course: number): number | null {
  if (rateCPerS < STEADY_C_PER_S) return null;
  const left = 1 - wayC / (rateCPerS * course);
  if (left <= 0) return null;
  const etaS = -course * Math.log(left);
  return etaS > FURTHEST_S ? null : etaS;
}

/** The extreme the unchanged course leads to, °C. */
export function levelC(filter: Filter): number {
  return filter.tempC + filter.rateCPerS * courseOfS(filter);
}

/** Where the bowl coasts to when it leaves heat or cold now, °C. */
export function coastC(filter: Filter): number {
  return filter.tempC + filter.rateCPerS * COAST_S;
}

/** Seconds until leaving the heat (or the cold) makes the bowl coast to `aimC`; negative: the moment has passed; null: not on this course. */
export function takeOffInS(filter: Filter, aimC: number, towards: 1 | -1): number | null {
  const rate = filter.rateCPerS * towards;
  if (rate < STEADY_C_PER_S) return null;
  return ((aimC - filter.tempC) * towards) / rate - COAST_S;
}

/** The point of a band at `share` of its width past the near edge, °C. */
export function aimC(band: Band, towards: 1 | -1, share: number): number {
  const [low, high] = band;
  return towards === 1 ? low + share * (high - low) : high - share * (high - low);
}

/** Median and 80 % band every half minute for three minutes on the unchanged course. */
export function fan(filter: Filter): FanBead[] {
  const beads: FanBead[] = [];
  const course = courseOfS(filter);
  for (let inS = FAN_STEP_S; inS <= FAN_S; inS += FAN_STEP_S) {
    const reach = course * (1 - Math.exp(-inS / course));
    const medianC = filter.tempC + filter.rateCPerS * reach;
    const rateSd = Math.hypot(rateSdCPerS(filter), HAND_C_PER_S * Math.min(1, inS / 60));
    const halfC = EIGHTY * Math.hypot(tempSdC(filter), rateSd * reach);
    beads.push({ inS, lowC: medianC - halfC, medianC, highC: medianC + halfC });
  }
  return beads;
}
