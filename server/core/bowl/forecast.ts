/**
 * Where the bowl is going if nobody changes anything, and where it would coast to if the heat were taken away now.
 * Put together from all the courses it may be on, each by its likelihood. Knows nothing of phases or alarms.
 *
 *   unchanged:  T(t) = level + (T − level)·e^(−t/τ), a mixture
 *   left alone: wall and chocolate even out while the room takes its share (wall.ts)
 */
import type { Band } from '../record/profile.ts';
import type { FanBead } from './estimate.ts';
import type { Likely } from './courses.ts';
import { standsForBowl } from './mixing.ts';
import type { Bowl } from './stretch.ts';
import { USUAL_COURSE_S } from './surroundings.ts';
import { coastedC, lossCPerS } from './wall.ts';

/** Taken off the heat a bowl has its peak behind it within this, off the cold it has evened out, seconds. Ours. */
const COAST_UP_S = 240;
const COAST_DOWN_S = 90;
/** Just after a leaving the rate is still that of so many seconds ago, and part of the coast is over already. Ours. */
const RATE_AGE_S = 15;
/** Slower than this is standing still, °C/s: 0.05 °C/min. Ours, the page's own word "steady". */
const STEADY_C_PER_S = 0.05 / 60;
/** 80 % of a normal distribution lies within so many standard deviations. */
const EIGHTY = 1.2816;
/** Nobody plans further ahead than this, seconds. Ours. */
const FURTHEST_S = 3600;
/** A hand on the heat or the bath adds this much doubt to the rate over a minute, °C/s. Ours. */
const HAND_C_PER_S = 0.003;
/** What the rest of an unstirred bowl may be off by, °C and °C/s. Ours. */
const UNMIXED_SD_C = 0.5;
const UNMIXED_RATE_SD = 0.01;
const FAN_S = 180;
const FAN_STEP_S = 30;
/** A band is to be reached in so many seconds, with a bath so far beyond it and between these, °C. Ours. */
const GOOD_TIME_S = 300;
const BEYOND_C = 6;
const COLDEST_WATER_C = 10;
const HOTTEST_WATER_C = 70;
/** A normal distribution in five equal parts: the middle of each, standard deviations. */
const FIFTHS = [-1.2816, -0.5244, 0, 0.5244, 1.2816] as const;
/** The interval allows for courses that are no exact exponentials: the doubt counts this much more. Ours, tuned on simulated kitchens. */
const WIDER = 1.7;

/** Time to a temperature on the unchanged course, seconds; 0: there or past it. */
export interface Arrival {
  readonly etaS: number;
  readonly lowS: number;
  /** null: it may level off before. */
  readonly highS: number | null;
}

interface Weighed {
  readonly value: number;
  readonly weight: number;
}

/** `towards`: +1 where the target is reached from below, −1 from above. `agoS`: how old the courses are. null: more likely never than ever. */
export function arrival(
  courses: readonly Likely[],
  agoS: number,
  tempC: number,
  targetC: number,
  towards: 1 | -1,
): Arrival | null {
  if ((targetC - tempC) * towards <= 0) return { etaS: 0, lowS: 0, highS: 0 };
  const times = timesTo(courses, targetC, towards, 1);
  const etaS = Math.max(0, quantile(times, 0.5) - agoS);
  if (etaS > FURTHEST_S) return null;
  const wider = timesTo(courses, targetC, towards, WIDER);
  const highS = quantile(wider, 0.9) - agoS;
  return {
    etaS,
    lowS: Math.max(0, Math.min(etaS, quantile(wider, 0.1) - agoS)),
    highS: highS > FURTHEST_S ? null : Math.max(etaS, highS),
  };
}

/** Seconds to the target on every course, in rising order. */
function timesTo(courses: readonly Likely[], targetC: number, towards: 1 | -1, wider: number): Weighed[] {
  const times = courses.flatMap((course) => timesOn(course, targetC, towards, wider));
  return times.sort((one, other) => one.value - other.value);
}

/** Seconds to the target on one course, at five places across its doubt: along the line on which the time changes most. */
function timesOn(course: Likely, targetC: number, towards: 1 | -1, wider: number): Weighed[] {
  const { weight, tauS, levelC, tempC, levelVar, bothVar, tempVar } = course;
  const toTarget = Math.abs(levelC - targetC) + 0.1;
  const toTemp = Math.abs(levelC - tempC) + 0.1;
  // Gradient of ln((level − T)/(level − target)) in level and temperature, up to a sign.
  const byTemp = 1 / toTemp;
  const byLevel = 1 / toTarget - 1 / toTemp;
  const levelStep = levelVar * byLevel + bothVar * byTemp;
  const tempStep = bothVar * byLevel + tempVar * byTemp;
  const size = Math.sqrt(Math.max(1e-12, byLevel * levelStep + byTemp * tempStep)) / wider;
  return FIFTHS.map((z) => {
    const level = levelC + (z * levelStep) / size;
    const temp = tempC + (z * tempStep) / size;
    const value = (targetC - temp) * towards <= 0 ? 0 : timeTo(tauS, level, temp, targetC);
    return { value, weight: weight / FIFTHS.length };
  });
}

function timeTo(tauS: number, levelC: number, tempC: number, targetC: number): number {
  const share = (levelC - targetC) / (levelC - tempC);
  return share > 0 && share < 1 ? -tauS * Math.log(share) : Infinity;
}

/** The value below which this share of the weight lies; values in rising order. */
function quantile(values: readonly Weighed[], share: number): number {
  let sum = 0;
  for (const { value, weight } of values) {
    sum += weight;
    if (sum >= share) return value;
  }
  return Infinity;
}

