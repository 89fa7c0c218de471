/**
 * How one viewer looks along the road of a run that is going: with now, or held. A held view is moved by nobody but the viewer; one step
 * leads back. Pure, on the feed's clock.
 */
import type { RoadWindow } from './road/model.ts';
import type { TimeSpan } from './road/window.ts';

export type RoadLook = RoadWindow;

export const FOLLOW: RoadLook = { kind: 'follow' };
export const ALL: RoadLook = { kind: 'all' };

const MINUTE_MS = 60_000;
/** The stretches of past on offer, minutes. */
export const LAST_MIN = [5, 15] as const;
/** What a view that follows is taken to show, ms back and ahead of now (ours; about what it does show). */
const FOLLOWED = { backMs: 15 * MINUTE_MS, aheadMs: 4 * MINUTE_MS };
/** Closer and wider go by this, and no further than these lengths, ms (ours: single readings, a long day). */
const ZOOM = 2;
const LEAST_MS = MINUTE_MS;
const MOST_MS = 16 * 60 * MINUTE_MS;

export function lastMinutes(minutes: number): RoadLook {
  return { kind: 'last', backMs: minutes * MINUTE_MS };
}

/** The stretch in view. */
export function spanOf(look: RoadLook, nowMs: number, startedAtMs: number): TimeSpan {
  switch (look.kind) {
    case 'follow':
      return { fromMs: nowMs - FOLLOWED.backMs, toMs: nowMs + FOLLOWED.aheadMs };
    case 'last':
      return { fromMs: nowMs - look.backMs, toMs: nowMs };
    case 'span':
      return look;
    case 'all':
      return { fromMs: startedAtMs, toMs: Math.max(nowMs, startedAtMs + LEAST_MS) };
  }
}

/** Half of what is in view, and held: about its middle, or up to now while now was the end of it. */
export function closer(look: RoadLook, nowMs: number, startedAtMs: number): RoadLook {
  return zoomed(look, 1 / ZOOM, nowMs, startedAtMs);
}

/** Twice of what is in view, and held. */
export function wider(look: RoadLook, nowMs: number, startedAtMs: number): RoadLook {
  return zoomed(look, ZOOM, nowMs, startedAtMs);
}

/** Holds the view around a moment, as wide as it is. */
export function heldAt(look: RoadLook, atMs: number, nowMs: number, startedAtMs: number): RoadLook {
  const { fromMs, toMs } = spanOf(look, nowMs, startedAtMs);
  const half = (toMs - fromMs) / 2;
  return { kind: 'span', fromMs: Math.round(atMs - half), toMs: Math.round(atMs + half) };
}

function zoomed(look: RoadLook, times: number, nowMs: number, startedAtMs: number): RoadLook {
  const { fromMs, toMs } = spanOf(look, nowMs, startedAtMs);
  const lengthMs = Math.min(MOST_MS, Math.max(LEAST_MS, (toMs - fromMs) * times));
  const anchorMs = look.kind === 'span' ? (fromMs + toMs) / 2 + lengthMs / 2 : toMs;
  return { kind: 'span', fromMs: Math.round(anchorMs - lengthMs), toMs: Math.round(anchorMs) };
}
