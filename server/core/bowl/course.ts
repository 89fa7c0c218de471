/**
 * The approach the bowl is on, learned from its own bending: with nothing changed r = (surroundings − T)/τ, so the slope of the
 * rate over the temperature is −1/τ. A weighted least-squares line with a fading memory and a prior. Knows nothing of filters.
 */
import { possibleCourseS, usualCourseS } from './surroundings.ts';

/** How long the line remembers, seconds; and how short while somebody is changing the heat. Ours. */
const MEMORY_S = 240;
const CHANGING_S = 8;
/** Weight of the prior, the usual course, °C²·s: the variance of an estimated rate over twenty seconds against that of 1/τ. Ours. */
const PRIOR = 45;

/** Weighted sums over time of 1, x, x², r and x·r, with x counted from `fromC`. Plain data, changed in place by its owner. */
export interface Course {
  fromC: number;
  weight: number;
  x: number;
  xx: number;
  r: number;
  xr: number;
}

export function startCourse(tempC: number): Course {
  return { fromC: tempC, weight: 0, x: 0, xx: 0, r: 0, xr: 0 };
}

export function copyCourse(c: Readonly<Course>): Course {
  return { fromC: c.fromC, weight: c.weight, x: c.x, xx: c.xx, r: c.r, xr: c.xr };
}

/** Takes an estimate that held for `dtS`. `changing`: the heat seems to be changing, so what was learned counts for little. */
export function followCourse(c: Course, tempC: number, rateCPerS: number, dtS: number, changing: boolean): void {
  const fade = Math.exp(-dtS / (changing ? CHANGING_S : MEMORY_S));
  const x = tempC - c.fromC;
  c.weight = fade * c.weight + dtS;
  c.x = fade * c.x + dtS * x;
  c.xx = fade * c.xx + dtS * x * x;
  c.r = fade * c.r + dtS * rateCPerS;
  c.xr = fade * c.xr + dtS * x * rateCPerS;
}

/** Time constant of the approach at this temperature and rate, seconds. */
export function courseS(c: Readonly<Course>, tempC: number, rateCPerS: number): number {
  const usualS = usualCourseS(tempC, rateCPerS);
  if (c.weight === 0) return usualS;
  const spread = c.xx - (c.x * c.x) / c.weight;
  const bend = c.xr - (c.x * c.r) / c.weight;
  const slope = (bend - PRIOR / usualS) / (spread + PRIOR);
  return possibleCourseS(slope < 0 ? -1 / slope : Infinity, tempC, rateCPerS);
}
