/**
 * The bowl over the present stretch: since somebody last changed something. Where the filter forgets within half a minute, so as to
 * follow any hand, a stretch remembers for minutes, and so knows rate and bending far better; it ends as soon as the filter
 * or the readings show that the bowl is on another course. Knows nothing of doubts, phases or people.
 */
import { likelyCourses, startCourses, withValue } from './courses.ts';
import type { Bath, Baths, Courses, Likely } from './courses.ts';
import type { Mixing } from './estimate.ts';
import type { Filter } from './filter.ts';
import { ROOM_C, USUAL_COURSE_S } from './surroundings.ts';
import { followWall, forgetMinutes } from './wall.ts';
import type { Wall } from './wall.ts';

/** Filter and stretch this far apart, squared and in units of the filter's own doubt, are on different courses. Ours. */
const APART = 8;
/** A stretch is seen for so long before it may be told from the filter, milliseconds. Ours. */
const YOUNG_MS = 4_000;
/** Readings that on the whole of so many seconds lie so far off the course, squared and in units of what stirring does, have left it; not told sooner than that. Ours. */
const LEAN_S = 12;
const LEANS = 9;
const LEAN_YOUNG_MS = 15_000;
/**
 * Readings are taken together for so long, milliseconds: stirring noise resembles itself for longer than this. A course that is older than
 * so much moves little by one of them: it is put together again less often. Ours.
 */
const TOGETHER_MS = 2_000;
const OLD_MS = 60_000;
const TOGETHER_OLD_MS = 5_000;
/** Real courses are no exact exponentials: information counts this much less. Ours, tuned on simulated kitchens. */
const DISCOUNT = 1.5;
/** After a longer pause a stretch begins anew, milliseconds. Ours: by then anything may have been done. */
const LONGEST_PAUSE_MS = 600_000;
/** Crystals melt from this temperature on, the last of them from the next, and all are gone over the third, °C: meanwhile melting takes up heat. Ours (domain §1.1: 28–36). */
export const MELTING_FROM_C = 26.5;
const MELTING_OUT_C = 33;
export const MOLTEN_C = 36;
/** A stretch as old as this, seconds, teaches what the bath is like, while the bowl goes faster than that, °C/s. Ours. */
const LEARNING_S = 100;
const LEARNING_C_PER_S = 0.2 / 60;
/** A bath not heard of for so long is not known any more, milliseconds. Ours. */
const BATH_KNOWN_MS = 180_000;
/** The open top draws a bowl this share of the way from its bath to a usual room, °C (domain §6.1: 5 of 80 W/m²K or so). Ours. */
const TOP_LOSS = 0.06;
/** and the usual time constant may be off by so much, ln seconds, squared: 4 to 36 min are seen. */
const USUAL_LN_VAR = 0.4;
/** Against the filter's, the variance of the stretch's temperature counts this much more: it is slower to see that it is wrong. Ours, tuned likewise. */
const STRETCH_DOUBT = 3;
/** Doubt counts as no less than this: °C and °C/s. Ours. */
const LEAST_SD_C = 0.03;
const LEAST_RATE_SD = 0.0005;

/** Plain data; the owner copies it and works in place, but never on `courses`, `baths` and `wall`, which are replaced. */
export interface Stretch {
  courses: Courses;
  baths: Baths;
  wall: Wall;
  /** What a thermometer in the bath said last, °C, and when; null: there is none. */
  bath: { readonly valueC: number; readonly atMs: number } | null;
  /** No crystals are left: somebody said so, or the bowl was hotter than they can be. */
  molten: boolean;
  /** Readings not taken in yet: their number, the sum of their values, and of how long after the courses they were read, milliseconds. */
  waiting: number;
  waitingC: number;
  waitingMs: number;
  /** What it shows, at its moment: °C, °C/s, standard deviations. */
  tempC: number;
  tempSdC: number;
  rateCPerS: number;
  rateSdCPerS: number;
  /** Time constant, seconds: of the mean of 1/τ. */
  courseS: number;
  /** Running mean of how far the readings lie from it, °C. */
  leanC: number;
}

