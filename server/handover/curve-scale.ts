/** Where moments and temperatures lie in the picture of a run. Pure geometry, in the picture's own units. */
import type { Phase } from '../core/record/profile.ts';
import type { PhaseVisit } from '../core/show/view.ts';
import { phaseOf, type ToldRun } from './told-run.ts';

export interface Frame {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export interface CurveScale extends Frame {
  /** What is drawn of the run, in its order. */
  readonly visits: readonly PhaseVisit[];
  readonly startMs: number;
  readonly endMs: number;
  readonly lowC: number;
  readonly highC: number;
  readonly x: (atMs: number) => number;
  readonly y: (valueC: number) => number;
}

/** How near the degrees are looked at, °C. */
interface Nearness {
  /** Below and above all that is drawn. */
  readonly room: number;
  /** Above it, too, so much of the height, in the picture's units. */
  readonly named: number;
  /** At least so much is shown (ours: less would show noise as mountains). */
  readonly least: number;
  /** It ends at multiples of this. */
  readonly step: number;
}

/** Over the whole run a name has to fit between a ceiling and the rail; beside one phase all names stand at its end. */
const WHOLE: Nearness = { room: 1, named: 22, least: 6, step: 1 };
const NEAR: Nearness = { room: 0.2, named: 0, least: 3, step: 0.5 };
/** A run of no length is drawn as one of a minute, ms. */
const LEAST_MS = 60_000;

/** Of the whole run, or of this one visit to a phase, and then as large as that allows. */
export function curveScale(told: ToldRun, frame: Frame, only?: PhaseVisit): CurveScale {
  const startMs = only?.enteredAtMs ?? told.beganAtMs;
  const untilMs = Math.max(only?.leftAtMs ?? told.endMs, startMs + LEAST_MS);
  const visits = only === undefined ? told.view.visits : [only];
  const read = told.tiles.filter(([atMs]) => only === undefined || (atMs >= startMs && atMs <= untilMs));
  const bounds = visits.flatMap(({ phase }) => boundsOf(phaseOf(told, phase)));
  const values = [...read.flatMap(([, lowC, highC, estimateC]) => [lowC, highC, estimateC]), ...bounds];
  const [lowC, highC] = rangeC(
    values.filter((valueC) => valueC !== null),
    frame.bottom - frame.top,
    only === undefined ? WHOLE : NEAR,
  );
  const { left, right, top, bottom } = frame;
  return {
    ...frame,
    visits,
    startMs,
    endMs: untilMs,
    lowC,
    highC,
    x: (atMs) => left + ((Math.min(untilMs, Math.max(startMs, atMs)) - startMs) / (untilMs - startMs)) * (right - left),
    y: (valueC) => bottom - ((Math.min(highC, Math.max(lowC, valueC)) - lowC) / (highC - lowC)) * (bottom - top),
  };
}

/** Everything read and estimated, and the bounds of the phases it went through. */
function rangeC(all: readonly number[], high: number, { room, named, least, step }: Nearness): [number, number] {
  const lowest = all.reduce((a, b) => Math.min(a, b), Infinity);
  const highest = all.reduce((a, b) => Math.max(a, b), -Infinity);
  if (all.length === 0) return [20, 50];
  const missing = Math.max(0, least - (highest - lowest)) / 2;
  const low = Math.floor((lowest - missing - room) / step) * step;
  const over = Math.max(room, ((highest + missing - low) * named) / (high - named));
  return [low, Math.ceil((highest + missing + over) / step) * step];
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
