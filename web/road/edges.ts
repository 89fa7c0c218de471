/** Paints what stands round the map: the rail with the phase's name, the times along the foot, the temperatures in the gutter. */
import { alongEdge } from './labels.ts';
import type { Wish } from './labels.ts';
import type { RoadModel } from './model.ts';
import { cornersOf, crisp, fill, line, path, spotsAt, widthOf, write } from './pen.ts';
import type { Pen, Setting } from './pen.ts';
import { panelOf, xAt, yAt } from './sheet.ts';
import type { Panel, Sheet } from './sheet.ts';
import { levels, wordTicks } from './ticks.ts';
import type { Tick } from './ticks.ts';
import { unitSign } from '../words/manner.ts';
import { span } from '../words/measure.ts';
import { phaseName } from '../words/names.ts';
import { ON_MAP } from '../words/road.ts';

/** A gutter number moves at most this far from its line, as a share of its size (ours). */
const LEVEL_GIVE = 0.7;
/** A time moves at most this far from its stroke, px. */
const TICK_GIVE = 40;
const TICK_GAP = 12;
/** So far the last time stands in from the edge of the screen, px. */
const FOOT_END = 5;
/** Room one time takes along the foot, px. */
const TICK_ROOM = 105;
const SECOND_MS = 1_000;

/** All that the edges of an open panel are painted from, but for the colours. */
export function edgesOf(pen: Pen, model: RoadModel, sheet: Sheet): unknown {
  const { open, plot, rail, panels, metrics } = sheet;
  const { view, range } = panels[0]!;
  const ticks = ticksOf(pen, model, sheet).map(({ atMs, text }) => [atMs - view.fromMs, text]);
  const spanMs = view.toMs - view.fromMs;
  return [open.phase, plot, rail, range, metrics.scale, unitSign(), railWords(model, sheet), spanMs, ticks];
}

export function paintEdges(pen: Pen, model: RoadModel, sheet: Sheet): void {
  paintRail(pen, model, sheet);
  paintTicks(pen, sheet, ticksOf(pen, model, sheet));
  paintLevels(pen, sheet);
}

function paintRail(pen: Pen, model: RoadModel, sheet: Sheet): void {
  const { palette, metrics } = pen;
  const { rail, open } = sheet;
  if (rail.height === 0) return;
  const tab: Setting = { size: metrics.text.tab, weight: 800, colour: palette.slab };
  const name = phaseName(open.phase.id);
  const tabW = widthOf(pen, name, tab) + 2 * metrics.inset + 4;
  const top = crisp(pen, rail.y + 6, 3);
  const right = crisp(pen, rail.x + rail.width - 1.5, 3);
  path(pen, spotsAt(rail.x, top, right, top, right, rail.y + rail.height - 4), { colour: palette.ink, width: 3 });
  const x0 = rail.x - 2;
  fill(pen, cornersOf({ x: x0, y: rail.y + 2, width: tabW, height: rail.height - 2 }), palette.ink);
  const baseline = rail.y + 2 + (rail.height - 2) / 2 + tab.size * 0.34;
  write(pen, name, { x: x0 + metrics.inset + 2, y: baseline }, tab);
  const setting: Setting = { size: metrics.text.rail, colour: palette.ink, align: 'right' };
  const words = railWords(model, sheet).find((one) => widthOf(pen, one, setting) < rail.width - tabW - 24);
  if (words !== undefined) write(pen, words, { x: right - 10, y: baseline + 2 }, setting);
}

/** Longest first; the first that fits is written. */
function railWords(model: RoadModel, { open, told }: Sheet): string[] {
  if (told !== undefined && told.rail !== null) return [told.rail];
  if (model.phases.length === 0) return [];
  const length = span(((open.going ? model.nowMs : open.toMs) - open.fromMs) / 1000);
  return open.going ? [ON_MAP.soFar(length), length] : [length];
}

