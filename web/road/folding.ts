/** Lays out the folded panels: which phases get one, which share one, and the scale on which each keeps its map clear of its words. */
import type { Phase } from '../../server/core/record/profile.ts';
import type { Metrics, Size } from './metrics.ts';
import type { RoadModel } from './model.ts';
import type { Panels, Stretch } from './panels.ts';
import type { Extremes } from './pyramid.ts';
import type { Range } from './range.ts';
import type { Fold, Panel } from './sheet.ts';

/** Past folds with names set upright, at most; more are narrower, and of those at most this many before they share one. */
const UPRIGHT_PAST = 2;
const MOST_PAST = 3;
const MOST_COMING = 2;
/** Room a folded panel keeps above and below its map for its words, px of the reference: name and figures, or all of it turned. */
const FOLD_WORDS = { upright: { top: 56, foot: 76 }, turned: { top: 30, foot: 136 } } as const;
/** However low the panel, its map keeps this share of it. */
const LEAST_FOLD_MAP = 0.3;
type Paper = Pick<Panel, 'box' | 'leftInset' | 'rightInset'>;

/** A fold before it has a place. */
type Folded =
  | { kind: 'past'; stretch: Stretch; turned: boolean; width: number }
  | { kind: 'coming'; phase: Phase; turned: boolean; width: number }
  | { kind: 'more'; count: number; width: number };

/** The folds of both sides, left to right; `row` is the height they share with the open panel. */
export function foldsOf(
  model: RoadModel,
  panels: Panels,
  metrics: Metrics,
  size: Size,
  row: { y: number; height: number },
): Fold[] {
  const left = pastFolds(panels.past, metrics, size);
  const right = comingFolds(panels.coming, metrics);
  const rightW = right.reduce((sum, fold) => sum + fold.width, 0);
  const placed = (folds: readonly Folded[], fromX: number, turn: number): Fold[] => {
    let x = fromX;
    return folds.map((fold, i) => {
      const box = { x, y: row.y, width: fold.width, height: row.height };
      x += fold.width;
      const insets = [metrics.slant, 0];
      const [leftInset, rightInset] = ((i + turn) % 2 === 0 ? insets : insets.toReversed()) as [number, number];
      return finished(model, fold, { box, leftInset, rightInset }, metrics.scale);
    });
  };
  // Either side of the open panel the paper begins to slant away from it.
  return [...placed(left, 0, left.length), ...placed(right, size.width - rightW, 0)];
}

function pastFolds(past: readonly Stretch[], metrics: Metrics, size: Size): Folded[] {
  if (metrics.narrow) {
    const last = past.at(-1);
    return last === undefined || size.width < 360
      ? []
      : [{ kind: 'past', stretch: last, turned: true, width: metrics.foldW }];
  }
  const turned = past.length > UPRIGHT_PAST;
  const shown = past.length > MOST_PAST ? past.slice(1 - MOST_PAST) : past;
  const hidden = past.length - shown.length;
  const width = turned ? metrics.turnedFoldW : metrics.foldW;
  const folds = shown.map((stretch): Folded => ({ kind: 'past', stretch, turned, width }));
  return hidden > 0 ? [{ kind: 'more', count: hidden, width: metrics.moreW }, ...folds] : folds;
}

function comingFolds(coming: readonly Phase[], metrics: Metrics): Folded[] {
  const shown = coming.slice(0, metrics.narrow ? 1 : coming.length > MOST_COMING ? 1 : MOST_COMING);
  const folds = shown.map((phase): Folded => ({
    kind: 'coming',
    phase,
    turned: metrics.narrow,
    width: metrics.comingW,
  }));
  const hidden = coming.length - shown.length;
  return hidden > 0 && !metrics.narrow ? [...folds, { kind: 'more', count: hidden, width: metrics.moreW }] : folds;
}

function finished(model: RoadModel, fold: Folded, paper: Paper, scale: number): Fold {
  const nothing = { fromMs: 0, toMs: 1 };
  if (fold.kind === 'more')
    return { kind: 'more', count: fold.count, panel: { ...paper, view: nothing, range: [0, 1], stretches: [] } };
  if (fold.kind === 'coming') {
    const panel = { ...paper, view: nothing, range: comingRange(fold.phase), stretches: [] };
    return { kind: 'coming', phase: fold.phase, turned: fold.turned, panel };
  }
  const view = { fromMs: fold.stretch.fromMs, toMs: Math.max(fold.stretch.toMs, fold.stretch.fromMs + 1) };
  const seen = model.curve.estimateExtremes(view.fromMs, view.toMs);
  const range = foldRange(fold, seen, paper.box.height, scale);
  return {
    kind: 'past',
    stretch: fold.stretch,
    turned: fold.turned,
    panel: { ...paper, view, range, stretches: [fold.stretch] },
  };
}

/** Where the lane of a panel to come lies in it, as a share from the top: high for a way up, low for a way down. */
const COMING_LANE = { up: 0.38, hold: 0.5, down: 0.64 } as const;
const COMING_LANE_H = 0.1;

function comingRange({ heading, bandC: [lowC, highC] }: Phase): Range {
  const tallC = (highC - lowC) / COMING_LANE_H;
  const topC = (lowC + highC) / 2 + COMING_LANE[heading] * tallC;
  return [topC - tallC, topC];
}

/** A scale on which band and trace fill what a folded panel's words leave free. */
function foldRange(fold: { stretch: Stretch; turned: boolean }, seen: Extremes, height: number, scale: number): Range {
  const { bandC } = fold.stretch.phase;
  const lowC = Number.isNaN(seen.low) ? bandC[0] : Math.min(seen.low, bandC[0]);
  const highC = Number.isNaN(seen.high) ? bandC[1] : Math.max(seen.high, bandC[1]);
  const words = FOLD_WORDS[fold.turned ? 'turned' : 'upright'];
  const wanted = ((words.top + words.foot) * scale) / height;
  const squeeze = Math.min(1, (1 - LEAST_FOLD_MAP) / wanted);
  const [top, foot] = [words.top, words.foot].map((px) => ((px * scale) / height) * squeeze) as [number, number];
  const perShare = (highC - lowC) / (1 - top - foot);
  return [lowC - foot * perShare, highC + top * perShare];
}
