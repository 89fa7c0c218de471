/**
 * Marks on the trace and their words: which stand where, which share a word, which number a mark carries in an overview.
 * Pure but for the painting at the end.
 */
import type { RoadModel, Mark } from './model.ts';
import type { Places } from './labels.ts';
import { laneAt } from './ground.ts';
import { disc, edge, fill, line, spotsAt, widthOf, wordBox, write, writeIn } from './pen.ts';
import type { Pen, Setting } from './pen.ts';
import { insetAt, panelOf, xAt, yAt } from './sheet.ts';
import type { Box, Panel, Sheet } from './sheet.ts';
import { ON_MAP } from '../words/road.ts';

/** More than two notes within this share one word: "3 notes", px. */
const CROWD = 80;
const MOST_WORDS_IN_CROWD = 2;
/** Longest words beside a mark, px; longer ones end in an ellipsis. */
const LONGEST_WORDS = 240;
/** How far an alarm's mark stands off its moment on the trace, px, nearest first. */
const ALARM_OFF = [14, 20, 26, 33, 40, 66];
/** A span's bracket stands so far above the foot of its panel and is so high, px; as many stand above one another. */
const SPAN_FOOT = 10;
const SPAN_HIGH = 8;
const SPAN_ROWS = 3;

/** A mark with its place on the map. */
export interface Stood {
  readonly mark: Mark;
  readonly panel: Panel;
  readonly x: number;
  readonly y: number;
  /** Its number in an overview; 0 for what isn't numbered. */
  readonly number: number;
}

/** What a person noted and did, oldest first, numbered from 1 as in the overview: the key for a list beside the map. */
export function numbered(marks: readonly Mark[]): { readonly number: number; readonly mark: Mark }[] {
  return marks
    .filter((mark) => mark.kind === 'note' || mark.kind === 'act')
    .toSorted((a, b) => a.atMs - b.atMs)
    .map((mark, i) => ({ number: i + 1, mark }));
}

/** Neighbours no further than `apart` from the first of their group. */
export function crowds<T extends { readonly x: number }>(stood: readonly T[], apart: number): T[][] {
  const groups: T[][] = [];
  for (const one of stood.toSorted((a, b) => a.x - b.x)) {
    const group = groups.at(-1);
    if (group !== undefined && one.x - group[0]!.x <= apart) group.push(one);
    else groups.push([one]);
  }
  return groups;
}

/** `paintNotes`: what stands beside the marks of notes and acts. */
export function paintMarks(pen: Pen, model: RoadModel, sheet: Sheet, places: Places, paintNotes = paintInWords): void {
  for (const panel of sheet.panels) paintSpans(pen, places, model.marks, panel);
  const stood = standing(model, sheet);
  if (sheet.unfolded === null) for (const cue of stood.filter(({ mark }) => mark.kind === 'cue')) paintCue(pen, cue);
  for (const alarm of stood.filter(({ mark }) => mark.kind === 'alarm')) paintAlarm(pen, places, alarm);
  const notes = stood.filter(({ number }) => number > 0);
  paintNotes(pen, places, notes);
  for (const note of notes) paintDiamond(pen, note);
}

/** A span as a bracket along the foot of each panel it runs through: an upright where it begins and ends, none where it goes on. */
function paintSpans(pen: Pen, places: Places, marks: readonly Mark[], panel: Panel): void {
  const { fromMs, toMs } = panel.view;
  const spans = marks.filter(({ atMs, untilMs = atMs }) => untilMs > atMs && atMs < toMs && untilMs > fromMs);
  spans.forEach(({ atMs, untilMs = atMs }, i) => {
    const [left, right] = [xAt(panel, Math.max(atMs, fromMs)), xAt(panel, Math.min(untilMs, toMs))];
    const y = panel.box.y + panel.box.height - insetAt(panel, left) - SPAN_FOOT * (1 + (i % SPAN_ROWS));
    places.take({ x: left, y: y - SPAN_HIGH, width: right - left, height: SPAN_HIGH + 2 });
    const uprights = [...(atMs >= fromMs ? [left] : []), ...(untilMs <= toMs ? [right] : [])];
    for (const [colour, width] of [
      [pen.palette.lane, 7],
      [pen.palette['mark-ink'], 3.5],
    ] as const) {
      line(pen, { x: left, y }, { x: right, y }, { colour, width });
      for (const x of uprights) line(pen, { x, y: y - SPAN_HIGH }, { x, y: y + 1 }, { colour, width });
    }
  });
}

function standing(model: RoadModel, sheet: Sheet): Stood[] {
  const numbers = new Map(numbered(model.marks).map(({ mark, number }) => [mark, number]));
  return model.marks.flatMap((mark) => {
    const panel = panelOf(sheet, mark.atMs);
    if (mark.atMs < panel.view.fromMs || mark.atMs > panel.view.toMs) return [];
    const x = xAt(panel, mark.atMs);
    const valueC = model.curve.estimateAt(mark.atMs) ?? middleOf(panel);
    const y = yAt(panel, valueC, x);
    const isOnMap = y > panel.box.y && y < panel.box.y + panel.box.height;
    return isOnMap ? { mark, panel, x, y, number: numbers.get(mark) ?? 0 } : [];
  });
}

