/**
 * How one viewer looks along the road of a run that is going: with now, or held. A held view is moved by nobody but the viewer; one step
 * leads back. Pure, on the feed's clock.
 */
import type { RoadWindow } from './road/model.ts';
import type { TimeSpan } from './road/window.ts';

export type RoadLook = RoadWindow;

export const FOLLOW: RoadLook = { kind: 'follow' };
export const ALL: RoadLook = { kind: 'all' };

export const MINUTE_MS = 60_000;
/** What a view that follows is taken to show, ms back and ahead of now (ours; about what it does show). */
const FOLLOWED = { backMs: 15 * MINUTE_MS, aheadMs: 4 * MINUTE_MS };
/** No view is shorter, ms (ours: single readings). */
export const LEAST_MS = MINUTE_MS;

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

/** Holds the view around a moment, as wide as it is. */
export function heldAt(look: RoadLook, atMs: number, nowMs: number, startedAtMs: number): RoadLook {
  const { fromMs, toMs } = spanOf(look, nowMs, startedAtMs);
  const half = (toMs - fromMs) / 2;
  return { kind: 'span', fromMs: Math.round(atMs - half), toMs: Math.round(atMs + half) };
}
