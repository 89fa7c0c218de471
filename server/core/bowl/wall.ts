/**
 * The wall of the bowl: what it still gives (or takes) once the bowl has left its bath, learned from every leaving that is seen.
 * Chocolate, wall and surroundings as three lumps:
 *
 *   C·T' = G·(W − T) − room     chocolate          G: wall to chocolate, as it is being stirred
 *   w·W' = G·(T − W) + bath     wall; off the bath there is nothing but the room
 *
 *   While the chocolate goes at r the wall is ahead of it by (r + λ)·C/G. Left alone the two even out with the time constant of the
 *   wall  τ = (C·w)/(C + w)/G, and the room goes on taking λ = (T − room)/τair:
 *
 *     T(t) = T₀ + (r + λ)·τ·(1 − e^(−t/τ)) − λ·t
 *
 *   State: ln τ, normal, mean and variance. A leaving adds the variance of another way of stirring; what it showed, the likelihood of τ over
 *   every moment at which it may have been left, narrows it. Noise: that of stirring, white over means of 10 s.
 *
 * Knows nothing of phases or people; who left what is seen by the readings alone.
 */
import { ROOM_C, USUAL_COURSE_S } from './surroundings.ts';

/** The wall's time constant before anything is seen, seconds: steel of 1 mm scraped 25, thick glass hardly stirred 300 (domain §6.2). Ours. */
const USUAL_S = 65;
const USUAL_LN_VAR = 0.65 ** 2;
/** How much it differs from one leaving to the next, and from run to run, ln seconds, squared: stirred otherwise. Ours. */
const LEAVING_LN_VAR = 0.12 ** 2;
const EARLIER_LN_VAR = 0.25 ** 2;
/** It is never known better than this, ln seconds, squared. Ours. */
const LEAST_LN_VAR = 0.2 ** 2;
/** Tried on this grid, seconds: evenly on a log scale. */
const GRID_S = [14, 19, 26, 35, 47, 64, 86, 116, 157, 212, 286] as const;
const GRID_STEP = Math.log(GRID_S[1] / GRID_S[0]);
/** A bowl in air, seconds: 38–96 min (domain §6.2). */
const AIR_COURSE_S = 3300;
/** What the room takes may be off by this share of itself, and by this much, °C/s. Ours. */
const LOSS_DOUBT = 0.5;
const LEAST_LOSS_DOUBT = 0.0006;

/** Values are taken together for at least so long, seconds (five of two, or two of five), and so many of those are kept: eight minutes. Ours. */
const TOGETHER_S = 9;
const KEPT = 48;
/** A longer pause may hide anything, milliseconds. Ours. */
const LONGEST_PAUSE_MS = 30_000;
/** Slopes are taken over so many means. Ours. */
const SLOPE = 6;
/** Left: it went at least this fast, °C/s, and steadily: the slope before at this share of that at least, and at most. Ours. */
const FAST_C_PER_S = 0.4 / 60;
const STEADY = [0.6, 1.9] as const;
/** It has slowed to this share at first, to that share in the end, and does not go the other way faster than this, °C/s. Ours. */
const SLOWING = 0.7;
const SLOWED = 0.4;
const TURNED_C_PER_S = 0.45 / 60;
/** So many means it must have been going on before the moment of leaving, and have been left after. Ours. */
const BEFORE = 2 * SLOPE;
const AFTER = 8;
/** It is looked at again after so long, milliseconds, the first time too: a bowl on its way from cold to hot stands still for moments. Ours. */
const AGAIN_MS = 24_000;
/** The last means only bear witness: where they leave the course, degrees beyond their noise, somebody has done the next thing. Ours. */
const WITNESSES = 4;
const WITNESS_C = 0.08;
/** Means are never taken to be surer than this, °C; a fit this many times worse than noise is no leaving. Ours. */
const LEAST_SD_C = 0.015;
const MISFIT = 4;
/** So much better it must explain the readings than the bowl's going on does, in squares of their noise. Ours. */
const EVIDENT = 16;

/** ln seconds. */
interface Pace {
  readonly ln: number;
  readonly lnVar: number;
}

/** Plain data, replaced at each mean. */
export interface Wall extends Pace {
  /** Learned in this run. */
  readonly here: boolean;
  /** What was known before the leaving that is being looked at; null: none is. */
  readonly before: Pace | null;
  readonly lookedAtMs: number;
  /** Values not taken in yet: since when, how many, and their sum. null: no value at all. */
  readonly sinceMs: number | null;
  readonly waiting: number;
  readonly waitingC: number;
  /** The means of the last minutes with their moments, oldest first. */
  readonly atMs: readonly number[];
  readonly valuesC: readonly number[];
}

const NOTHING_SEEN = {
  here: false,
  before: null,
  lookedAtMs: 0,
  sinceMs: null,
  waiting: 0,
  waitingC: 0,
  atMs: [],
  valuesC: [],
};

