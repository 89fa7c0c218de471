/** Puts the drawing together, back to front: ground before the data, head, marks and words after it. */
import type { ChartLine, ChartPicture } from '../chart.ts';
import { looksAhead, paintBeads, paintFan, paintFork, takeAhead } from './ahead.ts';
import { paintArrival } from './arrival.ts';
import { edgesOf, endWords, paintEdges } from './edges.ts';
import { finalValue, paintFolds } from './folds.ts';
import { paintCrease, paintGround, reachesOf } from './ground.ts';
import { headBox, headOf, holesIn, paintHead, paintHoles, paintNow } from './head.ts';
import type { Head } from './head.ts';
import type { Kept } from './kept.ts';
import { boxesAlong, Places } from './labels.ts';
import { paintMarks } from './marks.ts';
import type { Size } from './metrics.ts';
import type { RoadModel } from './model.ts';
import { placeNames, takeLines, writeNames } from './names.ts';
import type { PlacedName } from './names.ts';
import type { Palette } from './palette.ts';
import { path, within } from './pen.ts';
import type { Pen } from './pen.ts';
import { xAt } from './sheet.ts';
import type { Box, Panel, Sheet } from './sheet.ts';
import { axesOf, traceOf } from './trace.ts';
import type { MapPoint, Trace, Widths } from './trace.ts';
import { unitSign } from '../words/manner.ts';

/** The lane-coloured edge on either side of the trace, px. */
const TRACE_EDGE_W = 3;
const READING_W = 2;
/** Words keep this far from the sides of the map, px, and from its top: the ground round their letters must not be cut. */
const SIDE = 4;
const TOP = 3;

type PenOn = (canvas: CanvasRenderingContext2D) => Pen;

/** `ratio`: device pixels per CSS px. `kept`: what stays from one picture to the next. `further`: lines behind the trace. */
export function pictureOf(
  model: RoadModel,
  sheet: Sheet,
  palette: Palette,
  ratio: number,
  kept: Kept,
  further: (sinceMs: number) => readonly ChartLine[] = () => [],
): ChartPicture {
  const { plot, size } = sheet;
  const penOn: PenOn = (canvas) => ({ canvas, palette, metrics: sheet.metrics, ratio });
  const groundKey = JSON.stringify([groundOf(model, sheet), palette]);
  const layGround = (canvas: CanvasRenderingContext2D): void => {
    kept.ground.lay(canvas, size, ratio, groundKey, (below) => paintBelow(penOn(below), model, sheet));
    model.envelope?.paint(penOn(canvas), model, sheet);
  };
  const key = standsStill(model, sheet) ? JSON.stringify([size, ratio, groundKey, model.envelope]) : null;
  const tail = key === null ? null : kept.tailOf(model, sheet, key);
  const trace = traceOf(model, sheet, widthsOn(sheet), tail?.sinceMs);
  const head = headOf(model, sheet);
  return {
    margins: {
      left: plot.x,
      right: size.width - plot.x - plot.width,
      top: plot.y,
      bottom: size.height - plot.y - plot.height,
    },
    ...axesOf(sheet),
    lines: [...further(tail?.sinceMs ?? -Infinity), ...linesOf(sheet, palette, trace, penOn)],
    paintBefore: (canvas) => {
      if (tail !== null) {
        kept.past.put(canvas, ratio);
        clipFrom(penOn(canvas), tail.x, size);
      }
      layGround(canvas);
      if (looksAhead(model, sheet, head)) inPlot(penOn(canvas), sheet, () => paintFan(penOn(canvas), model, head));
    },
    paintAfter: (canvas) => {
      const pen = penOn(canvas);
      if (tail !== null) canvas.restore();
      if (key === null) {
        const names = paintAbove(pen, model, sheet, { trace, head });
        if (head !== null) paintHead(pen, model, head);
        if (sheet.unfolded) return paintFrame(pen, model, sheet, names);
        const words = JSON.stringify([palette, names, edgesOf(pen, model, sheet)]);
        kept.words.lay(canvas, size, ratio, words, (above) => paintFrame(penOn(above), model, sheet, names));
      } else {
        if (tail === null) kept.takePast(canvas, model, key);
        const words = JSON.stringify([key, wordsOf(model, sheet)]);
        paintNow(pen, model, sheet);
        kept.words.lay(canvas, size, ratio, words, (above) => paintWords(penOn(above), model, sheet, head));
        if (head !== null) paintHead(pen, model, head);
      }
    },
  };
}

