/**
 * The visible trace as points on the map and on the chart's two axes. Pure; asks the curve for no more than two points per pixel, and
 * for fewer where the pen is too wide to show them.
 */
import type { Polyline } from '../curve.ts';
import type { RoadModel } from './model.ts';
import { xAt, yAt } from './sheet.ts';
import type { Panel, Sheet } from './sheet.ts';

/** A place on the map, CSS px; NaN in `y` lifts the pen. */
export interface MapPoint {
  readonly x: number;
  readonly y: number;
  readonly atMs: number;
  readonly valueC: number;
}

export interface Trace {
  readonly estimate: readonly MapPoint[];
  readonly reading: readonly MapPoint[];
}

/** The chart's axes: px of the map itself, downward. They stay while the map slides and panels differ in scale. */
export interface Axes {
  readonly x: readonly [left: number, right: number];
  readonly y: readonly [top: number, foot: number];
}

/** A figure for either line; as a width, px, 0 means that it isn't drawn. */
export type Widths = Readonly<Record<keyof Trace, number>>;

/** Columns closer together than this share of a line's width only thicken it, or fill what lies faint behind it (ours). */
const COLUMN_SHARE: Widths = { estimate: 0.5, reading: 1.5 };

/** `sinceMs`: what is older is left out. */
export function traceOf(model: RoadModel, sheet: Sheet, widths: Widths, sinceMs = -Infinity): Trace {
  const estimate: MapPoint[] = [];
  const reading: MapPoint[] = [];
  const isWhole = sheet.unfolded !== null;
  const limitMs = isWhole ? Infinity : model.nowMs;
  for (const panel of sheet.panels) {
    if (panel.view.toMs < sinceMs) continue;
    for (const [line, name] of [
      [estimate, 'estimate'],
      [reading, 'reading'],
    ] as const) {
      if (widths[name] === 0) continue;
      const columns = model.curve.columns(
        name,
        panel.view,
        columnsFor(panel, widths[name] * COLUMN_SHARE[name]),
        sinceMs,
      );
      addOnMap(line, panel, columns, limitMs, isWhole);
    }
  }
  const head = liveHead(model, sheet);
  if (head !== null) estimate.push(head);
  return { estimate, reading };
}

export function axesOf({ plot }: Sheet): Axes {
  return { x: [plot.x, plot.x + plot.width], y: [plot.y, plot.y + plot.height] };
}

/** A fold's own trace; `width`: of its line, px. */
export function foldTrace(model: RoadModel, panel: Panel, width: number): MapPoint[] {
  const points: MapPoint[] = [];
  addOnMap(
    points,
    panel,
    model.curve.columns('estimate', panel.view, columnsFor(panel, width * COLUMN_SHARE.estimate)),
    Infinity,
    true,
  );
  return points;
}

function columnsFor({ box }: Panel, columnWidth: number): number {
  return Math.round(box.width / Math.max(1, columnWidth));
}

function addOnMap(points: MapPoint[], panel: Panel, line: Polyline, limitMs: number, cutToView: boolean): void {
  const { fromMs, toMs } = panel.view;
  const before = points.length;
  for (let i = 0; i < line.atMs.length; i++) {
    const atMs = line.atMs[i]!;
    const valueC = line.valueC[i]!;
    if (atMs > limitMs || (cutToView && (atMs < fromMs || atMs > toMs))) continue;
    const x = xAt(panel, atMs);
    points.push({ x, y: yAt(panel, valueC, x), atMs, valueC });
  }
  if (cutToView && points.length > before) points.push({ ...points.at(-1)!, y: NaN, valueC: NaN });
}

/** The trace runs on to the head, which stands at now and not at the last reading. */
function liveHead(model: RoadModel, sheet: Sheet): MapPoint | null {
  if (model.live !== 'live' || model.estimate === null || model.curve.estimateAt(model.nowMs) === null) return null;
  const panel = sheet.panels.at(-1)!;
  const x = xAt(panel, model.nowMs);
  const valueC = model.estimate.tempC;
  return { x, y: yAt(panel, valueC, x), atMs: model.nowMs, valueC };
}