/** `earlierS`: what earlier runs with the bowl taught, seconds. */
export function unseenWall(earlierS: number | null): Wall {
  const pace =
    earlierS === null
      ? { ln: Math.log(USUAL_S), lnVar: USUAL_LN_VAR }
      : { ln: Math.log(earlierS), lnVar: EARLIER_LN_VAR };
  return { ...NOTHING_SEEN, ...pace };
}

/** What the room takes from a bowl at this temperature, °C/s; negative: it gives. */
export function lossCPerS(tempC: number): number {
  return (tempC - ROOM_C) / AIR_COURSE_S;
}

/** How far a bowl that goes at `rateCPerS` has gone so many seconds after leaving heat or cold, °C. */
export function coastedC(tempC: number, rateCPerS: number, wallS: number, inS: number): number {
  const loss = lossCPerS(tempC);
  return (rateCPerS + loss) * wallS * (1 - Math.exp(-inS / wallS)) - loss * inS;
}

/** Nothing of the last minutes counts: another course was begun, or crystals melt. */
export function forgetMinutes(wall: Wall): Wall {
  if (wall.sinceMs === null) return wall;
  const { ln, lnVar, here } = wall;
  return { ...NOTHING_SEEN, ln, lnVar, here };
}

/** Takes a value, °C, read about `atMs`. `density`: of the stirring noise, °C²·s. `courseS`: the bowl's time constant in a bath, null: not known. */
export function followWall(wall: Wall, atMs: number, valueC: number, density: number, courseS: number | null): Wall {
  const sinceMs = wall.sinceMs ?? atMs;
  if (atMs - sinceMs > LONGEST_PAUSE_MS) return followWall(forgetMinutes(wall), atMs, valueC, density, courseS);
  const waiting = wall.waiting + 1;
  const waitingC = wall.waitingC + valueC;
  if (atMs - sinceMs < 1000 * TOGETHER_S) return { ...wall, sinceMs, waiting, waitingC };
  const next = {
    ...wall,
    sinceMs: atMs,
    waiting: 0,
    waitingC: 0,
    atMs: [...wall.atMs.slice(1 - KEPT), (sinceMs + atMs) / 2],
    valuesC: [...wall.valuesC.slice(1 - KEPT), waitingC / waiting],
  };
  return lookBack(next, atMs, density, courseS ?? USUAL_COURSE_S);
}

/** Goes on looking at a leaving, begins to, or is done with it. */
function lookBack(wall: Wall, atMs: number, density: number, courseS: number): Wall {
  const left = leftAt(wall);
  if (left === null) return wall.before === null ? wall : forgetMinutes(wall);
  if (wall.before === null) {
    return { ...wall, before: { ln: wall.ln, lnVar: wall.lnVar + LEAVING_LN_VAR }, lookedAtMs: atMs };
  }
  if (atMs - wall.lookedAtMs < AGAIN_MS) return wall;
  const pace = paceOf(wall, left, wall.before, density, courseS);
  if (pace === null) return forgetMinutes(wall);
  return { ...wall, ln: pace.ln, lnVar: pace.lnVar, here: wall.here || pace !== wall, lookedAtMs: atMs };
}

/** The mean after which a bowl that went steadily slowed down most, and has slowed down since; null: none. */
function leftAt({ atMs, valuesC }: Wall): number | null {
  const count = valuesC.length;
  if (count < BEFORE + AFTER) return null;
  const last = slope(atMs, valuesC, count - AFTER, count);
  let left: number | null = null;
  let most = 0;
  for (let i = BEFORE; i <= count - AFTER; i++) {
    const before = slope(atMs, valuesC, i - SLOPE, i);
    const way = Math.sign(before);
    const fast = Math.abs(before);
    if (fast < FAST_C_PER_S || way * last > SLOWED * fast || way * last < -TURNED_C_PER_S) continue;
    const slowing = fast - way * slope(atMs, valuesC, i, i + SLOPE);
    const steady = (way * slope(atMs, valuesC, i - BEFORE, i - SLOPE)) / fast;
    if (slowing <= most || slowing < (1 - SLOWING) * fast || steady < STEADY[0] || steady > STEADY[1]) continue;
    most = slowing;
    left = i;
  }
  return left;
}

/** Least squares, °C/s. */
function slope(atMs: readonly number[], valuesC: readonly number[], from: number, to: number): number {
  const count = to - from;
  let t = 0;
  let y = 0;
  for (let i = from; i < to; i++) {
    t += (atMs[i]! - atMs[from]!) / 1000 / count;
    y += valuesC[i]! / count;
  }
  let tt = 0;
  let ty = 0;
  for (let i = from; i < to; i++) {
    const off = (atMs[i]! - atMs[from]!) / 1000 - t;
    tt += off * off;
    ty += off * (valuesC[i]! - y);
  }
  return ty / tt;
}

