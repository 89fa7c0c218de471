/** Puts the drawing together, back to front: ground before the data, head, marks and words after it. */
import type { ChartLine, ChartPicture } from '../chart.ts';
import { looksAhead, paintBeads, paintFan, paintFork, takeAhead } from './ahead.ts';
import { paintArrival } from './arrival.ts';
import { edgesOf, paintEdges } from './edges.ts';
import { finalValue, paintFolds } from './folds.ts';
import { paintCrease, paintGround, reachesOf } from './ground.ts';
import { headBox, headOf, paintHead, paintHoles, paintNow } from './head.ts';
import type { Head } from './head.ts';
import type { Kept } from './kept.ts';
import { boxesAlong, Places } from './labels.ts';
import { paintMarks } from './marks.ts';
import type { RoadModel } from './model.ts';
import { placeNames, takeLines, writeNames } from './names.ts';
import type { Palette } from './palette.ts';
import { cornersOf, path, within } from './pen.ts';
import type { Pen } from './pen.ts';
import { xAt } from './sheet.ts';
import type { Box, Panel, Sheet } from './sheet.ts';
import { axesOf, traceOf } from './trace.ts';
import type { MapPoint, Trace } from './trace.ts';
import { unitSign } from '../words/manner.ts';

/** The lane-coloured edge on either side of the trace, px. */
const TRACE_EDGE_W = 3;
const READING_W = 2;
/** Words keep this far from the sides of the map, px, and from its top: the ground round their letters must not be cut. */
const SIDE = 4;
const TOP = 3;

type PenOn = (canvas: CanvasRenderingContext2D) => Pen;

/** What a picture is put together from, whichever view it shows. */
export interface Easel {
  readonly model: RoadModel;
  readonly sheet: Sheet;
  readonly palette: Palette;
  /** Device pixels per CSS px. */
  readonly ratio: number;
  /** What stays from one picture to the next. */
  readonly kept: Kept;
  readonly penOn: PenOn;
  readonly head: Head | null;
  /** All that the ground is painted from. */
  readonly groundKey: string;
  /** Lines behind the trace; what is older is left out. */
  readonly further: (sinceMs: number) => readonly ChartLine[];
}

/** `ratio`: device pixels per CSS px. `kept`: what stays from one picture to the next. `further`: lines behind the trace. */
export function pictureOf(
  model: RoadModel,
  sheet: Sheet,
  palette: Palette,
  ratio: number,
  kept: Kept,
  further: Easel['further'] = () => [],
): ChartPicture {
  const penOn: PenOn = (canvas) => ({ canvas, palette, metrics: sheet.metrics, ratio });
  const groundKey = JSON.stringify([groundOf(model, sheet), palette]);
  const easel = { model, sheet, palette, ratio, kept, penOn, head: headOf(model, sheet), groundKey, further };
  return sheet.unfolded === null ? openPicture(easel) : sheet.unfolded.picture(easel);
}

/** A phase lies open: the map slides, and only its ground and its words stand still in between. */
function openPicture(easel: Easel): ChartPicture {
  const { model, sheet, palette, ratio, kept, penOn, head } = easel;
  const trace = traceOf(model, sheet, { reading: READING_W, estimate: sheet.metrics.traceW });
  return {
    ...drawnOn(easel, trace),
    paintBefore: (canvas) => {
      layGround(easel, canvas);
      if (looksAhead(model, sheet, head)) inPlot(penOn(canvas), sheet, () => paintFan(penOn(canvas), model, head));
    },
    paintAfter: (canvas) => {
      const pen = penOn(canvas);
      const places = placesRound(pen, easel, trace.estimate);
      paintNow(pen, model, sheet);
      inPlot(pen, sheet, () => paintWhatIsAhead(pen, model, sheet, head, places));
      const names = placeNames(pen, model, sheet, places);
      paintMarks(pen, model, sheet, places);
      model.envelope?.name(pen, model, sheet, places);
      if (head !== null) paintHead(pen, model, head);
      const words = JSON.stringify([palette, names, edgesOf(pen, model, sheet)]);
      kept.words.lay(canvas, sheet.size, ratio, words, (above) => {
        writeNames(penOn(above), names);
        paintEdges(penOn(above), model, sheet);
      });
    },
  };
}