/** The extreme the unchanged course leads to, °C: as likely to be passed as not. */
export function levelC(courses: readonly Likely[]): number {
  const levels = courses.map(({ levelC: value, weight }) => ({ value, weight }));
  return quantile(
    levels.sort((one, other) => one.value - other.value),
    0.5,
  );
}

/** The same from the bowl alone, quickly, °C. */
export function levelOf({ tempC, rateCPerS, courseS }: Bowl): number {
  return tempC + rateCPerS * courseS;
}

/**
 * A bath that brings a bowl from `tempC` to `targetC` in good time, whole °C: the usual time constant, five minutes; at least a few degrees
 * beyond the target. null: no water does.
 */
export function bathThatDoes(tempC: number, targetC: number, towards: 1 | -1): number | null {
  const left = Math.exp(-GOOD_TIME_S / USUAL_COURSE_S);
  const levelC = (targetC - tempC * left) / (1 - left);
  const leastC = targetC + towards * BEYOND_C;
  const wantedC = towards === 1 ? Math.max(levelC, leastC) : Math.min(levelC, leastC);
  const bathC = Math.round(Math.max(COLDEST_WATER_C, Math.min(HOTTEST_WATER_C, wantedC)));
  return (bathC - leastC) * towards >= 0 ? bathC : null;
}

/** Where the bowl coasts to when it leaves heat or cold now, °C: its peak after heat, where it evens out after cold. */
export function coastC({ tempC, rateCPerS, wallS }: Bowl): number {
  return tempC + coastedC(tempC, rateCPerS, wallS, coastS(tempC, rateCPerS, wallS));
}

/** How far it surely goes on, °C from where it is: by a wall as quick as nine in ten are slower than, and a rate of some seconds ago. */
export function surelyCoastsC({ tempC, wallS, wallLnSd }: Bowl, rateCPerS: number): number {
  const quickS = wallS * Math.exp(-EIGHTY * wallLnSd);
  const left = Math.exp(-RATE_AGE_S / quickS);
  return left * coastedC(tempC, rateCPerS, quickS, coastS(tempC, rateCPerS, quickS));
}

/** How long that takes, seconds: up to where the wall gives no more than the room takes. */
function coastS(tempC: number, rateCPerS: number, wallS: number): number {
  if (rateCPerS <= 0) return COAST_DOWN_S;
  const loss = lossCPerS(tempC);
  return loss <= 0 ? COAST_UP_S : Math.min(COAST_UP_S, wallS * Math.log(1 + rateCPerS / loss));
}

/**
 * Seconds until leaving the heat (or the cold) makes the bowl coast to `aimC`; negative: the moment has passed; null: not on this course.
 * A rate that is hardly known yet counts for less by `doubts` standard deviations: the wall would multiply its error.
 */
export function takeOffInS(bowl: Bowl, aimC: number, towards: 1 | -1, doubts: number): number | null {
  if (bowl.rateCPerS * towards < STEADY_C_PER_S) return null;
  const rate = Math.max(STEADY_C_PER_S, bowl.rateCPerS * towards - doubts * bowl.rateSdCPerS);
  return ((aimC - coastC({ ...bowl, rateCPerS: rate * towards })) * towards) / rate;
}

/** The point of a band at `share` of its width past the near edge, °C. */
export function aimC(band: Band, towards: 1 | -1, share: number): number {
  const [low, high] = band;
  return towards === 1 ? low + share * (high - low) : high - share * (high - low);
}

/** Standing still, as far as the page's own word goes. */
export function isSteady(bowl: Bowl): boolean {
  return Math.abs(bowl.rateCPerS) < STEADY_C_PER_S;
}

/** Median and 80 % band every half minute for three minutes: on the unchanged course, or after heat or cold is left now. */
export function fan(bowl: Bowl, course: 'unchanged' | 'left'): FanBead[] {
  const beads: FanBead[] = [];
  const mixed = standsForBowl(bowl.mixing);
  for (let inS = FAN_STEP_S; inS <= FAN_S; inS += FAN_STEP_S) {
    const { goneC, reachS, doubtC } = course === 'left' ? afterLeaving(bowl, inS) : onCourse(bowl, inS);
    const medianC = bowl.tempC + goneC;
    const rateSd = Math.hypot(bowl.rateSdCPerS, HAND_C_PER_S * Math.min(1, inS / 60), mixed ? 0 : UNMIXED_RATE_SD);
    const halfC = EIGHTY * Math.hypot(bowl.tempSdC, rateSd * reachS, doubtC, mixed ? 0 : UNMIXED_SD_C);
    beads.push({ inS, lowC: medianC - halfC, medianC, highC: medianC + halfC });
  }
  return beads;
}

/** How far the bowl goes, °C; for how long its rate counts, seconds; and what else is in doubt, °C. */
interface Reach {
  readonly goneC: number;
  readonly reachS: number;
  readonly doubtC: number;
}

function onCourse({ rateCPerS, courseS }: Bowl, inS: number): Reach {
  const reachS = courseS * (1 - Math.exp(-inS / courseS));
  return { goneC: rateCPerS * reachS, reachS, doubtC: 0 };
}

/** What is in doubt is the wall: half of it more, half of it less than one standard deviation makes. */
function afterLeaving({ tempC, rateCPerS, wallS, wallLnSd }: Bowl, inS: number): Reach {
  const goneC = (shareSd: number): number => coastedC(tempC, rateCPerS, wallS * Math.exp(shareSd * wallLnSd), inS);
  const reachS = wallS * (1 - Math.exp(-inS / wallS));
  return { goneC: goneC(0), reachS, doubtC: Math.abs(goneC(1) - goneC(-1)) / 2 };
}