/** What is known of the wall with all that this leaving has shown so far; null where it is none, or something else has been done since. */
function paceOf(wall: Wall, left: number, before: Pace, density: number, courseS: number): Pace | null {
  const from = Math.max(0, left - BEFORE);
  const to = wall.valuesC.length - WITNESSES;
  const fits: Fit[] = [];
  for (let at = Math.max(from + 4, left - 3); at <= Math.min(to - 2, left + SLOPE); at++) {
    for (const wallS of GRID_S) fits.push(fit(wall, from, to, at, wallS, courseS, density));
  }
  const best = fits.reduce((one, other) => (other.misfit < one.misfit ? other : one));
  const worse = best.misfit / (to - from - 3);
  if (worse > MISFIT || Math.abs(best.witnessC) > WITNESS_C + 2 * Math.sqrt(density / TOGETHER_S / WITNESSES))
    return null;
  const goingOn = fit(wall, from, to, to, USUAL_S, courseS, density);
  if (goingOn.misfit - best.misfit < EVIDENT * Math.max(1, worse)) return wall;
  let sum = 0;
  let ln = 0;
  let lnSquare = 0;
  for (const one of fits) {
    const off = one.ln - before.ln;
    const unlikely = (one.misfit - best.misfit) / Math.max(1, worse) + one.lnDet + (off * off) / before.lnVar;
    const weight = Math.exp(-0.5 * unlikely);
    sum += weight;
    ln += weight * one.ln;
    lnSquare += weight * one.ln * one.ln;
  }
  ln /= sum;
  const lnVar = lnSquare / sum - ln * ln + (GRID_STEP * GRID_STEP) / 12;
  return { ln, lnVar: Math.max(LEAST_LN_VAR, lnVar) };
}

interface Fit {
  readonly ln: number;
  readonly misfit: number;
  readonly lnDet: number;
  /** How far the last means lie from it, °C. */
  readonly witnessC: number;
}

/**
 * Least squares of where it was, how fast it went, and what the room takes, for one moment of leaving and one wall. Before, an approach with
 * the bowl's own time constant; after, the course stated above.
 */
function fit(
  { atMs, valuesC }: Wall,
  from: number,
  to: number,
  left: number,
  wallS: number,
  courseS: number,
  density: number,
): Fit {
  const fromMs = (atMs[left - 1]! + atMs[left]!) / 2;
  const fromC = valuesC[left]!;
  const sure = 1 / Math.max(LEAST_SD_C ** 2, density / TOGETHER_S);
  const loss = lossCPerS(fromC);
  const lossSure = 1 / Math.max(LEAST_LOSS_DOUBT, LOSS_DOUBT * Math.abs(loss)) ** 2;
  let ab = 0;
  let ac = 0;
  let bb = 0;
  let bc = 0;
  let cc = lossSure;
  let ra = 0;
  let rb = 0;
  let rc = lossSure * loss;
  let yy = lossSure * loss * loss;
  const aa = sure * (to - from);
  for (let i = from; i < to; i++) {
    const u = (atMs[i]! - fromMs) / 1000;
    const easeS = i < left ? courseS : wallS;
    const b = easeS * (1 - Math.exp(-u / easeS));
    const c = i < left ? 0 : b - u;
    const y = valuesC[i]! - fromC;
    ab += sure * b;
    ac += sure * c;
    bb += sure * b * b;
    bc += sure * b * c;
    cc += sure * c * c;
    ra += sure * y;
    rb += sure * b * y;
    rc += sure * c * y;
    yy += sure * y * y;
  }
  // Cholesky, three by three.
  const la = Math.sqrt(aa);
  const lab = ab / la;
  const lac = ac / la;
  const lb = Math.sqrt(bb - lab * lab);
  const lbc = (bc - lab * lac) / lb;
  const lc = Math.sqrt(cc - lac * lac - lbc * lbc);
  const za = ra / la;
  const zb = (rb - lab * za) / lb;
  const zc = (rc - lac * za - lbc * zb) / lc;
  const c = zc / lc;
  const b = (zb - lbc * c) / lb;
  const a = (za - lab * b - lac * c) / la;
  let witnessC = 0;
  for (let i = to; i < valuesC.length; i++) {
    const u = (atMs[i]! - fromMs) / 1000;
    const gone = wallS * (1 - Math.exp(-u / wallS));
    witnessC += (valuesC[i]! - fromC - a - b * gone - c * (gone - u)) / (valuesC.length - to);
  }
  const misfit = yy - za * za - zb * zb - zc * zc;
  return { ln: Math.log(wallS), misfit, lnDet: 2 * Math.log(la * lb * lc), witnessC };
}
