/** How tall the scale of a panel is that stands for all that happened in it. Knows nothing about pixels. */
import type { RoadModel } from './model.ts';
import type { Stretch } from './panels.ts';
import { bandRange, holdRange, PAST_BOUND_C } from './range.ts';
import type { Range } from './range.ts';

/** A held view, or a panel of the overview: everything that happened in it and every band it was meant to follow. */
export function wholeRange(model: RoadModel, fromMs: number, toMs: number, within: readonly Stretch[]): Range {
  const seen = model.curve.estimateExtremes(fromMs, toMs);
  const scales = within.map((stretch) =>
    stretch.phase.heading === 'hold' ? holdRange(stretch.phase) : bandRange(stretch.phase),
  );
  const lowC = Math.min(...scales.map((scale) => scale[0]));
  const highC = Math.max(...scales.map((scale) => scale[1]));
  return [
    seen.low < lowC ? Math.floor(seen.low - PAST_BOUND_C) : lowC,
    seen.high > highC ? Math.ceil(seen.high + PAST_BOUND_C) : highC,
  ];
}