/** The place of the drawing, and its lines. `sinceMs`: what is older of them is left out. */
export function drawnOn(
  easel: Easel,
  trace: Trace,
  sinceMs = -Infinity,
): Omit<ChartPicture, 'paintBefore' | 'paintAfter'> {
  const { plot, size } = easel.sheet;
  return {
    margins: {
      left: plot.x,
      right: size.width - plot.x - plot.width,
      top: plot.y,
      bottom: size.height - plot.y - plot.height,
    },
    ...axesOf(easel.sheet),
    lines: [...easel.further(sinceMs), ...linesOf(easel, trace)],
  };
}

export function layGround(
  { model, sheet, ratio, kept, penOn, groundKey }: Easel,
  canvas: CanvasRenderingContext2D,
): void {
  kept.ground.lay(canvas, sheet.size, ratio, groundKey, (below) => paintBelow(penOn(below), model, sheet));
  model.envelope?.paint(penOn(canvas), model, sheet);
}

function linesOf({ sheet, palette, penOn }: Easel, { reading, estimate }: Trace): ChartLine[] {
  const width = sheet.metrics.traceW;
  const edge = { colour: palette['trace-edge'], width: width + 2 * TRACE_EDGE_W };
  const paintUnder = (canvas: CanvasRenderingContext2D): void =>
    inPlot(penOn(canvas), sheet, () => path(penOn(canvas), estimate, edge));
  return [
    { points: reading, colour: palette.fan, width: READING_W },
    { points: estimate, colour: palette.trace, width, paintUnder },
  ];
}

/** All that folds and ground are painted from, but for the colours. What is read off the curve of a phase left is fixed. */
function groundOf(model: RoadModel, { panels, folds, metrics, unfolded }: Sheet): unknown {
  const placeOf = ({ box, leftInset, rightInset, range }: Panel): unknown => [box, leftInset, rightInset, range];
  return [
    panels.map((panel) => [placeOf(panel), reachesOf(panel).map(({ stretch, x0, x1 }) => [stretch.phase, x0, x1])]),
    folds.map((fold) => [
      fold,
      fold.kind === 'past'
        ? [finalValue(model, fold), model.curve.rowsIn(fold.stretch.fromMs, fold.stretch.toMs)]
        : null,
    ]),
    metrics.scale,
    unfolded !== null,
    unitSign(),
  ];
}

function paintBelow(pen: Pen, model: RoadModel, sheet: Sheet): void {
  paintFolds(pen, model, sheet.folds);
  for (const panel of sheet.panels) {
    paintGround(pen, panel);
    for (const { fromMs } of panel.stretches.slice(1)) paintCrease(pen, panel, xAt(panel, fromMs));
    if (sheet.unfolded !== null) paintCrease(pen, panel, panel.box.x + panel.box.width);
  }
}

/** Paints the holes, and says where words may stand. */
export function placesRound(pen: Pen, { model, sheet, head }: Easel, estimate: readonly MapPoint[]): Places {
  const { x, y, width, height } = sheet.plot;
  const places = new Places({ x: x + SIDE, y: y + TOP, width: width - 2 * SIDE, height: height - TOP });
  places.take(...paintHoles(pen, model, sheet), ...boxesAlong(estimate, sheet.metrics.traceW + 2 * TRACE_EDGE_W));
  if (head !== null) places.take(headBox(pen, head));
  takeLines(places, sheet);
  return places;
}

function paintWhatIsAhead(pen: Pen, model: RoadModel, sheet: Sheet, head: Head | null, places: Places): void {
  if (!looksAhead(model, sheet, head)) return;
  takeAhead(places, model, head);
  paintFork(pen, model, head, places);
  paintBeads(pen, model, head);
  paintArrival(pen, model, head, places);
}

function inPlot(pen: Pen, { plot }: { readonly plot: Box }, paint: () => void): void {
  within(pen, cornersOf(plot), paint);
}