function middleOf(panel: Panel): number {
  const [lowC, highC] = panel.stretches.at(-1)?.phase.bandC ?? panel.range;
  return (lowC + highC) / 2;
}

function paintDiamond(pen: Pen, { x, y }: Stood): void {
  const half = 9 * pen.metrics.scale;
  const corners = spotsAt(x, y - half, x + half, y, x, y + half, x - half, y);
  fill(pen, corners, pen.palette.mark);
  edge(pen, corners, { colour: pen.palette['mark-ink'], width: 2.5 });
}

function paintCue(pen: Pen, spot: Stood): void {
  disc(pen, spot, 6 * pen.metrics.scale, pen.palette['mark-ink'], { colour: pen.palette.mark, width: 2.5 });
}

function paintAlarm(pen: Pen, places: Places, { x, y, panel }: Stood): void {
  const size = 17 * pen.metrics.scale;
  const box = { x: x - size, width: 2 * size, height: 2 * size };
  const above = ALARM_OFF.map((off) => y - off - 2 * size);
  const tops = [...above, panel.box.y + 4, ...ALARM_OFF.map((off) => y + off)];
  const place = places.first(
    tops.map((top) => ({ ...box, y: top })),
    true,
  );
  if (place === null) return;
  const foot = place.y + 2 * size - 3;
  const corners = spotsAt(x, place.y + 2, x + size, foot, x - size, foot);
  edge(pen, corners, { colour: pen.palette.verge, width: 8 });
  fill(pen, corners, pen.palette.mark);
  edge(pen, corners, { colour: pen.palette['mark-ink'], width: 3 });
  write(
    pen,
    '!',
    { x, y: place.y + 2 * size - 8 },
    { size: size * 1.15, weight: 800, colour: pen.palette['mark-ink'], align: 'center' },
  );
}

function paintInWords(pen: Pen, places: Places, notes: readonly Stood[]): void {
  for (const group of crowds(notes, CROWD * pen.metrics.scale).toReversed())
    if (group.length <= MOST_WORDS_IN_CROWD) for (const note of group) paintWords(pen, places, note, note.mark.text);
    else paintWords(pen, places, group[Math.floor(group.length / 2)]!, ON_MAP.notes(group.length));
}

/** The words beyond the lane, above or below, on a stalk; none where there is no room. */
function paintWords(pen: Pen, places: Places, spot: Stood, words: string): void {
  const { palette, metrics } = pen;
  const setting: Setting = {
    size: metrics.text.note,
    person: true,
    colour: palette['map-ink'],
    outline: palette.verge,
  };
  const text = shortened(pen, words, setting);
  const { width, height } = wordBox(pen, text, setting, spot);
  const box = places.first(wordPlaces(pen, spot, { width, height }));
  if (box === null) return;
  paintStalk(pen, spot, box);
  writeIn(pen, text, box, setting);
}

function wordPlaces(
  pen: Pen,
  { panel, x, y, number }: Stood,
  { width, height }: { width: number; height: number },
): Box[] {
  const k = pen.metrics.scale;
  const lane = laneAt(panel, panel.stretches.at(-1)!.phase, x);
  const isOnLane = y > lane.top - 30 && y < lane.foot + 30;
  const below = isOnLane ? Math.max(lane.foot, y) + 12 * k : y + 52 * k;
  const above = isOnLane ? Math.min(lane.top, y) - 12 * k - height : y - 44 * k - height;
  const rows = [below, above, below + 30 * k, above - 30 * k];
  const ordered = number % 2 === 1 ? rows : [rows[1]!, rows[0]!, rows[3]!, rows[2]!];
  const columns = [0.5, 0.2, 0.8, 0.05, 0.95].map((share) => x - width * share);
  return ordered.flatMap((top) => columns.map((left) => ({ x: left, y: top, width, height })));
}

/** From the mark to the nearest point of its words or disc. */
export function paintStalk(pen: Pen, { x, y }: Stood, box: Box): void {
  const inset = Math.min(box.width / 2, box.height / 3);
  const end = {
    x: Math.min(box.x + box.width - inset, Math.max(box.x + inset, x)),
    y: box.y > y ? box.y - 2 : box.y + box.height + 1,
  };
  line(pen, { x, y }, end, { colour: pen.palette.lane, width: 5 });
  line(pen, { x, y }, end, { colour: pen.palette['mark-ink'], width: 2 });
}

function shortened(pen: Pen, words: string, setting: Setting): string {
  const longest = LONGEST_WORDS * pen.metrics.scale;
  if (widthOf(pen, words, setting) <= longest) return words;
  let kept = words;
  while (kept.length > 1 && widthOf(pen, `${kept}…`, setting) > longest) kept = kept.slice(0, -1).trimEnd();
  return `${kept}…`;
}