export function startStretch(filter: Readonly<Filter>, baths: Baths, wall: Wall, molten: boolean): Stretch {
  const { atMs, probeC, rateCPerS, cov } = filter;
  const known = {
    valueC: probeC,
    valueSdC: Math.max(LEAST_SD_C, Math.sqrt(cov[9])),
    rateCPerS,
    rateSdCPerS: Math.max(LEAST_RATE_SD, Math.sqrt(cov[4])),
  };
  const stretch = {
    courses: startCourses(atMs, known, densityOf(filter)),
    baths,
    wall,
    bath: null,
    molten: molten || probeC > MOLTEN_C,
    waiting: 0,
    waitingC: 0,
    waitingMs: 0,
    tempC: filter.tempC,
    tempSdC: 0,
    rateCPerS: 0,
    rateSdCPerS: 0,
    courseS: 0,
    leanC: 0,
  };
  sumUp(stretch, filter);
  return stretch;
}

/** From here the filter alone knows, and what was learned of bowl and baths. */
export function restartStretch(stretch: Stretch, filter: Readonly<Filter>): void {
  Object.assign(stretch, { ...startStretch(filter, stretch.baths, stretch.wall, stretch.molten), bath: stretch.bath });
}

export function copyStretch(s: Readonly<Stretch>): Stretch {
  return {
    courses: s.courses,
    baths: s.baths,
    wall: s.wall,
    bath: s.bath,
    molten: s.molten,
    waiting: s.waiting,
    waitingC: s.waitingC,
    waitingMs: s.waitingMs,
    tempC: s.tempC,
    tempSdC: s.tempSdC,
    rateCPerS: s.rateCPerS,
    rateSdCPerS: s.rateSdCPerS,
    courseS: s.courseS,
    leanC: s.leanC,
  };
}

/**
 * Takes a reading that the filter has just taken; begins anew where the two have parted, or a long memory would hold the melting.
 * `dtS`: seconds since the reading before.
 */
export function followStretch(stretch: Stretch, filter: Readonly<Filter>, readC: number, dtS: number): void {
  const sinceMs = filter.atMs - stretch.courses.atMs;
  if (sinceMs > LONGEST_PAUSE_MS) return restartStretch(stretch, filter);
  noteLean(stretch, filter, readC, dtS);
  if (hasParted(stretch, filter) || hasLeaned(stretch, filter)) return restartStretch(stretch, filter);
  stretch.waiting += 1;
  stretch.waitingC += readC;
  stretch.waitingMs += sinceMs;
  if (sinceMs < togetherMs(stretch)) return;
  if (isMelting(stretch)) {
    stretch.wall = forgetMinutes(stretch.wall);
    return restartStretch(stretch, filter);
  }
  takeTogether(stretch, filter);
}

function togetherMs({ courses }: Readonly<Stretch>): number {
  return courses.atMs - courses.sinceMs < OLD_MS ? TOGETHER_MS : TOGETHER_OLD_MS;
}

/** The wall is learned from what the probe shows, later by its lag than the chocolate. */
function takeTogether(stretch: Stretch, filter: Readonly<Filter>): void {
  const { waiting, waitingC, waitingMs, courses } = stretch;
  const valueC = waitingC / waiting;
  stretch.courses = withValue(courses, filter.atMs, valueC, (filter.atMs - courses.atMs - waitingMs / waiting) / 1000);
  stretch.waiting = 0;
  stretch.waitingC = 0;
  stretch.waitingMs = 0;
  stretch.wall = followWall(stretch.wall, filter.atMs, valueC, densityOf(filter), ownCourseS(stretch));
  sumUp(stretch, filter);
}

/** How far the readings of the last seconds lie from the course, on the whole. */
function noteLean(stretch: Stretch, { atMs, lagS }: Readonly<Filter>, readC: number, dtS: number): void {
  const agoS = (atMs - stretch.courses.atMs) / 1000;
  const offC = readC - stretch.tempC - (agoS - lagS) * stretch.rateCPerS;
  stretch.leanC += Math.min(0.5, dtS / LEAN_S) * (offC - stretch.leanC);
}

/** They lie further than stirring lets a mean of so many seconds lie. */
function hasLeaned({ leanC, courses }: Readonly<Stretch>, filter: Readonly<Filter>): boolean {
  const variance = densityOf(filter) / DISCOUNT / (2 * LEAN_S) + LEAST_SD_C ** 2;
  return filter.atMs - courses.sinceMs >= LEAN_YOUNG_MS && leanC * leanC > LEANS * variance;
}

