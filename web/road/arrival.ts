/**
 * The arrival on the near kerb: when the band will be reached, at the earliest and at the latest. Inside the forecast's reach the
 * fan shows the spread and a stroke on the kerb is enough; beyond it stands a triangle on a bracket.
 */
import { nearEdgeC } from '../../server/core/show/course.ts';
import { guess, span } from '../words/measure.ts';
import { ON_MAP } from '../words/road.ts';
import { laneAt } from './ground.ts';
import type { Head } from './head.ts';
import type { Places } from './labels.ts';
import type { RoadModel } from './model.ts';
import { fill, line, onGround, spotsAt, wordBox, writeIn } from './pen.ts';
import type { Pen, Spot } from './pen.ts';
import { xAt, yAt } from './sheet.ts';

/** Beyond this an arrival is only said to be far (ours: nobody plans a stir by a forecast that long). */
const FAR_S = 20 * 60;
/** Under two minutes an arrival is said in steps of this, seconds (ours: it is read, not watched). */
const STEP_S = 5;
/** Space kept for the bracket over the kerb, px. */
const BRACKET_H = 16;

interface Arrival {
  readonly words: string;
  readonly kerbY: number;
  /** -1: stands above the kerb, 1: hangs below it; always the side the trace comes from. */
  readonly sign: 1 | -1;
  /** Where it stands, at the earliest and at the latest, px; none beyond the panel's right. */
  readonly x: number;
  readonly early: number;
  readonly late: number;
  readonly right: number;
  readonly kind: 'in-fan' | 'in-view' | 'beyond';
}

/** Paints the arrival where one is to be expected and can be told; a fork says it by itself. */
export function paintArrival(pen: Pen, model: RoadModel, head: Head, places: Places): void {
  const arrival = arrivalOf(model, head);
  if (arrival === null) return;
  if (arrival.kind === 'in-fan') paintStroke(pen, arrival);
  else {
    places.take(bracketBox(arrival));
    paintBracket(pen, arrival);
    if (arrival.kind === 'in-view') paintArrow(pen, arrival);
  }
  writeArrival(pen, places, arrival);
}

function arrivalOf(model: RoadModel, head: Head): Arrival | null {
  const { panel } = head;
  const { phase } = panel.stretches.at(-1)!;
  const { etaS = null, etaLowS = null, etaHighS = null } = model.estimate ?? {};
  if (etaS === null || etaS <= 0 || phase.heading === 'hold') return null;
  if (model.leftOn !== undefined || model.uncertain === true) return null;
  const right = panel.box.x + panel.box.width - 4;
  const lane = laneAt(panel, phase, right);
  const edge = yAt(panel, nearEdgeC(phase), right);
  const isAbove = phase.heading === 'down';
  const at = (inS: number): number => xAt(panel, model.nowMs + inS * 1000);
  return {
    words: arrivalWords(etaS, etaLowS, etaHighS),
    kerbY: isAbove ? Math.min(lane.top, edge) : Math.max(lane.foot, edge),
    sign: isAbove ? -1 : 1,
    x: Math.min(right - 16, at(etaS)),
    early: Math.min(right, at(etaLowS ?? etaS)),
    late: Math.min(right, at(etaHighS ?? Infinity)),
    right,
    kind: etaS <= (model.fan.at(-1)?.inS ?? 0) ? 'in-fan' : at(etaS) < right ? 'in-view' : 'beyond',
  };
}

function bracketBox({ early, right, kerbY, sign }: Arrival): { x: number; y: number; width: number; height: number } {
  return { x: early, y: sign < 0 ? kerbY - BRACKET_H : kerbY, width: right - early, height: BRACKET_H };
}

function paintStroke(pen: Pen, { x, kerbY, sign }: Arrival): void {
  const half = 10 * pen.metrics.scale;
  const [from, to] = [kerbY - half, kerbY + half + sign];
  line(pen, { x, y: from }, { x, y: to }, { colour: pen.palette.mark, width: 7 });
  line(pen, { x, y: from }, { x, y: to }, { colour: pen.palette['mark-ink'], width: 3.5 });
}

function paintBracket(pen: Pen, { early, late, right, kerbY, sign }: Arrival): void {
  const stroke = { colour: pen.palette['map-ink'], width: 3 };
  const half = 8 * pen.metrics.scale;
  const y = kerbY + sign * half;
  line(pen, { x: early, y }, { x: late, y }, stroke);
  if (early < right) line(pen, { x: early, y: y - half }, { x: early, y: y + half }, stroke);
  if (late < right) line(pen, { x: late, y: y - half }, { x: late, y: y + half }, stroke);
  else {
    const back = late - half * 1.4;
    fill(pen, spotsAt(late + 2, y, back, y - half, back, y + half), stroke.colour);
  }
}

function paintArrow(pen: Pen, { x, kerbY, sign }: Arrival): void {
  const half = 15 * pen.metrics.scale;
  const back = kerbY + sign * half * 1.9;
  fill(pen, spotsAt(x, kerbY + sign * 3, x + half, back, x - half, back), pen.palette['map-ink']);
}

function writeArrival(pen: Pen, places: Places, { x, kerbY, sign, words, kind }: Arrival): void {
  const setting = onGround(pen, pen.metrics.text.note + 1);
  const beside: Spot = { x, y: kerbY + sign * { 'in-fan': 16, 'in-view': 37, beyond: 22 }[kind] * pen.metrics.scale };
  const { width, height } = wordBox(pen, words, setting, beside);
  const y = sign < 0 ? beside.y - height : beside.y;
  const shifts = [-width / 2, -width * 0.25, -width * 0.75, -width, 0, -width - 40];
  const rows = [0, 14, 28, 42, 56, 80, 120].map((dy) => dy * sign);
  const box = places.first(rows.flatMap((dy) => shifts.map((dx) => ({ x: beside.x + dx, y: y + dy, width, height }))));
  if (box !== null) writeIn(pen, words, box, setting);
}

/** With no upper end it is the least that is told, as the sentence does. */
export function arrivalWords(etaS: number, lowS: number | null, highS: number | null): string {
  if (etaS <= FAR_S && highS === null && lowS !== null) return ON_MAP.orMore(guess(lowS));
  if (etaS > FAR_S) return ON_MAP.moreThan(span(FAR_S));
  return span(etaS < 120 ? Math.round(etaS / STEP_S) * STEP_S : etaS);
}
