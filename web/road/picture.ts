/** Puts the drawing together, back to front: ground before the data, head, marks and words after it. */
import type { ChartLine, ChartPicture } from '../chart.ts';
import { looksAhead, paintBeads, paintFan, paintFork, takeAhead } from './ahead.ts';
import { paintArrival } from './arrival.ts';
import { paintEdges } from './edges.ts';
import { nameEnvelope, paintEnvelope } from './envelope.ts';
import { finalValue, paintFolds } from './folds.ts';
import { paintCrease, paintGround, reachesOf } from './ground.ts';
import { headBox, headOf, paintHead, paintHoles, paintNow } from './head.ts';
import type { Head } from './head.ts';
import { boxesAlong, Places } from './labels.ts';
import type { Layer } from './layer.ts';
import { paintMarks } from './marks.ts';
import type { RoadModel } from './model.ts';
import { paintNames, takeLines } from './names.ts';
import type { Palette } from './palette.ts';
import { within } from './pen.ts';
import type { Pen } from './pen.ts';
import { xAt } from './sheet.ts';
import type { Box, Panel, Sheet } from './sheet.ts';
import { axesOf, onAxes, traceOf } from './trace.ts';
import type { Trace } from './trace.ts';
import { unitSign } from '../words/manner.ts';

/** The lane-coloured edge on either side of the trace, px. */
const TRACE_EDGE_W = 3;
const READING_W = 2;
/** Words keep this far from the sides of the map, px. */
const SIDE = 4;

/** `ratio`: device pixels per CSS px. `ground`: keeps what lies under the trace from one picture to the next. */
export function pictureOf(
  model: RoadModel,
  sheet: Sheet,
  palette: Palette,
  ratio: number,
  ground: Layer,
): ChartPicture {
  const { plot, size } = sheet;
  const trace = traceOf(model, sheet, { reading: sheet.unfolded ? 0 : READING_W, estimate: sheet.metrics.traceW });
  const head = headOf(model, sheet);
  const penOn = (canvas: CanvasRenderingContext2D): Pen => ({ canvas, palette, metrics: sheet.metrics, ratio });
  return {
    margins: {
      left: plot.x,
      right: size.width - plot.x - plot.width,
      top: plot.y,
      bottom: size.height - plot.y - plot.height,
    },
    ...axesOf(sheet),
    lines: linesOf(sheet, palette, trace),
    paintBefore: (canvas) => {
      const key = JSON.stringify([groundKey(model, sheet), palette]);
      ground.lay(canvas, size, ratio, key, (kept) => paintBelow(penOn(kept), model, sheet));
      paintEnvelope(penOn(canvas), model, sheet);
      if (looksAhead(model, sheet, head)) inPlot(penOn(canvas), sheet, () => paintFan(penOn(canvas), model, head));
    },
    paintAfter: (canvas) => paintAbove(penOn(canvas), model, sheet, { trace, head }),
  };
}

function linesOf(sheet: Sheet, palette: Palette, trace: Trace): ChartLine[] {
  const estimate = onAxes(sheet, trace.estimate);
  const width = sheet.metrics.traceW;
  return [
    { points: onAxes(sheet, trace.reading), colour: palette.fan, width: READING_W },
    { points: estimate, colour: palette['trace-edge'], width: width + 2 * TRACE_EDGE_W },
    { points: estimate, colour: palette.trace, width },
  ];
}

/** All that folds and ground are painted from, but for the colours. What is read off the curve of a phase left is fixed. */
function groundKey(model: RoadModel, { panels, folds, metrics, unfolded }: Sheet): unknown {
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
    unfolded,
    unitSign(),
  ];
}

function paintBelow(pen: Pen, model: RoadModel, sheet: Sheet): void {
  paintFolds(pen, model, sheet.folds);
  for (const panel of sheet.panels) {
    paintGround(pen, panel);
    for (const { fromMs } of panel.stretches.slice(1)) paintCrease(pen, panel, xAt(panel, fromMs));
    if (sheet.unfolded) paintCrease(pen, panel, panel.box.x + panel.box.width);
  }
}

function paintAbove(pen: Pen, model: RoadModel, sheet: Sheet, drawn: { trace: Trace; head: Head | null }): void {
  const { head, trace } = drawn;
  const places = new Places({ ...sheet.plot, x: sheet.plot.x + SIDE, width: sheet.plot.width - 2 * SIDE });
  places.take(...paintHoles(pen, model, sheet), ...boxesAlong(trace.estimate, sheet.metrics.traceW + 2 * TRACE_EDGE_W));
  if (head !== null) places.take(headBox(pen, head));
  takeLines(places, sheet);
  paintNow(pen, model, sheet);
  inPlot(pen, sheet, () => paintWhatIsAhead(pen, model, sheet, head, places));
  /* In an overview the numbers are the key to the notes and go first; in an open panel the names of the bounds do. */
  if (sheet.unfolded) paintMarks(pen, model, sheet, places);
  paintNames(pen, model, sheet, places);
  if (!sheet.unfolded) paintMarks(pen, model, sheet, places);
  nameEnvelope(pen, model, sheet, places);
  if (head !== null) paintHead(pen, model, head);
  paintEdges(pen, model, sheet);
}

function paintWhatIsAhead(pen: Pen, model: RoadModel, sheet: Sheet, head: Head | null, places: Places): void {
  if (!looksAhead(model, sheet, head)) return;
  takeAhead(places, model, head);
  paintFork(pen, model, head, places);
  paintBeads(pen, model, head);
  paintArrival(pen, model, head, places);
}

function inPlot(pen: Pen, { plot }: { readonly plot: Box }, paint: () => void): void {
  const right = plot.x + plot.width;
  const foot = plot.y + plot.height;
  within(
    pen,
    [
      { x: plot.x, y: plot.y },
      { x: right, y: plot.y },
      { x: right, y: foot },
      { x: plot.x, y: foot },
    ],
    paint,
  );
}
