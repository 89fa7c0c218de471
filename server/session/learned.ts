/**
 * What runs taught of a bowl, put together for the next run with it. How a run teaches is the engine's to say, where it is kept the
 * store's.
 */
import type { State } from '../core/engine.ts';
import { COAST_LEAST_S, COAST_MOST_S, type Learned, LEARNED_LEAST_S, LEARNED_MOST_S } from '../core/record/run.ts';

/** What one run has taught so far; `runs` is 1. */
export type LearnedOf = (state: State) => Learned;

/** As many runs back a bowl is looked at (ours: one odd run among them does not sway the median, and another bowl is soon learned). */
export const RUNS_BACK = 5;

/** null where nothing was seen: such a run says nothing of its bowl. */
export function nullIfNothing(learned: Learned): Learned | null {
  const { heatCourseS, coldCourseS, coastS } = learned;
  return heatCourseS === null && coldCourseS === null && (coastS ?? null) === null ? null : learned;
}

/** The median of what was seen, whole seconds, each by itself; null where nothing was. Values out of bounds count as not seen. */
export function together(runs: readonly Learned[]): Learned | null {
  return nullIfNothing({
    runs: runs.length,
    heatCourseS: medianS(
      runs.map(({ heatCourseS }) => heatCourseS),
      LEARNED_LEAST_S,
      LEARNED_MOST_S,
    ),
    coldCourseS: medianS(
      runs.map(({ coldCourseS }) => coldCourseS),
      LEARNED_LEAST_S,
      LEARNED_MOST_S,
    ),
    coastS: medianS(
      runs.map(({ coastS }) => coastS ?? null),
      COAST_LEAST_S,
      COAST_MOST_S,
    ),
  });
}

function medianS(values: readonly (number | null)[], leastS: number, mostS: number): number | null {
  const seen = values.filter((valueS) => valueS !== null);
  const sorted = seen.filter((s) => s >= leastS && s <= mostS).toSorted((a, b) => a - b);
  const low = sorted[Math.ceil(sorted.length / 2) - 1];
  const high = sorted[Math.floor(sorted.length / 2)];
  return low === undefined || high === undefined ? null : Math.round((low + high) / 2);
}