/** White density that tells over minutes as much as the stirring noise, °C²·s. */
function densityOf({ swingC, swirlS, errorC }: Readonly<Filter>): number {
  return DISCOUNT * 2 * swirlS * (swingC * swingC + errorC * errorC);
}

/** All that the bowl may be on, each with its weight. */
export function coursesOf(
  stretch: Readonly<Stretch>,
  filter: Readonly<Filter>,
  towardsC: number | null = null,
): Likely[] {
  const baths = bathsNow(stretch);
  return likelyCourses(stretch.courses, filter.lagS, densityOf(filter), baths, isMelting(stretch), towardsC);
}

/** A bath that is measured is known, less what the open top loses to the room. */
function bathsNow({ baths, bath, tempC, courses }: Readonly<Stretch>): Baths {
  if (bath === null || courses.atMs - bath.atMs > BATH_KNOWN_MS) return baths;
  const known = baths.hot ?? baths.cold ?? { lnTau: Math.log(USUAL_COURSE_S), lnTauVar: USUAL_LN_VAR, here: false };
  const levelC = bath.valueC + TOP_LOSS * (ROOM_C - bath.valueC);
  return levelC > tempC
    ? { ...baths, hot: { ...(baths.hot ?? known), levelC } }
    : { ...baths, cold: { ...(baths.cold ?? known), levelC } };
}

function sumUp(stretch: Stretch, filter: Readonly<Filter>): void {
  const likely = coursesOf(stretch, filter);
  const { tempC, rateCPerS, tempVar, rateVar, courseS } = viewOf(likely);
  stretch.tempC = tempC;
  stretch.tempSdC = Math.sqrt(tempVar);
  stretch.rateCPerS = rateCPerS;
  stretch.rateSdCPerS = Math.sqrt(rateVar);
  stretch.courseS = courseS;
  const ageS = (stretch.courses.atMs - stretch.courses.sinceMs) / 1000;
  if (ageS > LEARNING_S && Math.abs(rateCPerS) > LEARNING_C_PER_S) learnBath(stretch, likely);
}

/** Until all crystals are gone melting takes up heat, from this temperature on. */
function isMelting({ molten, tempC, rateCPerS }: Readonly<Stretch>): boolean {
  return !molten && tempC > MELTING_FROM_C && rateCPerS >= 0;
}

/** The last crystals are going: from here the heat that they took up warms the bowl. */
export function meltsOut(stretch: Readonly<Stretch>): boolean {
  return isMelting(stretch) && stretch.tempC > MELTING_OUT_C;
}

function learnBath(stretch: Stretch, likely: readonly Likely[]): void {
  let share = 0;
  let levelC = 0;
  let lnTau = 0;
  let lnTauVar = 0;
  for (const one of likely) {
    if (!one.isBath) continue;
    share += one.weight;
    levelC += one.weight * one.levelC;
    lnTau += one.weight * one.lnTau;
    lnTauVar += one.weight * one.lnTau * one.lnTau;
  }
  if (share < 0.7) {
    stretch.baths = { hot: gone(stretch.baths.hot), cold: gone(stretch.baths.cold) };
    return;
  }
  levelC /= share;
  lnTau /= share;
  lnTauVar = lnTauVar / share - lnTau * lnTau;
  const bath: Bath = { levelC, lnTau, lnTauVar, here: true };
  const { hot, cold } = stretch.baths;
  stretch.baths = stretch.rateCPerS > 0 ? { hot: bath, cold: gone(cold) } : { hot: gone(hot), cold: bath };
}

/** The next bath of that kind may be another, the bowl is the same. */
function gone(bath: Bath | null): Bath | null {
  return bath === null ? null : { ...bath, levelC: null };
}

/** The bowl's time constant in a bath as this run showed it, seconds: the shorter of two; null before it was in one for long. */
export function ownCourseS({ baths: { hot, cold } }: Readonly<Stretch>): number | null {
  const lnTau = Math.min(lnTauHere(hot), lnTauHere(cold));
  return lnTau === Infinity ? null : Math.exp(lnTau);
}

function lnTauHere(bath: Bath | null): number {
  return bath !== null && bath.here ? bath.lnTau : Infinity;
}

