/**
 * What comes of a check: the correction, and how far off a corrected reading may still be. Uncertainty as in JCGM 100 (GUM): standard
 * uncertainties of independent causes add as squares, and twice their sum (k = 2) holds in about 95 of 100 cases.
 *
 * Kept apart: the bias, which is the same all evening and no patience averages out, and the noise of a single reading.
 */
import type { CheckPoint } from '../record/check.ts';
import type { Correction } from '../record/run.ts';

/** Where it matters: the middle of where all kinds of chocolate are worked and compared, °C (ours). */
export const WORK_C = 32;
/** Two points have to lie so far apart that their line says something of the scale, °C (ours). */
export const APART_LEAST_C = 20;
/** The scale of a probe checked at one point may be off by so much a degree away from it (the slope of IEC 60751, class B). */
const SCALE_PER_C = 0.005;
/** A minute's readings are worth so many independent ones: a swing of stirring lasts a quarter of it (ours). */
const INDEPENDENT = 4;
/** A probe further off at the work is broken, or not in what it is thought to be in, °C (ours: K of class 2 is within 2.5). */
export const OFF_MOST_C = 5;

/** Coverage factor (JCGM 100, 6.2.2). */
export const COVERAGE = 2;
/** Standard uncertainty of an even distribution is its half width divided by this (JCGM 100, 4.3.7). */
const EVEN = Math.sqrt(3);

/** A correction is written to so many places: far below what any thermometer tells. */
const OFFSET_PLACES = 1e3;
const GAIN_PLACES = 1e5;

/** The points a correction goes through: one, or two far enough apart; nearest to the work first. */
export function usedPoints(points: readonly CheckPoint[]): readonly CheckPoint[] {
  const byNearness = points.toSorted((a, b) => Math.abs(a.trueC - WORK_C) - Math.abs(b.trueC - WORK_C));
  const [first, ...others] = byNearness;
  if (first === undefined) return [];
  const second = others.find(({ trueC }) => Math.abs(trueC - first.trueC) >= APART_LEAST_C);
  return second === undefined ? [first] : [first, second];
}

/** null: of no point, or of points at which the probe was so far off that it can't be believed. */
export function correctionOf(points: readonly CheckPoint[]): Correction | null {
  const [first, second] = usedPoints(points);
  if (first === undefined) return null;
  const gain = second === undefined ? 1 : (second.trueC - first.trueC) / (second.readC - first.readC);
  const rounded = Math.round(gain * GAIN_PLACES) / GAIN_PLACES;
  const offsetC = Math.round((first.trueC - rounded * first.readC) * OFFSET_PLACES) / OFFSET_PLACES;
  const isOff = points.some(({ trueC, readC }) => Math.abs(trueC - readC) > OFF_MOST_C);
  return isOff || !Number.isFinite(offsetC) ? null : { offsetC, gain: rounded };
}

/** Expanded uncertainties (k = 2), °C. */
export interface Uncertainty {
  /** The same for all readings of an evening. */
  readonly biasC: number;
  /** Of one reading by itself. */
  readonly noiseC: number;
  /** Of one reading, both together. */
  readonly withinC: number;
}

/** Of a corrected reading at `tempC`; null: nothing was checked. */
export function uncertaintyAt(points: readonly CheckPoint[], tempC: number): Uncertainty | null {
  const [first, second] = usedPoints(points);
  if (first === undefined) return null;
  const bias = second === undefined ? biasOfOne(first, tempC) : biasOfTwo(first, second, tempC);
  const noise = root(first.spreadC, stepPart(first));
  return { biasC: COVERAGE * bias, noiseC: COVERAGE * noise, withinC: COVERAGE * root(bias, noise) };
}

function biasOfOne(point: CheckPoint, tempC: number): number {
  return root(pointPart(point), (SCALE_PER_C * Math.abs(tempC - point.trueC)) / EVEN);
}

/** On the line through two points each counts by its lever. */
function biasOfTwo(first: CheckPoint, second: CheckPoint, tempC: number): number {
  const lever = (tempC - first.trueC) / (second.trueC - first.trueC);
  return root((1 - lever) * pointPart(first), lever * pointPart(second));
}

/** Standard uncertainty of a point: of its standard, of the mean that was read, of the step it was read in. */
function pointPart(point: CheckPoint): number {
  return root(point.withinC / EVEN, point.spreadC / Math.sqrt(INDEPENDENT), stepPart(point));
}

/** A reading stands for anything within half a step of it. */
function stepPart({ stepC }: CheckPoint): number {
  return stepC / 2 / EVEN;
}

function root(...parts: readonly number[]): number {
  return Math.hypot(...parts);
}
