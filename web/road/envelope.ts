/** Paints the envelope of the best runs: a pale lane behind the trace, counted from the entry of each phase, named once. */
import { paperOf, reachesOf } from './ground.ts';
import type { Reach } from './ground.ts';
import type { Places } from './labels.ts';
import type { DrawnEnvelope, Envelope, RoadModel, Spread } from './model.ts';
import type { Stretch } from './panels.ts';
import { fill, path, within, wordBox, writeIn } from './pen.ts';
import type { Pen, Setting } from './pen.ts';
import { xAt, yAt } from './sheet.ts';
import type { Box, Panel, Sheet } from './sheet.ts';
import { ON_MAP } from '../words/road.ts';

/** The lane is never drawn thinner than this, px (ours: a single run is to be seen beside the trace). */
const LEAST_LANE = 8;
/** How much of the ground it takes away (ours: no bound under it may be lost). */
const OPACITY = 0.34;
const EDGE = { width: 1.5, dash: [2, 4] };
/** Its name is smaller than those of the bounds, and one of these distances off the lane, px (ours: further off it names nothing). */
const NAME_SHARE = 0.85;
const NAME_OFF = [5, 16, 28, 40] as const;
/** Distance between the places tried along it, px. */
const ALONG = 24;

/** A step of the envelope on the map, CSS px. */
export interface LaneSpot {
  readonly x: number;
  readonly top: number;
  readonly foot: number;
}

/** What the best runs were as long after entering this phase; null: nothing is known of that. */
export function spreadAt({ envelope, phases }: RoadModel, { phase, fromMs }: Stretch, atMs: number): Spread | null {
  if (envelope === undefined || phases.length === 0) return null;
  return envelope.phases[phase.id]?.[Math.floor((atMs - fromMs) / envelope.stepMs)] ?? null;
}

/** The unbroken pieces of the envelope in a stay on the map: from its entry, through now, to the edge of the view or the stay's end. */
export function lanesOf(model: RoadModel, { panel, stretch }: Reach): LaneSpot[][] {
  const { envelope, phases } = model;
  if (envelope === undefined || phases.length === 0) return [];
  const { stepMs } = envelope;
  const toMs = stretch.going ? panel.view.toMs : Math.min(panel.view.toMs, stretch.toMs);
  const lanes: LaneSpot[][] = [[]];
  (envelope.phases[stretch.phase.id] ?? []).forEach((spread, step) => {
    const atMs = stretch.fromMs + (step + 0.5) * stepMs;
    /* A step beyond either side, so that the lane reaches the edge. */
    if (atMs < panel.view.fromMs - stepMs || atMs > toMs + stepMs) return;
    if (spread === null) lanes.push([]);
    else lanes.at(-1)!.push(spotAt(panel, atMs, spread));
  });
  return lanes.filter((lane) => lane.length > 0);
}

function spotAt(panel: Panel, atMs: number, [lowC, highC]: Spread): LaneSpot {
  const x = xAt(panel, atMs);
  const [top, foot] = [yAt(panel, highC, x), yAt(panel, lowC, x)];
  const lack = Math.max(0, LEAST_LANE - (foot - top)) / 2;
  return { x, top: top - lack, foot: foot + lack };
}

export function drawn(envelope: Envelope): DrawnEnvelope {
  return { ...envelope, paint: paintEnvelope, name: nameEnvelope };
}

function paintEnvelope(pen: Pen, model: RoadModel, sheet: Sheet): void {
  for (const panel of sheet.panels)
    for (const reach of reachesOf(panel))
      within(pen, paperOf(panel, reach.x0, endOf(reach)), () => {
        for (const lane of lanesOf(model, reach)) paintLane(pen, lane);
      });
}

/** Where a stay ends on the map, px: at its end, or while it is going at the edge of the panel. */
function endOf({ panel, stretch, x1 }: Reach): number {
  return stretch.going ? x1 : Math.min(x1, xAt(panel, stretch.toMs));
}

function paintLane(pen: Pen, lane: readonly LaneSpot[]): void {
  const high = lane.map(({ x, top }) => ({ x, y: top }));
  const low = lane.map(({ x, foot }) => ({ x, y: foot }));
  const { canvas, palette } = pen;
  canvas.globalAlpha = OPACITY;
  fill(pen, [...high, ...low.toReversed()], palette.centre);
  canvas.globalAlpha = 1;
  for (const edge of [high, low]) path(pen, edge, { colour: palette.hatch, ...EDGE });
}

/** Beside the lane where nothing else stands, else on it; nowhere where everything is taken. */
function nameEnvelope(pen: Pen, model: RoadModel, sheet: Sheet, places: Places): void {
  const setting: Setting = {
    size: pen.metrics.text.label * NAME_SHARE,
    weight: 650,
    colour: pen.palette['map-ink'],
    outline: pen.palette.verge,
  };
  const size = wordBox(pen, ON_MAP.best, setting, { x: 0, y: 0 });
  const lanes = sheet.panels.flatMap((panel) => reachesOf(panel).flatMap((reach) => lanesOf(model, reach)));
  for (const lane of lanes) places.takeLines(...boxesOf(lane));
  const tries = placesAlong(lanes.flat(), size);
  const box = places.first(tries) ?? places.first(tries, true);
  if (box !== null) writeIn(pen, ON_MAP.best, box, setting);
}

/** What the lane itself keeps free of words. */
function boxesOf(lane: readonly LaneSpot[]): Box[] {
  return lane.slice(1).map((to, i) => {
    const from = lane[i]!;
    const top = Math.min(from.top, to.top);
    return { x: from.x, y: top, width: to.x - from.x, height: Math.max(from.foot, to.foot) - top };
  });
}

/** Nearest to the lane first. */
function placesAlong(spots: readonly LaneSpot[], { width, height }: Box): Box[] {
  const apart = spots.filter(
    (spot, i) => i === 0 || Math.floor(spot.x / ALONG) !== Math.floor(spots[i - 1]!.x / ALONG),
  );
  return NAME_OFF.flatMap((off) =>
    apart.flatMap(({ x, top, foot }) =>
      [top - off - height, foot + off].flatMap((y) =>
        [0.5, 0, 1].map((share) => ({ x: x - share * width, y, width, height })),
      ),
    ),
  );
}
