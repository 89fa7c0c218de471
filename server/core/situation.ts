/** What a screen may be told of a state at a moment: the estimate, the fan, and how believable the number is. Changes nothing. */
import { outSinceMs } from './bowl/belief.ts';
import type { Estimate, FanBead, Mixing } from './bowl/estimate.ts';
import { predicted } from './bowl/filter.ts';
import type { Filter } from './bowl/filter.ts';
import type { Likely } from './bowl/courses.ts';
import { arrival, fan, isSteady, levelC } from './bowl/forecast.ts';
import type { Arrival } from './bowl/forecast.ts';
import { standsForBowl } from './bowl/mixing.ts';
import { bowlOf, coursesOf } from './bowl/stretch.ts';
import type { Bowl } from './bowl/stretch.ts';
import { nearEdgeC } from './show/course.ts';
import type { Phase } from './record/profile.ts';
import type { Standing } from './record/event.ts';
import type { Quality } from './record/run.ts';
import { hundredth } from './state.ts';
import type { State } from './state.ts';
import { STALE_INTERVALS, STALE_MS } from './watch/bounds.ts';

/** Longer without a good reading and there is no estimate any more, milliseconds. Ours. */
const UNKNOWN_MS = 60_000;

/** null before the first good reading, and after a minute without one. `atMs` may lie after the last input. */
export function estimateAt(state: State, atMs: number): Estimate | null {
  const filter = filterAt(state, atMs);
  const { stretch } = state.belief;
  if (filter === null || stretch === null) return null;
  const phase = phaseOf(state);
  const courses = coursesOf(stretch, filter, phase?.heading === 'up' ? nearEdgeC(phase) : null);
  const agoS = (atMs - stretch.courses.atMs) / 1000;
  const { tempC, rateCPerS } = bowlOf(stretch, filter, null);
  const coming = phase === null ? null : arrivalAt(courses, agoS, tempC, phase);
  // Of an unmixed bowl one spot is known: the rest may be there already, or long after.
  const mixed = standsForBowl(mixingOf(state));
  return {
    kind: 'estimate',
    atMs,
    phase: phase?.id ?? null,
    tempC: hundredth(tempC),
    rateCPerMin: hundredth(rateCPerS * 60),
    etaS: whole(coming?.etaS),
    etaLowS: mixed ? whole(coming?.lowS) : whole(coming && 0),
    etaHighS: mixed ? whole(coming?.highS) : null,
    peakC: hundredth(levelC(courses)),
  };
}

/** Where the present heat carries it; empty where there is no estimate. */
export function fanAt(state: State, atMs: number): FanBead[] {
  const bowl = bowlAt(state, atMs);
  return bowl === null ? [] : fan(bowl, 'unchanged').map(published);
}

/** Where it coasts to if heat or cold is left now; empty where there is no estimate, or the bowl stands still. */
export function fanIfLeftAt(state: State, atMs: number): FanBead[] {
  const bowl = bowlAt(state, atMs);
  return bowl === null || isSteady(bowl) ? [] : fan(bowl, 'left').map(published);
}

function mixingOf({ belief }: State): Mixing | null {
  return belief.liveliness?.mixing ?? null;
}

function bowlAt(state: State, atMs: number): Bowl | null {
  const filter = filterAt(state, atMs);
  return filter === null ? null : bowlOf(state.belief.stretch!, filter, mixingOf(state));
}

function published({ inS, lowC, medianC, highC }: FanBead): FanBead {
  return { inS, lowC: hundredth(lowC), medianC: hundredth(medianC), highC: hundredth(highC) };
}

export interface Situation {
  readonly reading: { readonly valueC: number; readonly atMs: number; readonly quality: Quality } | null;
  readonly stale: boolean;
  readonly probeOutSinceMs: number | null;
  readonly standing: Standing;
  readonly dwellLeftS: number | null;
  readonly mixing: Mixing | null;
  readonly rejected: Readonly<Record<string, number>>;
}

export function situationAt(state: State, atMs: number): Situation {
  const { belief, watch } = state;
  const usualMs = Math.max(STALE_MS, STALE_INTERVALS * belief.usualMs);
  return {
    reading:
      belief.valueC === null || belief.heardAtMs === null
        ? null
        : { valueC: belief.valueC, atMs: belief.heardAtMs, quality: belief.quality },
    stale: belief.goodAtMs === null || atMs - belief.goodAtMs > usualMs,
    probeOutSinceMs: outSinceMs(belief),
    standing: watch.standing,
    dwellLeftS: dwellLeftS(state, atMs),
    mixing: mixingOf(state),
    rejected: state.rejected,
  };
}

function filterAt({ belief }: State, atMs: number): Filter | null {
  if (belief.filter === null || belief.goodAtMs === null || atMs - belief.goodAtMs > UNKNOWN_MS) return null;
  return predicted(belief.filter, atMs);
}

function phaseOf({ watch, header }: State): Phase | null {
  return watch.phase === null ? null : (header.profile.phases[watch.phase] ?? null);
}

/** A working phase has two near edges: the one on whose side the bowl is out of the band. */
function arrivalAt(courses: Likely[], agoS: number, tempC: number, phase: Phase): Arrival | null {
  if (phase.heading === 'up') return arrival(courses, agoS, tempC, nearEdgeC(phase), 1);
  if (phase.heading === 'down') return arrival(courses, agoS, tempC, nearEdgeC(phase), -1);
  const [lowC, highC] = phase.bandC;
  return tempC > highC ? arrival(courses, agoS, tempC, highC, -1) : arrival(courses, agoS, tempC, lowC, 1);
}

function dwellLeftS({ watch, header }: State, atMs: number): number | null {
  if (watch.phase === null || watch.dwellSinceMs === null) return null;
  const holdS = header.profile.phases[watch.phase]?.holdS ?? 0;
  return holdS === 0 ? null : Math.max(0, Math.round(holdS - (atMs - watch.dwellSinceMs) / 1000));
}

function whole(seconds: number | null | undefined): number | null {
  return seconds === null || seconds === undefined ? null : Math.round(seconds);
}
