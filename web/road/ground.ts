/** Paints the ground of a panel: verge, hatching, the lit lane with its kerbs, ceiling, lost line and floor. Nothing that moves. */
import type { Phase } from '../../server/core/record/profile.ts';
import { crisp, dots, fill, hatch, line, spotsAt, within } from './pen.ts';
import type { Pen, Spot } from './pen.ts';
import type { Stretch } from './panels.ts';
import { insetAt, xAt, yAt } from './sheet.ts';
import type { Box, Panel } from './sheet.ts';

/** A lane is never drawn thinner than this, px (ours: it must be found at arm's length). */
const LEAST_LANE = 10;
const HATCH_PITCH = 14;
const CROSS_PITCH = 16;
const DOT_PITCH = 16;
const KERB_W = 3;
const CEILING_W = 6;
const TOOTH = { width: 5, height: 10, every: 18 };
const LOST_W = 3.5;
const LOST_APART = 9;

/** A part of a panel from `x0` to `x1`, ruled by one phase. */
export interface Reach {
  readonly panel: Panel;
  readonly stretch: Stretch;
  readonly x0: number;
  readonly x1: number;
}

/** The parts of a panel by phase. The first reaches to its left edge, the last to its right, so that no ground is left bare. */
export function reachesOf(panel: Panel): Reach[] {
  const left = panel.box.x;
  const right = left + panel.box.width;
  return panel.stretches.map((stretch, i) => ({
    panel,
    stretch,
    x0: i === 0 ? left : Math.min(right, Math.max(left, xAt(panel, stretch.fromMs))),
    x1: i === panel.stretches.length - 1 ? right : Math.min(right, Math.max(left, xAt(panel, stretch.toMs))),
  }));
}

export function paintGround(pen: Pen, panel: Panel): void {
  const whole = paperOf(panel, panel.box.x, panel.box.x + panel.box.width);
  const { verge } = pen.palette;
  fill(pen, whole, panel.leftInset === panel.rightInset ? verge : shade(pen, panel, verge));
  for (const reach of reachesOf(panel)) within(pen, paperOf(panel, reach.x0, reach.x1), () => paintReach(pen, reach));
}

/** A slanting panel turns from the light to one side, so that neighbours differ; `lit`: its colour at the other. */
export function shade({ canvas, palette }: Pen, { box, leftInset }: Panel, lit: string): CanvasGradient {
  const gradient = canvas.createLinearGradient(box.x, 0, box.x + box.width, 0);
  const colours = [palette['fold-b'], lit];
  (leftInset === 0 ? colours : colours.toReversed()).forEach((colour, i) => gradient.addColorStop(i, colour));
  return gradient;
}

/** The paper of a panel between two uprights, its corners clockwise. */
export function paperOf(panel: Panel, x0: number, x1: number): Spot[] {
  const top = panel.box.y;
  const foot = top + panel.box.height;
  const [left, right] = [insetAt(panel, x0), insetAt(panel, x1)];
  return spotsAt(x0, top + left, x1, top + right, x1, foot - right, x0, foot - left);
}

/** Upper and lower edge of the lane at `x`, px. */
export function laneAt(panel: Panel, phase: Phase, x: number): { top: number; foot: number } {
  const top = yAt(panel, phase.bandC[1], x);
  const foot = yAt(panel, phase.bandC[0], x);
  const lack = Math.max(0, LEAST_LANE - (foot - top)) / 2;
  return { top: top - lack, foot: foot + lack };
}

/** The lane between two uprights, its corners clockwise. */
export function laneCorners(panel: Panel, phase: Phase, x0: number, x1: number): Spot[] {
  const [left, right] = [laneAt(panel, phase, x0), laneAt(panel, phase, x1)];
  return spotsAt(x0, left.top, x1, right.top, x1, right.foot, x0, left.foot);
}

function paintReach(pen: Pen, reach: Reach): void {
  const { phase } = reach.stretch;
  paintHot(pen, reach, phase);
  paintCold(pen, reach, phase);
  paintLane(pen, reach, phase);
  if (phase.ceilingC !== undefined) paintCeiling(pen, reach, phase.ceilingC);
  if (phase.lostAboveC !== undefined) paintLost(pen, reach, phase.lostAboveC);
  if (phase.floorC !== undefined) paintFloor(pen, reach, phase.floorC);
}

