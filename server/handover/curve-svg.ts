/**
 * The picture of a run as SVG: phases with their bands and limits, what was read and estimated, and what happened, named so that no two words
 * touch. Stands alone: no style, no script, nothing outside of it. Reads in greyscale, and has its content in words for a screen reader.
 */
import { boundNames, ground, haloed, INK, PLAIN_SIZE, rails, SMALL, word } from './curve-ground.ts';
import { key } from './curve-key.ts';
import { cut, placedLabels } from './curve-labels.ts';
import { type CurveScale, curveScale } from './curve-scale.ts';
import type { PhaseVisit } from '../core/show/view.ts';
import { diamond, triangle } from './curve-signs.ts';
import { trace, valueNear } from './curve-trace.ts';
import { asName, bound, clock, day, type Manner, span, unitSign } from './manner.ts';
import { element, escaped, pathThrough } from './svg.ts';
import { type Happening, happenings, nameOf, phaseOf, type ToldRun } from './told-run.ts';

export interface PictureOptions extends Manner {
  readonly width: number;
  readonly height: number;
  /** With what it is a picture of written over it. */
  readonly isTitled: boolean;
}

const LIGHT = '#ffffff';
const FACE = "'Liberation Sans', Arial, Helvetica, sans-serif";

/** Room round the field of the curve, in the picture's units: left for degrees, right for the names of bounds, below for the two axes and the key. */
const LEFT = 44;
const RIGHT = 118;
const BELOW = 66;
const AXES_HIGH = 46;
/** The work drawn larger has this share of the height, where the whole run keeps at least so much, and it went on for so long (ours). */
const NEAR_SHARE = 0.3;
const WHOLE_LEAST_HIGH = 140;
const NEAR_LEAST_MS = 5 * 60_000;
const KEY_OVER_FOOT = 10;
const RAIL_HIGH = 24;
const ROW_HIGH = 18;
/** As many rows of words as leave most of the height to the curve. */
const ROWS_MOST = 6;
const HEIGHT_A_ROW = 90;
const TITLE_HIGH = 34;

export function curveSvg(told: ToldRun, options: PictureOptions): string {
  const { width, height, isTitled } = options;
  const marks = happenings(told, options).filter(({ kind }) => kind === 'alarm' || kind === 'act' || kind === 'note');
  const { x } = curveScale(told, { left: LEFT, right: width - RIGHT, top: 0, bottom: height });
  const labels = placedLabels(
    marks.map((mark) => ({ x: x(mark.atMs), text: mark.brief })),
    SMALL,
    width - 4,
    Math.min(ROWS_MOST, Math.floor(height / HEIGHT_A_ROW)),
  );
  const rows = Math.max(-1, ...labels.map(({ row }) => row)) + 1;
  const titleHigh = isTitled ? TITLE_HIGH : 0;
  const top = titleHigh + rows * ROW_HIGH + 6 + RAIL_HIGH;
  const across = { left: LEFT, right: width - RIGHT };
  const nearTop = height - BELOW - Math.floor(height * NEAR_SHARE);
  const wholeBottom = nearTop - RAIL_HIGH - AXES_HIGH;
  const work = wholeBottom - top < WHOLE_LEAST_HIGH ? null : workOf(told);
  const scale = curveScale(told, { ...across, top, bottom: work === null ? height - BELOW : wholeBottom });
  const labelY = (row: number): number => top - RAIL_HIGH - 7 - row * ROW_HIGH;
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      role: 'img',
      'font-family': FACE,
    },
    element('title', {}, escaped(titleOf(told))),
    element('desc', {}, escaped(description(told, marks, options))),
    element('rect', { x: 0, y: 0, width, height, fill: LIGHT }),
    isTitled ? heading(told, width) : '',
    ground(told, scale, options),
    ...marks.map((mark) => stalk(mark, told, scale, rowOf(labels, scale.x(mark.atMs), labelY))),
    rails(scale),
    curve(told, marks, scale, options),
    ...labels.map((label) => haloed(label.x + 5, labelY(label.row), label.text)),
    work === null
      ? ''
      : near(told, marks, curveScale(told, { ...across, top: nearTop, bottom: height - BELOW }, work), options),
    key(LEFT, height - KEY_OVER_FOOT),
  );
}

