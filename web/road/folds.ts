/** Paints the folded panels beside the open one: what has been at the left, what is to come at the right. */
import type { Phase } from '../../server/core/record/profile.ts';
import { laneCorners, paperOf, shade } from './ground.ts';
import type { RoadModel } from './model.ts';
import { fill, line, path, widthOf, within, write, writeUpward } from './pen.ts';
import type { Pen, Setting } from './pen.ts';
import type { Fold, Panel } from './sheet.ts';
import { foldTrace } from './trace.ts';
import { degrees, span } from '../words/measure.ts';
import { phaseName } from '../words/names.ts';
import { ON_MAP } from '../words/road.ts';
import { bandWords } from './words.ts';

const LANE_EDGE_W = 2;
/** Trace in a fold, thinner than on the open map. */
const TRACE_SHARE = 0.55;

export function paintFolds(pen: Pen, model: RoadModel, folds: readonly Fold[]): void {
  for (const fold of folds) paintFold(pen, model, fold);
}

function paintFold(pen: Pen, model: RoadModel, fold: Fold): void {
  const { panel } = fold;
  const { x, width } = panel.box;
  fill(pen, paperOf(panel, x, x + width), shade(pen, panel, pen.palette['fold-a']));
  if (fold.kind !== 'more') within(pen, paperOf(panel, x, x + width), () => paintMap(pen, model, fold));
  paintEdge(pen, panel);
  paintWords(pen, model, fold);
}

function paintMap(pen: Pen, model: RoadModel, fold: Exclude<Fold, { kind: 'more' }>): void {
  const { panel } = fold;
  paintLane(pen, panel, fold.kind === 'past' ? fold.stretch.phase : fold.phase);
  if (fold.kind === 'coming') return;
  const { trace, 'trace-edge': edge } = pen.palette;
  const width = pen.metrics.traceW * TRACE_SHARE;
  const points = foldTrace(model, panel, width);
  path(pen, points, { colour: edge, width: width + 4 });
  path(pen, points, { colour: trace, width });
}

function paintLane(pen: Pen, panel: Panel, phase: Phase): void {
  const { x, width } = panel.box;
  const corners = laneCorners(panel, phase, x, x + width);
  fill(pen, corners, pen.palette.lane);
  const stroke = { colour: pen.palette['map-ink'], width: LANE_EDGE_W };
  for (const side of [corners.slice(0, 2), corners.slice(2)]) path(pen, side, stroke);
}

function paintEdge(pen: Pen, panel: Panel): void {
  const x = panel.box.x + panel.box.width - 0.5;
  const [, top, foot] = paperOf(panel, panel.box.x, panel.box.x + panel.box.width);
  line(pen, { x, y: top!.y }, { x, y: foot!.y }, { colour: pen.palette.hatch, width: 1 });
}

function paintWords(pen: Pen, model: RoadModel, fold: Fold): void {
  const { metrics } = pen;
  const { box } = fold.panel;
  const setting: Setting = {
    size: metrics.text.fold,
    weight: 700,
    colour: pen.palette['map-ink'],
  };
  const centre = box.x + box.width / 2;
  const foot = box.y + box.height - metrics.slant;
  if (fold.kind === 'more' || fold.turned) {
    const baseline = { x: centre + metrics.text.fold * 0.35, y: foot - 14 * metrics.scale };
    writeUpward(pen, turnedWords(model, fold), baseline, {
      ...setting,
      size: metrics.text.fold + 1.5,
      outline: pen.palette['fold-b'],
    });
    return;
  }
  const lines = fold.kind === 'past' ? pastWords(model, fold) : [ON_MAP.to, bandWords(fold.phase.bandC)];
  write(
    pen,
    phaseName(phaseOf(fold).id),
    { x: centre, y: box.y + metrics.slant + 24 * metrics.scale },
    { ...setting, align: 'center' },
  );
  lines.forEach((words, i) => {
    const y = foot - (14 + (lines.length - 1 - i) * 20) * metrics.scale;
    write(
      pen,
      words,
      { x: centre, y },
      fitted(pen, words, { ...setting, weight: 600, align: 'center' }, box.width - 8),
    );
  });
}

/** Set smaller where the panel is narrower than the words. */
function fitted(pen: Pen, words: string, setting: Setting, room: number): Setting {
  return { ...setting, size: setting.size * Math.min(1, room / widthOf(pen, words, setting)) };
}

function turnedWords(model: RoadModel, fold: Fold): string {
  if (fold.kind === 'more') return ON_MAP.andMore(fold.count);
  if (fold.kind === 'coming') return ON_MAP.next(phaseName(fold.phase.id));
  return [phaseName(fold.stretch.phase.id), finalValue(model, fold)].filter((word) => word !== null).join(' ');
}

function pastWords(model: RoadModel, fold: Extract<Fold, { kind: 'past' }>): string[] {
  const length = span((fold.stretch.toMs - fold.stretch.fromMs) / 1000);
  const final = finalValue(model, fold);
  return final === null ? [length] : [final, length];
}

/** What a phase ended at, as it is written in its fold; null where nothing was read. */
export function finalValue(model: RoadModel, { stretch }: Extract<Fold, { kind: 'past' }>): string | null {
  const valueC = model.curve.lastEstimateIn(stretch.fromMs, stretch.toMs);
  return valueC === null ? null : degrees(valueC);
}

function phaseOf(fold: Exclude<Fold, { kind: 'more' }>): { readonly id: string } {
  return fold.kind === 'past' ? fold.stretch.phase : fold.phase;
}
