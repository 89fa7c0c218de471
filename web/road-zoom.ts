/** Other stretches of the road to look at than the one that follows: the last minutes, closer, wider. Pure, on the feed's clock. */
import { LEAST_MS, MINUTE_MS, spanOf } from './road-look.ts';
import type { RoadLook } from './road-look.ts';

/** Closer and wider go by this, and no further than this length, ms (ours: a long day). */
const ZOOM = 2;
const MOST_MS = 16 * 60 * MINUTE_MS;
/** The stretches of past on offer, minutes. */
export const LAST_MIN = [5, 15] as const;

export function lastMinutes(minutes: number): RoadLook {
  return { kind: 'last', backMs: minutes * MINUTE_MS };
}

/** Half of what is in view, and held: about its middle, or up to now while now was the end of it. */
export function closer(look: RoadLook, nowMs: number, startedAtMs: number): RoadLook {
  return zoomed(look, 1 / ZOOM, nowMs, startedAtMs);
}

/** Twice of what is in view, and held. */
export function wider(look: RoadLook, nowMs: number, startedAtMs: number): RoadLook {
  return zoomed(look, ZOOM, nowMs, startedAtMs);
}

function zoomed(look: RoadLook, times: number, nowMs: number, startedAtMs: number): RoadLook {
  const { fromMs, toMs } = spanOf(look, nowMs, startedAtMs);
  const lengthMs = Math.min(MOST_MS, Math.max(LEAST_MS, (toMs - fromMs) * times));
  const anchorMs = look.kind === 'span' ? (fromMs + toMs) / 2 + lengthMs / 2 : toMs;
  return { kind: 'span', fromMs: Math.round(anchorMs - lengthMs), toMs: Math.round(anchorMs) };
}