/** The longest work of a run that did something else, too; null: it was short, or is as large as can be. */
function workOf(told: ToldRun): PhaseVisit | null {
  const { view, endMs } = told;
  const lasted = ({ enteredAtMs, leftAtMs }: PhaseVisit): number => (leftAtMs ?? endMs) - enteredAtMs;
  const work = view.visits
    .filter((visit) => phaseOf(told, visit.phase)?.heading === 'hold' && lasted(visit) >= NEAR_LEAST_MS)
    .toSorted((a, b) => lasted(b) - lasted(a));
  return view.visits.length > 1 ? (work[0] ?? null) : null;
}

/** One visit once more, with degrees of its own: in those of the whole run its band is a thin strip. */
function near(told: ToldRun, marks: readonly Happening[], scale: CurveScale, manner: Manner): string {
  return ground(told, scale, manner) + rails(scale, ', drawn larger') + curve(told, marks, scale, manner);
}

/** What was read and what happened, on its ground. */
function curve(told: ToldRun, marks: readonly Happening[], scale: CurveScale, manner: Manner): string {
  const isIn = (atMs: number): boolean => atMs >= scale.startMs && atMs <= scale.endMs;
  return [
    trace(
      told.tiles.filter(([atMs]) => isIn(atMs)),
      scale,
    ),
    boundNames(told, scale, manner),
    ...marks.filter(({ atMs }) => isIn(atMs)).map((mark) => sign(mark, told, scale)),
  ].join('');
}

function titleOf(told: ToldRun): string {
  const { stored, card } = told;
  const lot = card.lot === null ? '' : `, lot ${card.lot}`;
  return `${nameOf(told)}${lot}, ${day(told.wallMsOf(stored.startedAtMs))}${stored.simulated ? ', simulated bowl' : ''}`;
}

function heading(told: ToldRun, width: number): string {
  const most = Math.floor((width - LEFT) / (PLAIN_SIZE * 0.58));
  return word(LEFT, 22, cut(titleOf(told), most), { 'font-size': PLAIN_SIZE, 'font-weight': 700 });
}

/** What the picture shows, in words. */
function description(told: ToldRun, marks: readonly Happening[], manner: Manner): string {
  const { beganAtMs, view, endMs } = told;
  const from = clock(told.wallMsOf(beganAtMs));
  const phases = view.visits.map(({ phase, enteredAtMs, leftAtMs }) => {
    const bandC = phaseOf(told, phase)?.bandC;
    const band =
      bandC === undefined ? '' : `, band ${bound(bandC[0], manner)} to ${bound(bandC[1], manner)} ${unitSign(manner)}`;
    return `${asName(phase)} from ${clock(told.wallMsOf(enteredAtMs))} for ${span((leftAtMs ?? endMs) - enteredAtMs)}${band}.`;
  });
  const happened = marks.map(({ atMs, words }) => `${clock(told.wallMsOf(atMs))} ${words}.`);
  return [`Temperature of the chocolate from ${from} for ${span(endMs - beganAtMs)}.`, ...phases, ...happened].join(
    ' ',
  );
}

/** Where the label of a mark stands; for one without a label of its own, the top of the field. */
function rowOf(labels: ReturnType<typeof placedLabels>, x: number, labelY: (row: number) => number): number | null {
  const label = labels.find((each) => each.x === x);
  return label === undefined ? null : labelY(label.row) - 10;
}

function stalk({ atMs }: Happening, { tiles }: ToldRun, scale: CurveScale, fromY: number | null): string {
  if (fromY === null) return '';
  const x = scale.x(atMs);
  const valueC = valueNear(tiles, atMs);
  const toY = valueC === null ? scale.top : scale.y(valueC);
  const d = pathThrough([
    [x, fromY],
    [x, toY],
  ]);
  const drawn = (stroke: string, width: number): string =>
    element('path', { d, stroke, 'stroke-width': width, fill: 'none' });
  return drawn(LIGHT, 2.8) + drawn(INK, 0.8);
}

function sign({ atMs, kind }: Happening, { tiles }: ToldRun, scale: CurveScale): string {
  const valueC = valueNear(tiles, atMs);
  const y = valueC === null ? scale.top + 10 : scale.y(valueC);
  return (kind === 'alarm' ? triangle : diamond)(scale.x(atMs), y);
}