function ticksOf(pen: Pen, model: RoadModel, sheet: Sheet): Tick[] {
  const room = tickRoom(pen, sheet);
  if (sheet.told !== undefined) return sheet.told.ticks(room);
  const { view } = sheet.panels[0]!;
  // By whole seconds, as the map slides: in between they stand still.
  const nowMs = Math.floor(model.nowMs / SECOND_MS) * SECOND_MS;
  const share = (nowMs - view.fromMs) / (view.toMs - view.fromMs);
  return wordTicks(view, nowMs, Math.max(1, Math.round(room * share)));
}

/** How many times there is room for along the foot. */
export function tickRoom({ metrics }: Pen, { plot }: Sheet): number {
  return Math.max(1, Math.floor(plot.width / (TICK_ROOM * metrics.scale)));
}

export function paintTicks(pen: Pen, sheet: Sheet, ticks: readonly Tick[]): void {
  const { y } = sheet.axis;
  const { palette, metrics } = pen;
  const [from, to] = footOf(sheet);
  for (const { x, strokeX, words, setting } of placedTicks(pen, sheet, ticks)) {
    const at = Math.min(to - 1, Math.max(from + 1, strokeX));
    line(pen, { x: at, y: y + 1 }, { x: at, y: y + 7 * metrics.scale }, { colour: palette.ink, width: 2 });
    write(pen, words, { x, y: y + 12 * metrics.scale + setting.size * 0.7 }, setting);
  }
}

interface PlacedTick {
  readonly x: number;
  readonly strokeX: number;
  readonly words: string;
  readonly setting: Setting;
}

/** Those that fit; one that doesn't is tried again in its short form. */
function placedTicks(pen: Pen, sheet: Sheet, ticks: readonly Tick[]): PlacedTick[] {
  const [from, to] = footOf(sheet);
  const { scale } = pen.metrics;
  const settings = ticks.map(({ isNow }) => tickSetting(pen, isNow));
  const xs = ticks.map(({ atMs }) => xAt(panelOf(sheet, atMs), atMs));
  const placesFor = (words: readonly string[]): (number | null)[] => {
    const wishes = ticks.map(({ rank }, i) => ({ at: xs[i]!, size: widthOf(pen, words[i]!, settings[i]!), rank }));
    return alongEdge(wishes, from, to, TICK_GAP * scale, TICK_GIVE * scale);
  };
  const full = placesFor(ticks.map(({ text }) => text));
  const words = ticks.map(({ text, short }, i) => (full[i] === null ? short : text));
  return placesFor(words).flatMap((x, i) =>
    x === null ? [] : { x, strokeX: xs[i]!, words: words[i]!, setting: settings[i]! },
  );
}

function tickSetting({ metrics, palette }: Pen, isNow: boolean): Setting {
  const { now, axis } = metrics.text;
  return { size: isNow ? now : axis, weight: isNow ? 800 : 600, colour: palette.ink, align: 'center' };
}

function footOf({ unfolded, plot, metrics }: Sheet): [from: number, to: number] {
  const isOpen = unfolded === null;
  const from = plot.x - (isOpen ? metrics.gutterW : metrics.inset);
  return [Math.max(0, from), plot.x + plot.width - (isOpen ? FOOT_END : 0)];
}

function paintLevels(pen: Pen, sheet: Sheet): void {
  const { palette, metrics } = pen;
  const panel: Panel = sheet.panels[0]!;
  const { phase } = sheet.open;
  const size = metrics.text.level;
  const shown = levels(phase, panel.range);
  const wishes = shown.map(({ valueC, rank }): Wish => ({ at: yAt(panel, valueC, panel.box.x), size, rank }));
  const places = alongEdge(
    wishes,
    // Where nothing stands over the map it ends at the edge of the drawing.
    Math.max(0, panel.box.y - size / 2),
    panel.box.y + panel.box.height + size / 2,
    0,
    size * LEVEL_GIVE,
  );
  places.forEach((y, i) => {
    if (y === null) return;
    write(
      pen,
      shown[i]!.text,
      { x: panel.box.x - 9, y: y + size * 0.35 },
      { size, weight: 700, colour: palette.ink, align: 'right' },
    );
  });
}
