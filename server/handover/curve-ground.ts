/** What lies under the curve: panels of the phases, their bands as lanes, ceilings, lost limits and floors, and the two axes. */
import type { PhaseVisit } from '../core/show/view.ts';
import { spread, widthOf } from './curve-labels.ts';
import { type CurveScale, ticks, timeTicks } from './curve-scale.ts';
import { asName, bound, clock, figure, inUnit, into, type Manner, minus, unitSign } from './manner.ts';
import { element, escaped, pathThrough } from './svg.ts';
import { phaseOf, type ToldRun } from './told-run.ts';

/** Told apart by shape and brightness; no colour is needed. */
export const INK = '#111111';
const QUIET = '#444444';
const VERGE = ['#e4e4e4', '#ededed'] as const;
const LANE = '#ffffff';

/** Type, in the picture's units: on paper 186 mm wide about 8 and 9 points. */
export const SMALL = 13;
export const PLAIN_SIZE = 15;
const RAIL_HIGH = 24;
const NAMES_APART = 14;
/** Of a time of day, with some room. */
const TIME_WIDE = 42;
/** Bold type is so much wider. */
const BOLD_SHARE = 1.1;

/** Teeth of a ceiling: one every so often, so high. */
const TOOTH_EVERY = 10;
const TOOTH_HIGH = 5;

export function ground(told: ToldRun, scale: CurveScale, manner: Manner): string {
  return [
    element('rect', {
      x: scale.left,
      y: scale.top,
      width: scale.right - scale.left,
      height: scale.bottom - scale.top,
      fill: VERGE[1],
    }),
    ...scale.visits.map((visit, at) => panel(told, visit, at, scale)),
    degreeAxis(scale, manner),
    timeAxis(told, scale),
  ].join('');
}

/** Names of the bounds, over the curve: drawn last, with a light edge round each letter. */
export function boundNames(told: ToldRun, scale: CurveScale, manner: Manner): string {
  const last = scale.visits.length - 1;
  return scale.visits.map((visit, at) => namesOf(told, visit, at === last, scale, manner)).join('');
}

function ends({ enteredAtMs, leftAtMs }: PhaseVisit, scale: CurveScale): [number, number] {
  return [scale.x(enteredAtMs), scale.x(leftAtMs ?? scale.endMs)];
}

/** The phases' names over the field, with more behind them; stalks of marks go behind them. */
export function rails(scale: CurveScale, more = ''): string {
  const at = { y: scale.top - RAIL_HIGH, height: RAIL_HIGH, fill: INK, stroke: LANE, 'stroke-width': 1 };
  const drawn = scale.visits.map((visit) => {
    const [x, end] = ends(visit, scale);
    const name = asName(visit.phase) + more;
    const fits = widthOf(name, SMALL) * BOLD_SHARE + 10 <= end - x;
    const shown = fits ? word(x + 6, scale.top - 8, name, { fill: LANE, 'font-weight': 700 }) : '';
    return element('rect', { x, width: end - x, ...at }) + shown;
  });
  return drawn.join('');
}

function panel(told: ToldRun, visit: PhaseVisit, at: number, scale: CurveScale): string {
  const [x, end] = ends(visit, scale);
  const phase = phaseOf(told, visit.phase);
  const shade = element('rect', {
    x,
    y: scale.top,
    width: end - x,
    height: scale.bottom - scale.top,
    fill: VERGE[at % 2 === 0 ? 0 : 1],
  });
  if (phase === undefined) return shade;
  const [lowC, highC] = phase.bandC;
  const lane = element('rect', {
    x,
    y: scale.y(highC),
    width: end - x,
    height: scale.y(lowC) - scale.y(highC),
    fill: LANE,
    stroke: INK,
    'stroke-width': 1,
  });
  return [
    shade,
    lane,
    phase.ceilingC === undefined ? '' : ceiling(x, end, scale.y(phase.ceilingC)),
    phase.lostAboveC === undefined ? '' : lost(x, end, scale.y(phase.lostAboveC)),
    phase.floorC === undefined ? '' : floor(x, end, scale.y(phase.floorC)),
  ].join('');
}

function ceiling(x: number, end: number, y: number): string {
  const teeth = Array.from({ length: Math.max(0, Math.floor((end - x) / TOOTH_EVERY)) }, (_, at) => {
    const tooth = x + (at + 0.5) * TOOTH_EVERY;
    return pathThrough([
      [tooth, y],
      [tooth, y - TOOTH_HIGH],
    ]);
  });
  return element('path', {
    d:
      pathThrough([
        [x, y],
        [end, y],
      ]) + teeth.join(''),
    stroke: INK,
    'stroke-width': 2,
    fill: 'none',
  });
}

function lost(x: number, end: number, y: number): string {
  const lines = [-2, 2].map((off) =>
    pathThrough([
      [x, y + off],
      [end, y + off],
    ]),
  );
  return element('path', { d: lines.join(''), stroke: INK, 'stroke-width': 1.4, fill: 'none' });
}

