/**
 * The picture of the unfolded map. Played back it is drawn anew as a whole; of a run that goes on it stands still for a while, trace
 * and words too, so that a shift of twelve hours costs no more to draw than the seconds that have come since.
 */
import type { ChartPicture } from '../chart.ts';
import type { Curve } from '../curve.ts';
import { holesIn, nowOn, paintHead, paintNow } from './head.ts';
import { paintMarks } from './marks.ts';
import type { RoadModel } from './model.ts';
import { placeNames, writeNames } from './names.ts';
import { paintNumbers } from './numbers.ts';
import { fill, line, spotsAt } from './pen.ts';
import type { Pen } from './pen.ts';
import { drawnOn, layGround, placesRound } from './picture.ts';
import type { Easel } from './picture.ts';
import { xAt } from './sheet.ts';
import type { Sheet } from './sheet.ts';
import { traceOf } from './trace.ts';
import type { MapPoint, Trace } from './trace.ts';
import { endWords, paintUnfoldedEdges } from './unfolded-edges.ts';

/** So much of the newest trace is drawn anew each time, px (ours: several columns, and the ends of the widest line). */
const ANEW_PX = 24;
/** Where it begins a line has an end that the kept trace doesn't have; so much of it stays hidden, px (half the widest line). */
const END_PX = 10;

/** What of the trace is drawn anew. */
interface Tail {
  /** Feed clock. */
  readonly sinceMs: number;
  /** The kept picture stands left of it, px. */
  readonly x: number;
}

/** The trace that is kept as pixels, and how far it goes, feed clock. */
interface PastTrace {
  readonly curve: Curve;
  readonly endMs: number;
}

/** For one road, whose trace it remembers. */
export function unfoldedPicture(): (easel: Easel) => ChartPicture {
  let past: PastTrace | null = null;
  return (easel) => {
    const { model, sheet, ratio, kept, groundKey } = easel;
    if (model.live === 'playback') return playedPicture(easel);
    const key = JSON.stringify([sheet.size, ratio, groundKey, model.envelope]);
    const tail = past !== null && kept.past.holds(key) ? tailOf(past, model, sheet) : null;
    return standingPicture(easel, key, tail, (canvas) => {
      kept.past.take(canvas, key);
      past = { curve: model.curve, endMs: model.curve.lastAtMs() ?? -Infinity };
    });
  };
}

/** What is to be drawn of this trace; null: all of it. */
function tailOf({ curve, endMs }: PastTrace, model: RoadModel, sheet: Sheet): Tail | null {
  if (curve !== model.curve) return null;
  const panel = sheet.panels.at(-1)!;
  const { view, box } = panel;
  const sinceMs = endMs - ((view.toMs - view.fromMs) / box.width) * ANEW_PX;
  if (sinceMs <= view.fromMs) return { sinceMs: view.fromMs, x: box.x };
  return { sinceMs, x: xAt(panel, sinceMs) + END_PX };
}

function playedPicture(easel: Easel): ChartPicture {
  const { model, sheet, penOn, head } = easel;
  const trace = traceOn(easel);
  return {
    ...drawnOn(easel, trace),
    paintBefore: (canvas) => layGround(easel, canvas),
    paintAfter: (canvas) => {
      const pen = penOn(canvas);
      paintNamed(pen, easel, trace.estimate, () => paintPlayHead(pen, model, sheet));
      if (head !== null) paintHead(pen, model, head);
      paintUnfoldedEdges(pen, model, sheet);
    },
  };
}

/** `takePast`: the whole trace stands on this canvas, and nothing over it. */
function standingPicture(
  easel: Easel,
  key: string,
  tail: Tail | null,
  takePast: (canvas: CanvasRenderingContext2D) => void,
): ChartPicture {
  const { model, sheet, ratio, kept, penOn, head } = easel;
  return {
    ...drawnOn(easel, traceOn(easel, tail?.sinceMs), tail?.sinceMs),
    paintBefore: (canvas) => {
      if (tail !== null) {
        kept.past.put(canvas, ratio);
        clipFrom(penOn(canvas), tail.x, sheet);
      }
      layGround(easel, canvas);
    },
    paintAfter: (canvas) => {
      const pen = penOn(canvas);
      if (tail === null) takePast(canvas);
      else canvas.restore();
      paintNow(pen, model, sheet);
      const words = JSON.stringify([key, wordsOf(model, sheet)]);
      kept.words.lay(canvas, sheet.size, ratio, words, (above) => {
        paintNamed(penOn(above), easel, traceOn(easel).estimate);
        paintUnfoldedEdges(penOn(above), model, sheet);
      });
      if (head !== null) paintHead(pen, model, head);
    },
  };
}

/** Readings would only thicken it. `sinceMs`: what is older is left out. */
function traceOn({ model, sheet }: Easel, sinceMs?: number): Trace {
  return traceOf(model, sheet, { reading: 0, estimate: sheet.metrics.traceW }, sinceMs);
}

/** Nothing is painted left of `x`, rounded to a device pixel, until the canvas is restored. */
function clipFrom({ canvas, ratio }: Pen, x: number, { size: { width, height } }: Sheet): void {
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

/** The numbers are the key to the notes and go first, the names of the bounds where there is room left. `paintHere`: over the holes, beneath all words. */
function paintNamed(pen: Pen, easel: Easel, estimate: readonly MapPoint[], paintHere = (): void => undefined): void {
  const { model, sheet } = easel;
  const places = placesRound(pen, easel, estimate);
  paintHere();
  paintMarks(pen, model, sheet, places, paintNumbers);
  const names = placeNames(pen, model, sheet, places);
  model.envelope?.name(pen, model, sheet, places);
  writeNames(pen, names);
}

function paintPlayHead(pen: Pen, model: RoadModel, sheet: Sheet): void {
  const now = nowOn(model, sheet);
  if (now === null) return;
  const [{ x, y: top }, { y: foot }] = now;
  const colour = pen.palette.ink;
  line(pen, { x, y: top - 6 }, { x, y: foot + 4 }, { colour, width: 4 });
  fill(pen, spotsAt(x - 12, top - 18, x + 12, top - 18, x, top - 3), colour);
}
