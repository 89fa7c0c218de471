/**
 * The estimate of the chocolate itself from a lagging, noisy probe: a Kalman filter over four states.
 * Knows nothing of phases, bands or alarms, and nothing of which readings deserve belief (see belief.ts).
 *
 *   x = [ T  chocolate, °C · r  its rate, °C/s · n  local stirring swing, °C · P  what the lag alone would show, °C ]
 *
 *   T' = r                    the bulk
 *   r' = −r/course + w        a bowl left alone approaches its surroundings; w is white: someone moved it
 *   n' = −n/swirl + v         hot and cold chocolate pass the tip, correlated over seconds; size and pace are learned from the run
 *   P' = (T − P)/lag          first-order probe (63.2 % of a step after one lag)
 *   z  = P + n + e            e: quantisation and electronics
 *
 * `course` comes from stretch.ts. A filter is plain data. `carry` and `correct` work in place on one that its owner has copied; nothing else changes one.
 */
import { USUAL_COURSE_S } from './surroundings.ts';

/** Correlation time of the stirring swing before anything is learned, and the range it may take, seconds: 2–9 s are seen in stirred bowls. */
const STIR_START_S = 4;
const STIR_MIN_S = 1.5;
const STIR_MAX_S = 9;
/** Spectral density of the unforced change of rate, (°C/s)²/s. Ours, tuned on simulated kitchens. */
const RATE_DRIFT = 4e-7;
/** and how it grows with the square of the rate, 1/s: a fast approach bends fast. Ours, tuned likewise. */
const RATE_DRIFT_BEND = 1.5e-3;
/** The same while readings keep falling on one side of the prediction: somebody changed the heat. Ours, tuned likewise. */
const RATE_DRIFT_CHANGING = 6e-5;
/**
 * The same while the bowl is about to go otherwise: the last crystals melt, or the swing is so many times the usual one, as the wall has just become
 * hotter or colder. Ours, tuned likewise.
 */
const RATE_DRIFT_RESTLESS = 1e-5;
const LIVELIER = 2;
/** White error of a reading, °C r.m.s.: never better than this. Ours. */
const READING_ERROR_C = 0.02;
/** Size of the stirring swing before anything is learned, and the range it may take, °C r.m.s. Ours. */
const STIR_START_C = 0.1;
const STIR_MIN_C = 0.04;
const STIR_MAX_C = 0.4;
/** How fast the swing's size and pace follow what is seen, seconds: quickly up, for a new bath stirs up more at once; slowly down. Ours. */
const STIR_GROW_S = 15;
const STIR_CALM_S = 50;
/** Readings on one side for longer than this are a course not yet followed, not stirring. Seconds; ours. */
const BIAS_S = 15;
/** The usual swing follows what is seen within this, seconds; readings that lean away by so many of it on the whole are another course. Ours. */
const USUAL_SWING_S = 40;
const LEAN = 2;
/** Memory of the one-sidedness of innovations, seconds, and where it means that the heat has changed. Ours. */
const SIDE_S = 8;
const SIDE_LIMIT = 0.8;
/** Longest step of the model, seconds: longer gaps are taken in several. Ours. */
const MAX_STEP_S = 1;
/** Probe lag where none was given, seconds: a thin probe in melted chocolate is 4–6 s (domain §5.6). Ours. */
const DEFAULT_LAG_S = 4;
/** Below this a lag changes nothing that could be seen, seconds. Ours. */
const MIN_LAG_S = 0.2;
/** How unsure a first reading leaves rate and temperature: 1.8 °C/min and 0.15 °C, one standard deviation. Ours. */
const START_RATE_SD = 0.03;
const START_TEMP_SD = 0.15;

/** Upper triangle of the 4×4 covariance, row by row: TT Tr Tn TP rr rn rP nn nP PP. */
type Upper = [number, number, number, number, number, number, number, number, number, number];