function widthsOn({ unfolded, metrics }: Sheet): Widths {
  return { reading: unfolded ? 0 : READING_W, estimate: metrics.traceW };
}

/** An overview of what goes on: it grows by steps, and in between only its newest end is another. */
function standsStill({ live }: RoadModel, { unfolded }: Sheet): boolean {
  return unfolded && live !== 'playback';
}

/** Nothing is painted left of `x`, rounded to a device pixel, until the canvas is restored. */
function clipFrom({ canvas, ratio }: Pen, x: number, { width, height }: Size): void {
  const from = Math.round(x * ratio) / ratio;
  canvas.save();
  canvas.beginPath();
  canvas.rect(from, 0, width - from, height);
  canvas.clip();
}

/** All that the words of a standing overview are painted from, but for where the trace is. */
function wordsOf(model: RoadModel, sheet: Sheet): unknown {
  return [
    model.marks.map(({ kind, atMs, untilMs, text }) => [kind, atMs, untilMs, text]),
    sheet.panels.map((panel) => holesIn(model, panel)),
    endWords(model, sheet),
  ];
}

/** The words of a standing overview, round the whole trace. */
function paintWords(pen: Pen, model: RoadModel, sheet: Sheet, head: Head | null): void {
  const { estimate } = traceOf(model, sheet, widthsOn(sheet));
  const names = paintNamed(pen, model, sheet, placesRound(pen, model, sheet, estimate, head));
  paintFrame(pen, model, sheet, names);
}

/** What of the words stays where it is while the map slides. */
function paintFrame(pen: Pen, model: RoadModel, sheet: Sheet, names: readonly PlacedName[]): void {
  writeNames(pen, names);
  paintEdges(pen, model, sheet);
}

function linesOf(
  sheet: Sheet,
  { trace: colour, fan, 'trace-edge': edge }: Palette,
  trace: Trace,
  on: PenOn,
): ChartLine[] {
  const width = sheet.metrics.traceW;
  const paintUnder = (canvas: CanvasRenderingContext2D): void =>
    inPlot(on(canvas), sheet, () =>
      path(on(canvas), trace.estimate, { colour: edge, width: width + 2 * TRACE_EDGE_W }),
    );
  return [
    { points: trace.reading, colour: fan, width: READING_W },
    { points: trace.estimate, colour, width, paintUnder },
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

/** Gives the names of the bounds, which have their places and are not written yet. */
function paintAbove(
  pen: Pen,
  model: RoadModel,
  sheet: Sheet,
  drawn: { trace: Trace; head: Head | null },
): readonly PlacedName[] {
  const { head, trace } = drawn;
  const places = placesRound(pen, model, sheet, trace.estimate, head);
  paintNow(pen, model, sheet);
  inPlot(pen, sheet, () => paintWhatIsAhead(pen, model, sheet, head, places));
  return paintNamed(pen, model, sheet, places);
}

/** Paints the holes, and says where words may stand. */
function placesRound(
  pen: Pen,
  model: RoadModel,
  sheet: Sheet,
  estimate: readonly MapPoint[],
  head: Head | null,
): Places {
  const { x, y, width, height } = sheet.plot;
  const places = new Places({ x: x + SIDE, y: y + TOP, width: width - 2 * SIDE, height: height - TOP });
  places.take(...paintHoles(pen, model, sheet), ...boxesAlong(estimate, sheet.metrics.traceW + 2 * TRACE_EDGE_W));
  if (head !== null) places.take(headBox(pen, head));
  takeLines(places, sheet);
  return places;
}

/** In an overview the numbers are the key to the notes and go first; in an open panel the names of the bounds do, which are written later. */
function paintNamed(pen: Pen, model: RoadModel, sheet: Sheet, places: Places): readonly PlacedName[] {
  if (sheet.unfolded) paintMarks(pen, model, sheet, places);
  const names = placeNames(pen, model, sheet, places);
  if (!sheet.unfolded) paintMarks(pen, model, sheet, places);
  model.envelope?.name(pen, model, sheet, places);
  return names;
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