/** The courses put together: °C, °C/s, their variances, and the time constant, seconds. */
interface View {
  readonly tempC: number;
  readonly rateCPerS: number;
  readonly tempVar: number;
  readonly rateVar: number;
  readonly courseS: number;
}

function viewOf(likely: readonly Likely[]): View {
  let tempC = 0;
  let rateCPerS = 0;
  let bend = 0;
  for (const one of likely) {
    tempC += one.weight * one.tempC;
    rateCPerS += (one.weight * (one.levelC - one.tempC)) / one.tauS;
    bend += one.weight / one.tauS;
  }
  let tempVar = 0;
  let rateVar = 0;
  for (const one of likely) {
    const t = one.tempC - tempC;
    const r = (one.levelC - one.tempC) / one.tauS - rateCPerS;
    tempVar += one.weight * (one.tempVar + t * t);
    rateVar += one.weight * ((one.levelVar - 2 * one.bothVar + one.tempVar) / (one.tauS * one.tauS) + r * r);
  }
  return { tempC, rateCPerS, tempVar, rateVar, courseS: 1 / bend };
}

/** Whether temperature and rate of the filter, taken together, lie further from the stretch's than the filter's own doubt allows. */
function hasParted({ courses, tempC, rateCPerS }: Readonly<Stretch>, filter: Readonly<Filter>): boolean {
  if (filter.atMs - courses.sinceMs < YOUNG_MS) return false;
  const agoS = (filter.atMs - courses.atMs) / 1000;
  const t = filter.tempC - tempC - agoS * rateCPerS;
  const r = filter.rateCPerS - rateCPerS;
  const tt = filter.cov[0] + LEAST_SD_C ** 2;
  const rr = filter.cov[4] + LEAST_RATE_SD ** 2;
  const tr = filter.cov[1];
  return rr * t * t - 2 * tr * t * r + tt * r * r > APART * (tt * rr - tr * tr);
}

/** The bowl at a moment, all that is known put together. °C, °C/s, one standard deviation each. */
export interface Bowl {
  readonly tempC: number;
  readonly tempSdC: number;
  readonly rateCPerS: number;
  readonly rateSdCPerS: number;
  /** What the last half minute alone shows, °C/s: it knows less, and sooner. */
  readonly latestRateCPerS: number;
  /** Time constant of the approach it is on, seconds. */
  readonly courseS: number;
  /** Time constant of its wall, seconds, and how sure, ln seconds, one standard deviation. */
  readonly wallS: number;
  readonly wallLnSd: number;
  /** Crystals are melting: where the course leads is hidden until they are gone. */
  readonly isMelting: boolean;
  /** Whether all this stands for the whole bowl; null: nothing to tell by. */
  readonly mixing: Mixing | null;
}

/** What filter and stretch know at the filter's moment: each counts by its doubt. */
export function bowlOf(stretch: Readonly<Stretch>, filter: Readonly<Filter>, mixing: Mixing | null): Bowl {
  const agoS = (filter.atMs - stretch.courses.atMs) / 1000;
  const temp = weighed(
    filter.tempC,
    filter.cov[0],
    stretch.tempC + agoS * stretch.rateCPerS,
    STRETCH_DOUBT * stretch.tempSdC ** 2 + LEAST_SD_C ** 2,
  );
  const rate = weighed(
    filter.rateCPerS,
    filter.cov[4],
    stretch.rateCPerS,
    stretch.rateSdCPerS ** 2 + LEAST_RATE_SD ** 2,
  );
  return {
    tempC: temp.value,
    tempSdC: temp.sd,
    rateCPerS: rate.value,
    rateSdCPerS: rate.sd,
    latestRateCPerS: filter.rateCPerS,
    courseS: stretch.courseS,
    wallS: Math.exp(stretch.wall.ln),
    wallLnSd: Math.sqrt(stretch.wall.lnVar),
    isMelting: isMelting(stretch),
    mixing,
  };
}

/** They saw the same readings, so together they are no surer than the surer one. */
function weighed(one: number, oneVar: number, other: number, otherVar: number): { value: number; sd: number } {
  const share = oneVar / (oneVar + otherVar);
  return { value: one + share * (other - one), sd: Math.sqrt(Math.min(oneVar, otherVar)) };
}