export interface Filter {
  atMs: number;
  lagS: number;
  tempC: number;
  rateCPerS: number;
  stirC: number;
  probeC: number;
  cov: Upper;
  /** Learned size of the stirring swing, °C r.m.s. */
  swingC: number;
  /** The same, learned so slowly that a course not yet followed does not pass for it, °C r.m.s. */
  usualSwingC: number;
  /** Learned correlation time of the swing, seconds. */
  swirlS: number;
  /** Last difference between reading and smooth course, and the running mean square of its change from reading to reading, °C, °C². */
  restC: number;
  /** Running mean of that difference: what the course itself is off by, no stirring, °C. */
  biasC: number;
  jumpC2: number;
  /** White error of a reading, °C r.m.s.; the owner narrows it as it learns the thermometer's steps. */
  errorC: number;
  /** Time constant of the approach the bowl is on, seconds; the owner keeps it. */
  courseS: number;
  /** The last crystals are melting; the owner keeps it. */
  meltsOut: boolean;
  /** Running mean of the normalised innovations: away from 0 when readings stay on one side. */
  side: number;
}

/** A filter that has seen one reading: the chocolate is where the probe is, its rate unknown. `swingC` carries over what was learned. */
export function startFilter(atMs: number, valueC: number, lagS: number | null, swingC = STIR_START_C): Filter {
  const lag = Math.max(MIN_LAG_S, lagS ?? DEFAULT_LAG_S);
  const rateVar = START_RATE_SD ** 2;
  const tempVar = START_TEMP_SD ** 2 + rateVar * lag * lag;
  return {
    atMs,
    lagS: lag,
    tempC: valueC,
    rateCPerS: 0,
    stirC: 0,
    probeC: valueC,
    cov: [tempVar, rateVar * lag, 0, 0, rateVar, 0, 0, swingC * swingC, 0, swingC * swingC + READING_ERROR_C ** 2],
    swingC,
    usualSwingC: swingC,
    swirlS: STIR_START_S,
    restC: 0,
    biasC: 0,
    jumpC2: 0,
    errorC: READING_ERROR_C,
    courseS: USUAL_COURSE_S,
    meltsOut: false,
    side: 0,
  };
}

export function copyFilter(f: Filter): Filter {
  return {
    atMs: f.atMs,
    lagS: f.lagS,
    tempC: f.tempC,
    rateCPerS: f.rateCPerS,
    stirC: f.stirC,
    probeC: f.probeC,
    cov: f.cov.slice() as Upper,
    swingC: f.swingC,
    usualSwingC: f.usualSwingC,
    swirlS: f.swirlS,
    restC: f.restC,
    biasC: f.biasC,
    jumpC2: f.jumpC2,
    errorC: f.errorC,
    courseS: f.courseS,
    meltsOut: f.meltsOut,
    side: f.side,
  };
}

/** A copy carried to `atMs`; one whose moment is later stays as it is. */
export function predicted(filter: Readonly<Filter>, atMs: number): Filter {
  const copy = copyFilter(filter);
  carry(copy, atMs);
  return copy;
}

/** Carries the filter to `atMs` with nothing read. */
export function carry(filter: Filter, atMs: number): void {
  const dtS = (atMs - filter.atMs) / 1000;
  if (dtS <= 0) return;
  filter.atMs = atMs;
  const steps = Math.ceil(dtS / MAX_STEP_S);
  for (let i = 0; i < steps; i++) carryStep(filter, dtS / steps);
}

