/** Where moments and temperatures lie in the picture of a run. Pure geometry, in the picture's own units. */
import type { Phase } from '../core/record/profile.ts';
import { phaseOf, type ToldRun } from './told-run.ts';

export interface Frame {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export interface CurveScale extends Frame {
  readonly startMs: number;
  readonly endMs: number;
  readonly lowC: number;
  readonly highC: number;
  readonly x: (atMs: number) => number;
  readonly y: (valueC: number) => number;
}

/** Room below and above all that is drawn, °C (above, a name has to fit between a ceiling and the rail), and the least height of the picture, °C (ours: less would show noise as mountains). */
const ROOM_C = { below: 1, above: 2 };
const LEAST_C = 6;
/** A run of no length is drawn as one of a minute, ms. */
const LEAST_MS = 60_000;

export function curveScale(told: ToldRun, frame: Frame): CurveScale {
  const { beganAtMs: startMs, endMs } = told;
  const untilMs = Math.max(endMs, startMs + LEAST_MS);
  const [lowC, highC] = rangeC(told);
  const { left, right, top, bottom } = frame;
  return {
    ...frame,
    startMs,
    endMs: untilMs,
    lowC,
    highC,
    x: (atMs) => left + ((Math.min(untilMs, Math.max(startMs, atMs)) - startMs) / (untilMs - startMs)) * (right - left),
    y: (valueC) => bottom - ((Math.min(highC, Math.max(lowC, valueC)) - lowC) / (highC - lowC)) * (bottom - top),
  };
}

/** Everything read and estimated, and the bounds of the phases it went through. */
function rangeC(told: ToldRun): [number, number] {
  const read = told.tiles.flatMap(([, lowC, highC, estimateC]) => [lowC, highC, estimateC]);
  const bounds = told.view.visits.flatMap(({ phase }) => boundsOf(phaseOf(told, phase)));
  const all = [...read, ...bounds].filter((valueC) => valueC !== null);
  const lowest = all.reduce((a, b) => Math.min(a, b), Infinity);
  const highest = all.reduce((a, b) => Math.max(a, b), -Infinity);
  if (all.length === 0) return [20, 50];
  const missing = Math.max(0, LEAST_C - (highest - lowest)) / 2;
  return [Math.floor(lowest - missing - ROOM_C.below), Math.ceil(highest + missing + ROOM_C.above)];
}

function boundsOf(phase: Phase | undefined): number[] {
  if (phase === undefined) return [];
  const { bandC, ceilingC, floorC, lostAboveC } = phase;
  return [...bandC, ceilingC, floorC, lostAboveC].filter((valueC) => valueC !== undefined);
}

/** Steps that read well, smallest first: °C, and minutes. */
const DEGREE_STEPS = [1, 2, 5, 10, 20, 50];
const MINUTE_STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 240, 720, 1440];

/** Round values from low to high with at most `most` of them. */
export function ticks(low: number, high: number, most: number, steps: readonly number[] = DEGREE_STEPS): number[] {
  const step = steps.find((each) => (high - low) / each <= most) ?? steps.at(-1)!;
  const first = Math.ceil(low / step) * step;
  return Array.from({ length: Math.max(0, Math.floor((high - first) / step) + 1) }, (_, at) => first + at * step);
}

/** Moments of the axis, ms from the start. */
export function timeTicks({ startMs, endMs }: CurveScale, most: number): number[] {
  return ticks(0, (endMs - startMs) / 60_000, most, MINUTE_STEPS).map((minutes) => minutes * 60_000);
}
