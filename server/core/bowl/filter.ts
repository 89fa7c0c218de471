/**
 * The estimate of the chocolate itself from a lagging, noisy probe: a Kalman filter over four states.
 * Knows nothing of phases, bands or alarms, and nothing of which readings deserve belief (see belief.ts).
 *
 *   x = [ T  chocolate, °C · r  its rate, °C/s · n  local stirring swing at the tip, °C · P  what the probe shows, °C ]
 *
 *   T' = r                    the bulk
 *   r' = −r/COURSE_S + w      a bowl left alone approaches its surroundings; w is white: someone moved it
 *   n' = −n/STIR_S + v        hot and cold chocolate pass the tip, correlated over seconds; its size is learned from the run
 *   P' = (T + n − P)/lag      first-order probe (domain: 63.2 % of a step after one lag)
 *   z  = P + e                e: quantisation and electronics
 */

/** Slowest and fastest a stirred bowl approaches its surroundings is 4–36 min; the middle, on a log scale. Seconds; ours. */
export const COURSE_S = 720;
/** Correlation time of the stirring swing, seconds; ours, middle of the 2–9 s seen in stirred bowls. */
const STIR_S = 4;
/** Spectral density of the unforced change of rate, (°C/s)²/s; ours: 1 °C/min of change within half a minute is ordinary. */
const RATE_DRIFT = 6e-6;
/** The same while readings keep falling on one side of the prediction: somebody changed the heat. Ours. */
const RATE_DRIFT_CHANGING = 1.2e-4;
/** White error of a reading, °C: half-degree displays are rejected elsewhere; 0.1 °C steps have 0.03 °C r.m.s. Ours. */
const READING_ERROR_C = 0.035;
/** Size of the stirring swing before anything is learned, and the range it may take, °C r.m.s. Ours. */
const STIR_START_C = 0.1;
const STIR_MIN_C = 0.03;
const STIR_MAX_C = 0.4;
/** How fast the swing's size follows what is seen, seconds. Ours. */
const STIR_LEARN_S = 40;
/** Memory of the one-sidedness of innovations, seconds. Ours. */
const SIDE_S = 5;
/** One-sidedness (in standard deviations of its own) at which the heat is taken to have changed. Ours. */
const SIDE_LIMIT = 0.8;
/** Longest step of the model, seconds: longer gaps are taken in several. Ours. */
const MAX_STEP_S = 1;
/** Probe lag where none was given, seconds: a thin probe in melted chocolate is 4–6 s (domain §5.6). Ours. */
export const DEFAULT_LAG_S = 4;
/** Below this a lag changes nothing that could be seen, seconds. Ours. */
const MIN_LAG_S = 0.2;

/** Upper triangle of the 4×4 covariance, row by row: TT Tr Tn TP rr rn rP nn nP PP. */
type Upper = [number, number, number, number, number, number, number, number, number, number];

/** Plain data, never changed in place. */
export interface Filter {
  readonly atMs: number;
  readonly lagS: number;
  readonly tempC: number;
  readonly rateCPerS: number;
  readonly stirC: number;
  readonly probeC: number;
  readonly cov: Readonly<Upper>;
  /** Learned size of the stirring swing, °C r.m.s. */
  readonly swingC: number;
  /** Running mean of the normalised innovations: away from 0 when readings stay on one side. */
  readonly side: number;
}

/** A filter that has seen one reading: the chocolate is where the probe is, its rate unknown. `swingC` carries over what was learned. */
export function startFilter(atMs: number, valueC: number, lagS: number | null, swingC = STIR_START_C): Filter {
  const lag = Math.max(MIN_LAG_S, lagS ?? DEFAULT_LAG_S);
  const rateVar = 0.03 * 0.03;
  const tempVar = 0.15 * 0.15 + rateVar * lag * lag;
  const stirVar = swingC * swingC;
  return {
    atMs,
    lagS: lag,
    tempC: valueC,
    rateCPerS: 0,
    stirC: 0,
    probeC: valueC,
    cov: [tempVar, rateVar * lag, 0, 0, rateVar, 0, 0, stirVar, 0, READING_ERROR_C * READING_ERROR_C],
    swingC,
    side: 0,
  };
}

/** The filter carried to `atMs` with nothing read; `atMs` in its past returns it as it is. */
export function predict(filter: Filter, atMs: number): Filter {
  let dtS = (atMs - filter.atMs) / 1000;
  if (dtS <= 0) return filter;
  let { tempC, rateCPerS, stirC, probeC } = filter;
  const cov = filter.cov.slice() as Upper;
  const drift = Math.abs(filter.side) > SIDE_LIMIT ? RATE_DRIFT_CHANGING : RATE_DRIFT;
  const steps = Math.ceil(dtS / MAX_STEP_S);
  dtS /= steps;
  for (let i = 0; i < steps; i++) {
    const follow = Math.exp(-dtS / filter.lagS);
    const ramp = dtS - filter.lagS * (1 - follow);
    const calm = Math.exp(-dtS / STIR_S);
    const ease = Math.exp(-dtS / COURSE_S);
    probeC = follow * probeC + (1 - follow) * (tempC + stirC) + ramp * rateCPerS;
    tempC += dtS * rateCPerS;
    rateCPerS *= ease;
    stirC *= calm;
    carryCovariance(cov, dtS, follow, ramp, calm, ease, drift, filter.swingC);
  }
  return { ...filter, atMs, tempC, rateCPerS, stirC, probeC, cov };
}

