/** Whether a run was carried on a moment ago, after a power cut. Pure. */
import type { LiveState } from './live.ts';

/** For so long it is told that a run was carried on with, ms (ours: long enough for hands to be wiped). */
const CARRIED_ON_MS = 60_000;

/** How long nothing was read before a run was carried on with a moment ago, s; null: it was not, or that has been told. */
export function carriedOnAfterS({ view, curve }: LiveState, atMs: number): number | null {
  if (view.info?.resumed !== true) return null;
  const hole = curve.holes(view.info.startedAtMs, atMs, 0, atMs).findLast(({ toMs }) => toMs < atMs);
  return hole === undefined || atMs - hole.toMs > CARRIED_ON_MS ? null : (hole.toMs - hole.fromMs) / 1000;
}
