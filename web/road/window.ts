/** Which stretch of time the open panel shows. Knows nothing about pixels or temperatures. */
import { firstDownIndex } from '../../server/core/show/course.ts';
import type { RoadModel } from './model.ts';
import type { Stretch } from './panels.ts';

/** A stretch of the feed's clock. */
export interface TimeSpan {
  readonly fromMs: number;
  readonly toMs: number;
}

const MINUTE_MS = 60_000;

/** How far the view looks back and ahead, minutes (ours: long enough to see the way, short enough that half a minute shows). */
const VIEW_MIN = {
  longWayUp: { back: 10, ahead: 6 },
  down: { back: 8, ahead: 6 },
  up: { back: 3, ahead: 4 },
  hold: { back: 17, ahead: 4 },
  alarm: { back: 6, ahead: 4 },
} as const;
/** On a narrow road the past gives way, never the future (ours). */
const NARROW_BACK = 0.6;

/** `stepMs`: the map slides in steps of this, so that it stands still in between. */
export function followWindow(model: RoadModel, open: Stretch, narrow: boolean, stepMs: number): TimeSpan {
  const { back, ahead } = VIEW_MIN[viewKind(model, open)];
  const nowMs = Math.floor(model.nowMs / stepMs) * stepMs;
  return { fromMs: nowMs - back * MINUTE_MS * (narrow ? NARROW_BACK : 1), toMs: nowMs + ahead * MINUTE_MS };
}

function viewKind(model: RoadModel, open: Stretch): keyof typeof VIEW_MIN {
  if (model.alarm) return 'alarm';
  if (open.phase.heading !== 'up') return open.phase.heading;
  const firstDown = firstDownIndex(model.profile);
  return firstDown < 0 || open.index < firstDown ? 'longWayUp' : 'up';
}