/**
 * cov ← F cov Fᵀ + Q in place, for F = [1 dt 0 0 · 0 ease 0 0 · 0 0 calm 0 · (1−follow) ramp (1−follow) follow].
 * Written out because it runs for every reading and F is mostly zeros.
 */
function carryCovariance(
  cov: Upper,
  dtS: number,
  follow: number,
  ramp: number,
  calm: number,
  ease: number,
  drift: number,
  swingC: number,
): void {
  const [tt, tr, tn, tp, rr, rn, rp, nn, np, pp] = cov;
  const lead = 1 - follow;
  // Rows of F·cov.
  const aT = tt + dtS * tr;
  const aR = tr + dtS * rr;
  const aN = tn + dtS * rn;
  const aP = tp + dtS * rp;
  const dT = lead * (tt + tn) + ramp * tr + follow * tp;
  const dR = lead * (tr + rn) + ramp * rr + follow * rp;
  const dN = lead * (tn + nn) + ramp * rn + follow * np;
  const dP = lead * (tp + np) + ramp * rp + follow * pp;
  cov[0] = aT + dtS * aR + (drift * dtS ** 3) / 3;
  cov[1] = ease * aR + (drift * dtS ** 2) / 2;
  cov[2] = calm * aN;
  cov[3] = lead * (aT + aN) + ramp * aR + follow * aP;
  cov[4] = ease * ease * rr + drift * dtS;
  cov[5] = ease * calm * rn;
  cov[6] = ease * dR;
  cov[7] = calm * calm * nn + swingC * swingC * (1 - calm * calm);
  cov[8] = calm * dN;
  cov[9] = lead * (dT + dN) + ramp * dR + follow * dP + 1e-6;
}

/** What the probe should show at the filter's moment and how far a good reading may lie from it (one standard deviation), °C. */
export function expected(filter: Filter): { probeC: number; sdC: number } {
  return { probeC: filter.probeC, sdC: Math.sqrt(filter.cov[9] + READING_ERROR_C * READING_ERROR_C) };
}

/** Standard deviation of the estimate of the chocolate, °C. */
export function tempSdC(filter: Filter): number {
  return Math.sqrt(filter.cov[0]);
}

/** Standard deviation of the rate, °C/s. */
export function rateSdCPerS(filter: Filter): number {
  return Math.sqrt(filter.cov[4]);
}

/**
 * The filter after a reading that deserves belief. `filter` must already be predicted to the reading's moment;
 * `dtS` is the time since the reading before, seconds.
 */
export function correct(filter: Filter, valueC: number, dtS: number): Filter {
  const cov = filter.cov.slice() as Upper;
  const [, , , tp, , , rp, , np, pp] = cov;
  const variance = pp + READING_ERROR_C * READING_ERROR_C;
  const miss = valueC - filter.probeC;
  const [gT, gR, gN, gP] = [tp / variance, rp / variance, np / variance, pp / variance];
  cov[0] -= gT * tp;
  cov[1] -= gT * rp;
  cov[2] -= gT * np;
  cov[3] -= gT * pp;
  cov[4] -= gR * rp;
  cov[5] -= gR * np;
  cov[6] -= gR * pp;
  cov[7] -= gN * np;
  cov[8] -= gN * pp;
  cov[9] -= gP * pp;
  return {
    ...filter,
    tempC: filter.tempC + gT * miss,
    rateCPerS: filter.rateCPerS + gR * miss,
    stirC: filter.stirC + gN * miss,
    probeC: filter.probeC + gP * miss,
    cov,
    ...learned(filter, miss / Math.sqrt(variance), dtS),
  };
}

/**
 * What the run itself teaches: readings that stay on one side of the prediction say that the heat has changed,
 * readings that jump about it say how big the stirring swing is.
 */
function learned(filter: Filter, miss: number, dtS: number): { swingC: number; side: number } {
  const surprise = Math.max(-3, Math.min(3, miss));
  const side = filter.side + Math.min(1, dtS / SIDE_S) * (surprise - filter.side);
  const pace = Math.abs(side) > SIDE_LIMIT ? 0 : Math.min(0.2, dtS / STIR_LEARN_S);
  const swingC = filter.swingC * Math.exp((pace * (surprise * surprise - 1)) / 2);
  return { side, swingC: Math.max(STIR_MIN_C, Math.min(STIR_MAX_C, swingC)) };
}

/** The filter told that the probe now shows `valueC` whatever it was doing before: the chocolate's own estimate is kept. */
export function reseatProbe(filter: Filter, valueC: number): Filter {
  const cov = filter.cov.slice() as Upper;
  cov[3] = cov[6] = cov[8] = 0;
  cov[9] = READING_ERROR_C * READING_ERROR_C;
  return { ...filter, probeC: valueC, cov, side: 0 };
}
