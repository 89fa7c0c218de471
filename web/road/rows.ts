/** The road's numbers as rows, for those who hear the page: what was, and what is to be expected. Pure. */
import type { RoadModel } from './model.ts';
import type { TimeSpan } from './window.ts';

export interface RoadRow {
  readonly fromMs: number;
  readonly toMs: number;
  /** °C; null: no good reading in it. */
  readonly lowC: number | null;
  readonly highC: number | null;
  /** Estimate at its end, or the middle of the forecast, °C. */
  readonly endC: number | null;
  readonly isForecast: boolean;
}

/** Rows are whole minutes long, at most this many (ours: what one listens to). */
const MOST_ROWS = 15;
const STEPS_MIN = [1, 2, 5, 10, 15, 30, 60, 120];
const MINUTE_MS = 60_000;

/** Rows begin at whole steps of the run, so that only the last one changes as time goes on. */
export function roadRows(model: RoadModel, { fromMs, toMs }: TimeSpan): RoadRow[] {
  const { curve, startedAtMs, nowMs } = model;
  const endMs = Math.min(toMs, nowMs);
  const stepMs = MINUTE_MS * (STEPS_MIN.find((min) => (endMs - fromMs) / (min * MINUTE_MS) <= MOST_ROWS) ?? 240);
  const firstMs = startedAtMs + Math.max(0, Math.floor((fromMs - startedAtMs) / stepMs)) * stepMs;
  const rows: RoadRow[] = [];
  for (let atMs = firstMs; atMs < endMs; atMs += stepMs) {
    const untilMs = Math.min(atMs + stepMs, endMs);
    const { low, high } = curve.estimateExtremes(atMs, untilMs);
    const [lowC, highC] = Number.isNaN(low) ? [null, null] : [low, high];
    rows.push({
      fromMs: atMs,
      toMs: untilMs,
      lowC,
      highC,
      endC: curve.lastEstimateIn(atMs, untilMs),
      isForecast: false,
    });
  }
  return [...rows, ...forecastRows(model, toMs)];
}

/** One row for each whole minute of the fan. */
function forecastRows({ fan, nowMs, live }: RoadModel, toMs: number): RoadRow[] {
  if (live !== 'live') return [];
  return fan
    .filter(({ inS }) => inS % 60 === 0 && nowMs + inS * 1000 <= toMs)
    .map(({ inS, lowC, medianC, highC }) => {
      const atMs = nowMs + inS * 1000;
      return { fromMs: atMs, toMs: atMs, lowC, highC, endC: medianC, isForecast: true };
    });
}
