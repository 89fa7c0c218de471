/** The visible trace as points on the map and on the chart's two axes. Pure; asks the curve for no more than two points per pixel. */
import type { ChartPoint } from '../chart.ts';
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

/** The chart's axes: elapsed ms and °C for an open panel; px from the left and from the foot where panels differ in scale. */
export interface Axes {
  readonly x: readonly [min: number, max: number];
  readonly y: readonly [min: number, max: number];
}

export function traceOf(model: RoadModel, sheet: Sheet): Trace {
  const estimate: MapPoint[] = [];
  const reading: MapPoint[] = [];
  const limitMs = model.window.kind === 'all' ? Infinity : model.nowMs;
  for (const panel of sheet.panels) {
    const columns = model.curve.columns(panel.view.fromMs, panel.view.toMs, Math.round(panel.box.width));
    estimate.push(...onMap(panel, columns.estimate, limitMs, sheet.unfolded));
    reading.push(...onMap(panel, columns.reading, limitMs, sheet.unfolded));
  }
  const head = liveHead(model, sheet);
  if (head !== null) estimate.push(head);
  return { estimate, reading };
}

export function axesOf(model: RoadModel, sheet: Sheet): Axes {
  if (sheet.unfolded) return { x: [0, sheet.plot.width], y: [0, sheet.plot.height] };
  const { view, range } = sheet.panels[0]!;
  return { x: [view.fromMs - model.startedAtMs, view.toMs - model.startedAtMs], y: range };
}

export function onAxes(model: RoadModel, sheet: Sheet, points: readonly MapPoint[]): ChartPoint[] {
  const foot = sheet.plot.y + sheet.plot.height;
  return sheet.unfolded
    ? points.map(({ x, y }) => ({ x, y: foot - y }))
    : points.map(({ atMs, valueC }) => ({ x: atMs - model.startedAtMs, y: valueC }));
}

/** A fold's own trace, one point per half pixel. */
export function foldTrace(model: RoadModel, panel: Panel): MapPoint[] {
  const { estimate } = model.curve.columns(panel.view.fromMs, panel.view.toMs, Math.round(panel.box.width));
  return onMap(panel, estimate, Infinity, true);
}

function onMap(panel: Panel, line: Polyline, limitMs: number, cutToView: boolean): MapPoint[] {
  const points: MapPoint[] = [];
  line.atMs.forEach((atMs, i) => {
    const isOutside = atMs < panel.view.fromMs || atMs > panel.view.toMs;
    if (atMs > limitMs || (cutToView && isOutside)) return;
    const x = xAt(panel, atMs);
    points.push({ x, y: yAt(panel, line.valueC[i]!, x), atMs, valueC: line.valueC[i]! });
  });
  if (cutToView && points.length > 0) points.push({ ...points.at(-1)!, y: NaN, valueC: NaN });
  return points;
}

/** The trace runs on to the head, which stands at now and not at the last reading. */
function liveHead(model: RoadModel, sheet: Sheet): MapPoint | null {
  if (model.live !== 'live' || model.estimate === null || model.curve.estimateAt(model.nowMs) === null) return null;
  const panel = sheet.panels.at(-1)!;
  const x = xAt(panel, model.nowMs);
  const valueC = model.estimate.tempC;
  return { x, y: yAt(panel, valueC, x), atMs: model.nowMs, valueC };
}
