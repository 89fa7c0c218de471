/** What a screen may be told of a state at a moment: the estimate, the fan, and how believable the number is. Changes nothing. */
import { outSinceMs } from './bowl/belief.ts';
import type { Estimate, FanBead } from './bowl/estimate.ts';
import { predicted } from './bowl/filter.ts';
import type { Filter } from './bowl/filter.ts';
import { arrival, fan, levelC } from './bowl/forecast.ts';
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
  if (filter === null) return null;
  const phase = phaseOf(state);
  const coming = phase === null ? null : arrivalAt(filter, phase);
  return {
    kind: 'estimate',
    atMs,
    phase: phase?.id ?? null,
    tempC: hundredth(filter.tempC),
    rateCPerMin: hundredth(filter.rateCPerS * 60),
    etaS: whole(coming?.etaS),
    etaLowS: whole(coming?.lowS),
    etaHighS: whole(coming?.highS),
    peakC: hundredth(levelC(filter)),
  };
}

/** Empty where there is no estimate. */
export function fanAt(state: State, atMs: number): FanBead[] {
  const filter = filterAt(state, atMs);
  return filter === null
    ? []
    : fan(filter).map(({ inS, lowC, medianC, highC }) => ({
        inS,
        lowC: hundredth(lowC),
        medianC: hundredth(medianC),
        highC: hundredth(highC),
      }));
}

export interface Situation {
  readonly phase: string | null;
  readonly going: boolean;
  readonly reading: { readonly valueC: number; readonly atMs: number; readonly quality: Quality } | null;
  readonly stale: boolean;
  readonly probeOutSinceMs: number | null;
  readonly standing: Standing;
  readonly dwellLeftS: number | null;
  readonly rejected: Readonly<Record<string, number>>;
  readonly lastLine: string | null;
}

export function situationAt(state: State, atMs: number): Situation {
  const { belief, watch } = state;
  const usualMs = Math.max(STALE_MS, STALE_INTERVALS * belief.usualMs);
  return {
    phase: phaseOf(state)?.id ?? null,
    going: watch.phase !== null && !state.ended,
    reading:
      belief.valueC === null || belief.heardAtMs === null
        ? null
        : { valueC: belief.valueC, atMs: belief.heardAtMs, quality: belief.quality },
    stale: belief.goodAtMs === null || atMs - belief.goodAtMs > usualMs,
    probeOutSinceMs: outSinceMs(belief),
    standing: watch.standing,
    dwellLeftS: dwellLeftS(state, atMs),
    rejected: state.rejected,
    lastLine: state.lastLine,
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
function arrivalAt(filter: Filter, phase: Phase): ReturnType<typeof arrival> {
  if (phase.heading === 'up') return arrival(filter, nearEdgeC(phase), 1);
  if (phase.heading === 'down') return arrival(filter, nearEdgeC(phase), -1);
  const [lowC, highC] = phase.bandC;
  return filter.tempC > highC ? arrival(filter, highC, -1) : arrival(filter, lowC, 1);
}

function dwellLeftS({ watch, header }: State, atMs: number): number | null {
  if (watch.phase === null || watch.dwellSinceMs === null) return null;
  const holdS = header.profile.phases[watch.phase]?.holdS ?? 0;
  return holdS === 0 ? null : Math.max(0, Math.round(holdS - (atMs - watch.dwellSinceMs) / 1000));
}

function whole(seconds: number | null | undefined): number | null {
  return seconds === null || seconds === undefined ? null : Math.round(seconds);
}