function paintHot(pen: Pen, reach: Reach, phase: Phase): void {
  const { palette, metrics } = pen;
  const stroke = { colour: palette.hatch, width: 2.5 };
  const [, top] = reach.panel.range;
  if (phase.ceilingC !== undefined)
    within(pen, bandOf(reach, phase.ceilingC, Math.max(phase.ceilingC, phase.lostAboveC ?? top)), () =>
      hatch(pen, reach.panel.box, HATCH_PITCH * metrics.scale, stroke),
    );
  if (phase.lostAboveC === undefined || phase.lostAboveC >= top) return;
  within(pen, bandOf(reach, phase.lostAboveC, top), () => {
    hatch(pen, reach.panel.box, CROSS_PITCH * metrics.scale, stroke);
    hatch(pen, reach.panel.box, CROSS_PITCH * metrics.scale, stroke, true);
  });
}

function paintCold(pen: Pen, reach: Reach, phase: Phase): void {
  const [foot] = reach.panel.range;
  if (phase.floorC === undefined || phase.floorC <= foot) return;
  const corners = bandOf(reach, foot, phase.floorC);
  const top = Math.min(...corners.map(({ y }) => y));
  const box: Box = { ...reach.panel.box, y: top, height: reach.panel.box.y + reach.panel.box.height - top };
  within(pen, corners, () => dots(pen, box, DOT_PITCH * pen.metrics.scale, 1.9 * pen.metrics.scale, pen.palette.hatch));
}

function paintLane(pen: Pen, { panel, x0, x1 }: Reach, phase: Phase): void {
  const { palette, metrics } = pen;
  const corners = laneCorners(panel, phase, x0, x1);
  const [topLeft, topRight, footRight, footLeft] = corners as [Spot, Spot, Spot, Spot];
  fill(pen, corners, palette.lane);
  if (footLeft.y - topLeft.y >= 2 * LEAST_LANE)
    line(pen, middle(topLeft, footLeft), middle(topRight, footRight), {
      colour: palette.centre,
      width: KERB_W,
      dash: [22 * metrics.scale, 18 * metrics.scale],
    });
  const kerb = { colour: palette['map-ink'], width: KERB_W };
  line(pen, topLeft, topRight, kerb);
  line(pen, footLeft, footRight, kerb);
}

function paintCeiling(pen: Pen, reach: Reach, valueC: number): void {
  const { metrics, palette } = pen;
  const { from, to } = levelOf(reach, valueC);
  line(pen, from, to, { colour: palette['map-ink'], width: CEILING_W });
  const every = TOOTH.every * metrics.scale;
  const first = Math.ceil((reach.x0 - reach.panel.box.x) / every) * every + reach.panel.box.x + every / 2;
  for (let x = first; x < reach.x1; x += every) {
    const y = yAt(reach.panel, valueC, x);
    line(pen, { x, y }, { x, y: y - TOOTH.height }, { colour: palette['map-ink'], width: TOOTH.width });
  }
}

/** The bound itself lies between the two lines. */
function paintLost(pen: Pen, reach: Reach, valueC: number): void {
  const { from, to } = levelOf(reach, valueC);
  const shift = LOST_APART / 2;
  fill(pen, [up(from, shift), up(to, shift), up(to, -shift), up(from, -shift)], pen.palette.verge);
  for (const by of [shift, -shift])
    line(pen, up(from, by), up(to, by), { colour: pen.palette['map-ink'], width: LOST_W });
}

function paintFloor(pen: Pen, reach: Reach, valueC: number): void {
  const { from, to } = levelOf(reach, valueC);
  line(pen, from, to, { colour: pen.palette['map-ink'], width: 2.5, dash: [6, 4] });
}

function levelOf({ panel, x0, x1 }: Reach, valueC: number): { from: Spot; to: Spot } {
  return { from: { x: x0, y: yAt(panel, valueC, x0) }, to: { x: x1, y: yAt(panel, valueC, x1) } };
}

/** The ground between two temperatures. */
function bandOf(reach: Reach, lowC: number, highC: number): Spot[] {
  const low = levelOf(reach, lowC);
  const high = levelOf(reach, highC);
  return [high.from, high.to, low.to, low.from];
}

function middle(a: Spot, b: Spot): Spot {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
}

function up({ x, y }: Spot, by: number): Spot {
  return { x, y: y - by };
}

/** Where the fold between two panels runs, painted thin over the ground. */
export function paintCrease(pen: Pen, panel: Panel, x: number): void {
  const at = crisp(pen, x, 1);
  const inset = insetAt(panel, x);
  line(
    pen,
    { x: at, y: panel.box.y + inset },
    { x: at, y: panel.box.y + panel.box.height - inset },
    { colour: pen.palette.hatch, width: 1 },
  );
}
