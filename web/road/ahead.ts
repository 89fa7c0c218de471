/** Paints what is to be expected: the fan with its beads, and at a choice the fork. */
import type { FanBead } from '../../server/core/bowl/estimate.ts';
import type { Head } from './head.ts';
import { boxesAlong } from './labels.ts';
import type { Places } from './labels.ts';
import type { RoadModel } from './model.ts';
import { disc, fill, onGround, path, wordBox, writeIn } from './pen.ts';
import type { Pen, Spot } from './pen.ts';
import { xAt, yAt } from './sheet.ts';
import type { Box, Sheet } from './sheet.ts';
import { isCooledBy } from '../way-form.ts';
import { degrees } from '../words/measure.ts';
import { ON_MAP } from '../words/road.ts';
import { leftName } from '../words/way.ts';

/** Beads stand this far apart; every second is large, so that two large ones are a minute. */
const BEAD_S = 30;

/** Whether there is a forecast to draw: never from an old value, and only while the present is in view. */
export function looksAhead(model: RoadModel, sheet: Sheet, head: Head | null): head is Head {
  return model.live !== 'stale' && sheet.unfolded === null && head !== null && model.fan.length > 0;
}

export function paintFan(pen: Pen, model: RoadModel, head: Head): void {
  const { palette, metrics } = pen;
  const stroke = { colour: palette['fan-edge'], width: 2 };
  const [high, low] = [fanLine(model, head, 'highC'), fanLine(model, head, 'lowC')];
  if (model.uncertain === true) {
    for (const side of [high, low]) path(pen, side, { ...stroke, dash: [6, 4] });
    return;
  }
  fill(pen, [...high, ...low.toReversed()], palette.fan);
  for (const side of [high, low]) path(pen, side, stroke);
  path(pen, fanLine(model, head, 'medianC'), {
    colour: palette.trace,
    width: (model.leftOn === undefined ? 2.5 : 4.5) * metrics.scale,
  });
}

/** Painted after the trace: beads must not be hidden by the fork. */
export function paintBeads(pen: Pen, model: RoadModel, head: Head): void {
  if (model.uncertain === true) return;
  const { palette, metrics } = pen;
  for (const bead of model.fan) {
    if (bead.inS % BEAD_S !== 0) continue;
    const spot = beadSpot(model, head, bead, 'medianC');
    const isLarge = bead.inS % (2 * BEAD_S) === 0;
    disc(pen, spot, (isLarge ? 7 : 5) * metrics.scale, palette['trace-edge']);
    disc(pen, spot, (isLarge ? 5 : 3) * metrics.scale, palette.trace);
  }
}

type Side = 'lowC' | 'medianC' | 'highC';

/** From the head on. */
function fanLine(model: RoadModel, head: Head, side: Side, beads = model.fan): Spot[] {
  return [head, ...beads.map((bead) => beadSpot(model, head, bead, side))];
}

function beadSpot(model: RoadModel, { panel }: Head, bead: FanBead, side: Side): Spot {
  const x = xAt(panel, model.nowMs + bead.inS * 1000);
  return { x, y: yAt(panel, bead[side], x) };
}

/** What the fan and its fork keep free of words. */
export function takeAhead(places: Places, model: RoadModel, head: Head): void {
  for (const side of ['highC', 'lowC'] as const) places.take(...boxesAlong(fanLine(model, head, side), 6));
  places.take(...boxesAlong(fanLine(model, head, 'medianC').slice(1), 12));
  if (model.leftOn !== undefined) places.take(...boxesAlong(fanLine(model, head, 'medianC', model.leftOn), 10));
}

/** At an act-now cue: solid into the band if heeded, dashed through the ceiling if not. */
export function paintFork(pen: Pen, model: RoadModel, head: Head, places: Places): void {
  if (model.leftOn === undefined || model.leftOn.length === 0) return;
  const { palette, metrics } = pen;
  const spots = fanLine(model, head, 'medianC', model.leftOn);
  path(pen, spots, { colour: palette['trace-edge'], width: 10 * metrics.scale });
  path(pen, spots, { colour: palette['mark-ink'], width: 4.5 * metrics.scale, dash: [10, 5] });
  const heeded = furthest(model.fan, model.leftOn, head.valueC);
  writeNear(pen, places, ON_MAP.offNow(degrees(heeded.medianC)), [beadSpot(model, head, heeded, 'medianC')]);
  const inView = spots.filter(({ x, y }) => y > head.panel.box.y && x <= head.panel.box.x + head.panel.box.width);
  writeNear(pen, places, leftName(model.leftOn, head.valueC), farFirst(alongLine(inView)));
}

/** Where it turns: what the sentence beside it calls where it coasts to, not where it has drifted back to by the end. */
export function furthest(heeded: readonly FanBead[], left: readonly FanBead[], nowC: number): FanBead {
  const way = isCooledBy(left, nowC) ? -1 : 1;
  return heeded.reduce((far, bead) => ((bead.medianC - far.medianC) * way > 0 ? bead : far));
}

/** Points between the corners of a line, so that words find a place anywhere along it. */
function alongLine(corners: readonly Spot[]): Spot[] {
  return corners.slice(1).flatMap((to, i) => {
    const from = corners[i]!;
    return [0.25, 0.5, 0.75, 1].map((t) => ({ x: from.x + t * (to.x - from.x), y: from.y + t * (to.y - from.y) }));
  });
}

/** From three quarters of the way back to the start, then the rest: beside the line, clear of the map's top. */
function farFirst(spots: readonly Spot[]): Spot[] {
  const at = Math.ceil(spots.length * 0.75);
  return [...spots.slice(0, at).toReversed(), ...spots.slice(at)];
}

/** Further from its spot than this a place has to be nearer than the one beside the spot before, px (ours). */
const RANK_PX = 4;

/** Words beside one of these spots, dearest first: the nearest place that has room, off the line and on the ground. */
function writeNear(pen: Pen, places: Places, words: string, spots: readonly Spot[]): void {
  const setting = onGround(pen, pen.metrics.text.note);
  const tries = spots.flatMap((spot, rank) =>
    placesBeside(wordBox(pen, words, setting, spot), spot).map(({ box, off }) => ({ box, cost: off + rank * RANK_PX })),
  );
  const box = places.first(tries.toSorted((a, b) => a.cost - b.cost).map((each) => each.box));
  if (box !== null) writeIn(pen, words, box, setting);
}

/** Places round a spot, and how far off it each is, px; up and down counts twice, so that words rather stand beside. */
function placesBeside({ width, height }: Box, { x, y }: Spot): { readonly box: Box; readonly off: number }[] {
  const columns = [-1.1, -1, -0.75, -0.5, -0.25, 0.05].map((share) => x + share * width - (share < -1 ? 16 : 0));
  const rows = Array.from({ length: 23 }, (_, i) => y - height / 2 + (i - 11) * 14);
  const away = (box: Box): number => Math.hypot(box.x + width / 2 - x, 2 * (box.y + height / 2 - y));
  return columns
    .flatMap((left) => rows.map((top) => ({ x: left, y: top, width, height })))
    .map((box) => ({ box, off: away(box) }));
}
