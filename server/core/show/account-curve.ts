/**
 * The account of a stored run out of the columns of its curve, with the extremes that its alarms were told with: the same for the page and
 * for paper. Pure.
 */
import type { AlarmName } from '../record/event.ts';
import type { Profile } from '../record/profile.ts';
import { type Account, accountOf, type CurvePoint } from './account.ts';
import { columnMs } from './holes.ts';
import type { PastAlarm, View } from './view.ts';
import type { Tile } from './wire.ts';

/** Columns of a very long run are wide; then a column speaks for all of its width, with a point at least as often, ms (ours). */
const POINT_EVERY_MS = 15_000;

/** Of the columns of the whole curve, oldest first, up to `endMs`. */
export function accountOfColumns(
  profile: Profile,
  { visits, pastAlarms }: Pick<View, 'visits' | 'pastAlarms'>,
  tiles: readonly Tile[],
  endMs: number,
): Account {
  return accountOf(profile, visits, curveOf(tiles, pastAlarms), endMs);
}

/**
 * The estimated curve, a point for each column in which something was read that could be believed: beside readings that were refused an
 * estimate only stands, as it was. A column holds the estimate at its end, so a short peak within it is lost; an alarm was
 * told with the real one, which then stands where the curve was nearest to it.
 */
export function curveOf(tiles: readonly Tile[], alarms: readonly PastAlarm[]): readonly CurvePoint[] {
  const widthMs = columnMs(tiles);
  const each = Math.max(1, Math.ceil(widthMs / POINT_EVERY_MS));
  const points = tiles
    .filter(([, lowC]) => lowC !== null)
    .flatMap(([atMs, , , tempC]) =>
      Array.from({ length: each }, (_, i): CurvePoint => [atMs + (i * widthMs) / each, tempC]),
    );
  for (const alarm of alarms) raiseExtreme(points, alarm);
  return points;
}

/** Which way an alarm's extreme lies; others are told with none that a curve has. */
const BEYOND: Readonly<Partial<Record<AlarmName, 1 | -1>>> = {
  scorch: 1,
  overshoot: 1,
  'temper-lost': 1,
  undershoot: -1,
  'below-working': -1,
};

function raiseExtreme(points: CurvePoint[], { alarm, extremeC, raisedAtMs, clearedAtMs }: PastAlarm): void {
  const way = BEYOND[alarm];
  if (way === undefined || extremeC === null) return;
  let furthest = -1;
  points.forEach(([atMs, tempC], i) => {
    if (tempC === null || atMs < raisedAtMs || atMs > clearedAtMs) return;
    const best = points[furthest]?.[1] ?? null;
    if (best === null || (tempC - best) * way > 0) furthest = i;
  });
  const point = points[furthest];
  if (point === undefined || point[1] === null || (extremeC - point[1]) * way <= 0) return;
  points[furthest] = [point[0], extremeC];
}