function carryStep(filter: Filter, dtS: number): void {
  const follow = Math.exp(-dtS / filter.lagS);
  const lead = 1 - follow;
  const ramp = dtS - filter.lagS * lead;
  const calm = Math.exp(-dtS / filter.swirlS);
  const ease = 1 - dtS / filter.courseS;
  filter.probeC = follow * filter.probeC + lead * filter.tempC + ramp * filter.rateCPerS;
  filter.tempC += dtS * filter.rateCPerS;
  filter.rateCPerS *= ease;
  filter.stirC *= calm;
  const steady = RATE_DRIFT + RATE_DRIFT_BEND * filter.rateCPerS * filter.rateCPerS;
  const drift = Math.max(
    steady,
    isChanging(filter) ? RATE_DRIFT_CHANGING : isRestless(filter) ? RATE_DRIFT_RESTLESS : 0,
  );
  // cov ← F cov Fᵀ + Q in place, for F = [1 dt 0 0 · 0 ease 0 0 · 0 0 calm 0 · lead ramp 0 follow]. Written out, and here, because it
  // runs for every reading, F is mostly zeros, and each of these handed over to a function would be an object.
  const { cov, swingC } = filter;
  const tt = cov[0];
  const tr = cov[1];
  const tn = cov[2];
  const tp = cov[3];
  const rr = cov[4];
  const rn = cov[5];
  const rp = cov[6];
  const nn = cov[7];
  const np = cov[8];
  const pp = cov[9];
  // Rows T and P of F·cov.
  const aT = tt + dtS * tr;
  const aR = tr + dtS * rr;
  const aN = tn + dtS * rn;
  const aP = tp + dtS * rp;
  const dT = lead * tt + ramp * tr + follow * tp;
  const dR = lead * tr + ramp * rr + follow * rp;
  const dN = lead * tn + ramp * rn + follow * np;
  const dP = lead * tp + ramp * rp + follow * pp;
  cov[0] = aT + dtS * aR + (drift * dtS * dtS * dtS) / 3;
  cov[1] = ease * aR + (drift * dtS * dtS) / 2;
  cov[2] = calm * aN;
  cov[3] = lead * aT + ramp * aR + follow * aP;
  cov[4] = ease * ease * rr + drift * dtS;
  cov[5] = ease * calm * rn;
  cov[6] = ease * dR;
  cov[7] = calm * calm * nn + swingC * swingC * (1 - calm * calm);
  cov[8] = calm * dN;
  cov[9] = lead * dT + ramp * dR + follow * dP + 1e-7 * dtS;
}

/** A thermometer that moves in steps is off by up to half a step: its r.m.s. is the step over √12. °C. */
export function allowForSteps(filter: Filter, stepC: number): void {
  filter.errorC = Math.max(READING_ERROR_C, stepC / Math.sqrt(12));
}

/** What a good reading should show at the filter's moment, °C. */
export function expectedC(filter: Readonly<Filter>): number {
  return filter.probeC + filter.stirC;
}

/** How far a good reading may lie from it, one standard deviation, °C. */
export function expectedSdC({ cov, errorC }: Readonly<Filter>): number {
  return Math.sqrt(cov[7] + 2 * cov[8] + cov[9] + errorC * errorC);
}

/** Standard deviation of the estimate of the chocolate, °C. */
export function tempSdC(filter: Readonly<Filter>): number {
  return Math.sqrt(filter.cov[0]);
}

/** Standard deviation of the rate, °C/s. */
export function rateSdCPerS(filter: Readonly<Filter>): number {
  return Math.sqrt(filter.cov[4]);
}

/** Takes a reading that deserves belief. The filter must stand at the reading's moment; `dtS`: seconds since the reading before. */
export function correct(filter: Filter, valueC: number, dtS: number): void {
  const { cov } = filter;
  const hT = cov[2] + cov[3];
  const hR = cov[5] + cov[6];
  const hN = cov[7] + cov[8];
  const hP = cov[8] + cov[9];
  const variance = hN + hP + filter.errorC * filter.errorC;
  const miss = valueC - expectedC(filter);
  const restC = valueC - filter.probeC;
  const gT = hT / variance;
  const gR = hR / variance;
  const gN = hN / variance;
  const gP = hP / variance;
  filter.tempC += gT * miss;
  filter.rateCPerS += gR * miss;
  filter.stirC += gN * miss;
  filter.probeC += gP * miss;
  cov[0] -= gT * hT;
  cov[1] -= gT * hR;
  cov[2] -= gT * hN;
  cov[3] -= gT * hP;
  cov[4] -= gR * hR;
  cov[5] -= gR * hN;
  cov[6] -= gR * hP;
  cov[7] -= gN * hN;
  cov[8] -= gN * hP;
  cov[9] -= gP * hP;
  filter.side += Math.min(1, dtS / SIDE_S) * (clip(miss / Math.sqrt(variance), 3) - filter.side);
  if (Math.abs(filter.side) <= SIDE_LIMIT) learnSwing(filter, restC, dtS);
}

