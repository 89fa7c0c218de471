/** Paints where the bowl stands: the now line, the ring at the head of the trace, the play head, holes in the map. */
import { paperOf } from './ground.ts';
import type { RoadModel } from './model.ts';
import { disc, edge, fill, line, spotsAt, within, write, writeUpward, widthOf } from './pen.ts';
import type { Pen, Spot } from './pen.ts';
import { panelOf, xAt, yAt } from './sheet.ts';
import type { Box, Panel, Sheet } from './sheet.ts';
import type { Hole } from '../curve.ts';
import { degrees } from '../words/measure.ts';
import { ON_MAP } from '../words/road.ts';

/** A hole narrower than this shows as a break of the line only, px (ours). */
const LEAST_HOLE = 6;
/** From this width on a hole says what it is, px. */
const NAMED_HOLE = 24;
const HEAD_EDGE = 3;

export interface Head {
  readonly panel: Panel;
  readonly x: number;
  readonly y: number;
  readonly valueC: number;
  /** The value stands off the panel's scale; it is told at the edge. */
  readonly off: 'above' | 'below' | null;
}

/** Where the head stands; null where there is nothing to show, or nothing goes on. A stale one stays where the last good value was. */
export function headOf(model: RoadModel, sheet: Sheet): Head | null {
  if (model.live === 'over') return null;
  const atMs = model.live === 'stale' ? (model.curve.lastAtMs() ?? model.nowMs) : model.nowMs;
  const valueC = headValue(model, atMs);
  if (valueC === null) return null;
  const panel = panelOf(sheet, atMs);
  if (atMs < panel.view.fromMs || atMs > panel.view.toMs) return null;
  const x = xAt(panel, atMs);
  const [lowC, highC] = panel.range;
  return { panel, x, y: yAt(panel, valueC, x), valueC, off: valueC > highC ? 'above' : valueC < lowC ? 'below' : null };
}

function headValue(model: RoadModel, atMs: number): number | null {
  if (model.live === 'live' && model.estimate !== null) return model.estimate.tempC;
  return model.curve.estimateAt(atMs);
}

/** What the head keeps free of words. */
export function headBox(pen: Pen, head: Head): Box {
  const reach = pen.metrics.ringR + pen.metrics.ringW;
  return { x: head.x - reach, y: head.y - reach, width: 2 * reach, height: 2 * reach };
}

export function paintNow(pen: Pen, model: RoadModel, sheet: Sheet): void {
  const now = nowOn(model, sheet);
  if (now === null) return;
  const [from, to] = now;
  line(pen, from, to, { colour: pen.palette['map-ink'], width: 2.5, dash: [2.5, 5.5] });
}

/** Top and foot of the line that now is; null where it is out of view, or nothing goes on. */
export function nowOn({ live, nowMs }: RoadModel, sheet: Sheet): readonly [top: Spot, foot: Spot] | null {
  const panel = panelOf(sheet, nowMs);
  const { view, box } = panel;
  if (live === 'stale' || live === 'over' || nowMs < view.fromMs || nowMs > view.toMs) return null;
  const x = xAt(panel, nowMs);
  return [
    { x, y: box.y },
    { x, y: box.y + box.height },
  ];
}

export function paintHead(pen: Pen, model: RoadModel, head: Head): void {
  if (head.off !== null) return paintOff(pen, head, head.off);
  const { palette, metrics } = pen;
  const { ringR: radius, ringW: width } = metrics;
  const isOld = model.live === 'stale';
  disc(pen, head, radius + width / 2 + HEAD_EDGE, palette['trace-edge']);
  const dash = isOld ? dotsRound(radius, width * 0.62) : [];
  disc(pen, head, radius, isOld ? palette.verge : palette.lane, {
    colour: palette.trace,
    width: isOld ? width * 0.62 : width,
    dash,
  });
}

/** Dots that close evenly round a ring. */
function dotsRound(radius: number, size: number): number[] {
  const round = 2 * Math.PI * radius;
  const pairs = Math.max(6, Math.round(round / (2 * size)));
  return [round / pairs / 2, round / pairs / 2];
}

/** Off the scale: an arrow at the edge, and the value. */
function paintOff(pen: Pen, head: Head, side: 'above' | 'below'): void {
  const { palette, metrics } = pen;
  const { box } = head.panel;
  const up = side === 'above' ? -1 : 1;
  const tip = side === 'above' ? box.y + 4 : box.y + box.height - 4;
  const half = metrics.ringR;
  const back = tip - up * half * 1.3;
  const corners = spotsAt(head.x, tip, head.x + half, back, head.x - half, back);
  edge(pen, corners, { colour: palette['trace-edge'], width: 2 * HEAD_EDGE });
  fill(pen, corners, palette.trace);
  const words = degrees(head.valueC);
  const lettering = { size: metrics.text.level, weight: 800 };
  const width = widthOf(pen, words, lettering);
  const fitsRight = head.x + half + 8 + width < box.x + box.width;
  const x = fitsRight ? head.x + half + 8 : head.x - half - 8 - width;
  const y = side === 'above' ? tip + lettering.size : tip - 6;
  write(pen, words, { x, y }, { ...lettering, colour: palette['map-ink'], outline: palette.verge });
}

/** Stretches without a reading are cut out of the map: page-coloured, two dashed edges. Returns the boxes they take. */
export function paintHoles(pen: Pen, model: RoadModel, sheet: Sheet): Box[] {
  return sheet.panels.flatMap((panel) => {
    const { box } = panel;
    return holesIn(model, panel).map((hole) => {
      const x0 = Math.max(box.x, xAt(panel, hole.fromMs));
      const x1 = Math.min(box.x + box.width, xAt(panel, hole.toMs));
      paintHole(pen, panel, x0, x1);
      return { x: x0, y: box.y, width: x1 - x0, height: box.height };
    });
  });
}

/** The stretches of a panel without a reading that are wide enough to be shown. */
export function holesIn({ curve, live, nowMs }: RoadModel, { view, box }: Panel): Hole[] {
  const leastMs = ((view.toMs - view.fromMs) / box.width) * LEAST_HOLE;
  return curve.holes(view.fromMs, view.toMs, leastMs, live === 'playback' ? -Infinity : nowMs);
}

function paintHole(pen: Pen, panel: Panel, x0: number, x1: number): void {
  const { palette, metrics } = pen;
  const paper = paperOf(panel, x0, x1);
  fill(pen, paper, palette.slab);
  const side = { colour: palette.ink, width: 3, dash: [6, 5] };
  line(pen, { x: x0, y: paper[0]!.y }, { x: x0, y: paper[3]!.y }, side);
  line(pen, { x: x1, y: paper[1]!.y }, { x: x1, y: paper[2]!.y }, side);
  const size = metrics.text.label * 0.95;
  const length = widthOf(pen, ON_MAP.noReading, { size });
  if (x1 - x0 < NAMED_HOLE || length > panel.box.height * 0.6) return;
  const y = panel.box.y + panel.box.height * 0.1 + length;
  within(pen, paper, () =>
    writeUpward(pen, ON_MAP.noReading, { x: (x0 + x1) / 2 + size * 0.35, y }, { size, colour: palette.ink }),
  );
}