function floor(x: number, end: number, y: number): string {
  return element('path', {
    d: pathThrough([
      [x, y],
      [end, y],
    ]),
    stroke: INK,
    'stroke-width': 2,
    'stroke-dasharray': '2 4',
    fill: 'none',
  });
}

/** Inside of their own phase where they fit, beside the last one in any case. */
function namesOf(told: ToldRun, visit: PhaseVisit, isLast: boolean, scale: CurveScale, manner: Manner): string {
  const phase = phaseOf(told, visit.phase);
  if (phase === undefined) return '';
  const { bandC, ceilingC, floorC, lostAboveC } = phase;
  const [lowC, highC] = bandC;
  const bandName = `${bound(lowC, manner)} to ${bound(highC, manner)}`;
  /** Too thin to have its name between its kerbs: it stands over them. */
  const isThin = !isLast && scale.y(lowC) - scale.y(highC) < NAMES_APART;
  const named = [
    ...(lostAboveC === undefined
      ? []
      : [{ atC: lostAboveC, name: `temper lost ${bound(lostAboveC, manner)}`, off: -8 }]),
    ...(ceilingC === undefined ? [] : [{ atC: ceilingC, name: `ceiling ${bound(ceilingC, manner)}`, off: -13 }]),
    { ...(isThin ? { atC: highC, off: -9 } : { atC: (lowC + highC) / 2, off: 0 }), name: bandName },
    ...(floorC === undefined ? [] : [{ atC: floorC, name: `floor ${bound(floorC, manner)}`, off: 11 }]),
  ].toSorted((a, b) => b.atC - a.atC);
  const [x, end] = ends(visit, scale);
  const heights = spread(
    named.map(({ atC }) => scale.y(atC) + 4),
    NAMES_APART,
    scale.bottom - 2,
  );
  const widest = Math.max(...named.map(({ name }) => widthOf(name, SMALL)));
  if (isLast) return named.map(({ name }, at) => word(scale.right + 8, heights[at]!, name)).join('');
  if (widest + 14 > end - x) return '';
  const lowest = scale.bottom - 4;
  const aside = named.map(({ off }, at) => Math.min(lowest, Math.max(scale.top + SMALL, heights[at]! + off)));
  return named.map(({ name }, at) => haloed(x + 7, aside[at]!, name)).join('');
}

function degreeAxis(scale: CurveScale, manner: Manner): string {
  const low = inUnit(scale.lowC, manner);
  const high = inUnit(scale.highC, manner);
  const toC = (value: number): number => (manner.unit === 'f' ? (value - 32) / 1.8 : value);
  // At the very top it would stand under the unit.
  const values = ticks(low, high, 8).filter((value) => scale.y(toC(value)) > scale.top + 4);
  const marks = values.map((value) => {
    const y = scale.y(toC(value));
    const tick = element('path', {
      d: pathThrough([
        [scale.left - 5, y],
        [scale.left, y],
      ]),
      stroke: INK,
      'stroke-width': 1,
    });
    return tick + word(scale.left - 9, y + 4, minus(figure(value, 0, manner)), { 'text-anchor': 'end' });
  });
  return marks.join('') + word(scale.left - 9, scale.top - 8, unitSign(manner), { 'text-anchor': 'end', fill: QUIET });
}

function timeAxis(told: ToldRun, scale: CurveScale): string {
  const marks = timeTicks(scale, 12).map((ms) => {
    const x = scale.x(scale.startMs + ms);
    const tick = element('path', {
      d: pathThrough([
        [x, scale.bottom],
        [x, scale.bottom + 5],
      ]),
      stroke: INK,
      'stroke-width': 1,
    });
    // At the very end it would stand in the words for what it is.
    const isLast = x + TIME_WIDE / 2 > scale.right;
    const at = { 'text-anchor': isLast ? 'end' : 'middle' };
    const middle = isLast ? scale.right + 2 : x;
    return [
      tick,
      word(middle, scale.bottom + 19, clock(told.wallMsOf(scale.startMs + ms)), at),
      word(middle, scale.bottom + 34, into(scale.startMs + ms - told.beganAtMs), { ...at, fill: QUIET }),
    ].join('');
  });
  const line = element('path', {
    d: pathThrough([
      [scale.left, scale.bottom],
      [scale.right, scale.bottom],
    ]),
    stroke: INK,
    'stroke-width': 1,
  });
  const heads = [
    word(scale.right + 8, scale.bottom + 19, 'clock'),
    word(scale.right + 8, scale.bottom + 34, 'h:min into it', { fill: QUIET }),
  ];
  return line + marks.join('') + heads.join('');
}

/** Plain words of the picture. */
export function word(x: number, y: number, text: string, more: Readonly<Record<string, string | number>> = {}): string {
  return element('text', { x, y, 'font-size': SMALL, fill: INK, ...more }, escaped(text));
}

/** Words that stay readable over lines. */
export function haloed(
  x: number,
  y: number,
  text: string,
  more: Readonly<Record<string, string | number>> = {},
): string {
  return word(x, y, text, {
    stroke: LANE,
    'stroke-width': 3,
    'stroke-linejoin': 'round',
    'paint-order': 'stroke',
    ...more,
  });
}