/** Somebody is changing the heat: innovations, or what passes for stirring, stay on one side for longer than stirring does. */
function isChanging({ side, biasC, usualSwingC }: Readonly<Filter>): boolean {
  return Math.abs(side) > SIDE_LIMIT || Math.abs(biasC) > LEAN * usualSwingC;
}

/** The swing grows with what the wall is hotter or colder than the chocolate. */
function isRestless({ meltsOut, swingC, usualSwingC }: Readonly<Filter>): boolean {
  return meltsOut || swingC > LIVELIER * usualSwingC;
}

/**
 * What the run itself teaches about the stirring: how far readings lie from the smooth course, and how much of that is new
 * from one reading to the next. For a swing of variance s² and correlation time τ the change has variance 2s²(1 − e^(−dt/τ)).
 */
function learnSwing(filter: Filter, restC: number, dtS: number): void {
  const error2 = filter.errorC * filter.errorC;
  filter.biasC += Math.min(0.3, dtS / BIAS_S) * (restC - filter.biasC);
  const swing2 = filter.swingC * filter.swingC;
  const rest2 = Math.min(9 * (swing2 + error2), (restC - filter.biasC) ** 2);
  const pace = Math.min(0.3, dtS / (rest2 - error2 > swing2 ? STIR_GROW_S : STIR_CALM_S));
  filter.swingC = bounded(Math.sqrt(Math.max(0, swing2 + pace * (rest2 - error2 - swing2))), STIR_MIN_C, STIR_MAX_C);
  const usual2 = filter.usualSwingC * filter.usualSwingC;
  const most2 = 4 * usual2 + error2;
  const next2 = usual2 + Math.min(0.3, dtS / USUAL_SWING_S) * (Math.min(most2, rest2) - error2 - usual2);
  filter.usualSwingC = bounded(Math.sqrt(Math.max(0, next2)), STIR_MIN_C, STIR_MAX_C);
  const jump2 = (restC - filter.restC) ** 2;
  filter.jumpC2 += Math.min(0.3, dtS / STIR_CALM_S) * (Math.min(jump2, 8 * swing2) - filter.jumpC2);
  filter.restC = restC;
  const fresh = (filter.jumpC2 - 2 * error2) / (2 * filter.swingC * filter.swingC);
  const swirlS = fresh >= 0.99 ? STIR_MIN_S : fresh <= 0.01 ? STIR_MAX_S : -dtS / Math.log(1 - fresh);
  filter.swirlS += Math.min(0.1, dtS / STIR_CALM_S) * (bounded(swirlS, STIR_MIN_S, STIR_MAX_S) - filter.swirlS);
}

function clip(value: number, size: number): number {
  return bounded(value, -size, size);
}

function bounded(value: number, low: number, high: number): number {
  return Math.max(low, Math.min(high, value));
}

/**
 * Tells the filter that the probe now shows `valueC` whatever it did before. The chocolate's own estimate is kept, less sure by
 * `unseenC`: what may have been done to the bowl while nobody could see it, °C.
 */
export function reseatProbe(filter: Filter, valueC: number, unseenC: number): void {
  const { cov } = filter;
  cov[0] += unseenC * unseenC;
  cov[3] = cov[6] = cov[8] = 0;
  cov[9] = filter.errorC ** 2 + filter.swingC ** 2;
  filter.probeC = valueC - filter.stirC;
  filter.side = 0;
}

/** Any rate that a change of bath brings is possible from here, one standard deviation, °C/s: 1.2 °C/min. Ours. */
const OTHER_RATE_SD = 0.02;

/** Tells the filter that somebody has just changed what the bowl stands in, or what is in it. */
export function expectOtherRate(filter: Filter): void {
  filter.cov[4] += OTHER_RATE_SD * OTHER_RATE_SD;
}
