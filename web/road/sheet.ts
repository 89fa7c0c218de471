/**
 * The map laid out: which panel lies where, on what scale, over which time. Pure: text is measured by whoever calls, nothing
 * is drawn. Everything in CSS px of the road's own box.
 */
import type { Phase } from '../../server/core/record/profile.ts';
import { foldsOf } from './folding.ts';
import { metricsFor } from './metrics.ts';
import type { Metrics, Size } from './metrics.ts';
import type { OtherViews, RoadModel } from './model.ts';
import { panelsAt, stretches } from './panels.ts';
import type { Stretch } from './panels.ts';
import { followRange } from './range.ts';
import type { Range } from './range.ts';
import { followWindow } from './window.ts';
import type { Tick } from './ticks.ts';
import type { TimeSpan } from './window.ts';

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A panel of paper: a box whose left and right sides are shorter by twice their inset, as a fold seen from the front is. */
export interface Panel {
  readonly box: Box;
  readonly leftInset: number;
  readonly rightInset: number;
  readonly view: TimeSpan;
  readonly range: Range;
  /** The phases that rule over it, oldest first; the road in it changes where one ends. */
  readonly stretches: readonly Stretch[];
}

/** A folded panel; `past` carries its trace, `coming` its destination, `more` only how many it stands for. */
export type Fold =
  | { readonly kind: 'past'; readonly panel: Panel; readonly stretch: Stretch; readonly turned: boolean }
  | { readonly kind: 'coming'; readonly panel: Panel; readonly phase: Phase; readonly turned: boolean }
  | { readonly kind: 'more'; readonly panel: Panel; readonly count: number };

/** Times of the run, for a view that is held or played back. */
export interface ToldTimes {
  /** On the rail; null: how long the phase has lasted. */
  readonly rail: string | null;
  /** Along the foot, where there is room for so many. */
  readonly ticks: (room: number) => Tick[];
}

export interface Sheet {
  readonly size: Size;
  readonly metrics: Metrics;
  readonly open: Stretch;
  /** One when a phase lies open, all of them when the map is unfolded. */
  readonly panels: readonly Panel[];
  /** What paints the unfolded map; null: a phase lies open. */
  readonly unfolded: Pick<OtherViews, 'picture'> | null;
  /** How an open panel tells its times where they are not told from now; absent: they are. */
  readonly told?: ToldTimes;
  readonly folds: readonly Fold[];
  /** The strip above the panels; no height where there is no room. */
  readonly rail: Box;
  readonly plot: Box;
  readonly axis: Box;
}

/** Lays the road out. `slideMs`: how often the following view moves on. */
export function layOut(model: RoadModel, size: Size, slideMs = 1_000): Sheet {
  const metrics = metricsFor(size);
  const draw = model.otherViews?.layOut ?? followSheet;
  return draw(model, size, metrics, slideMs);
}

/** The present phase lies open, and the map slides with now. */
export function followSheet(model: RoadModel, size: Size, metrics: Metrics, slideMs: number): Sheet {
  const { open } = panelsAt(model, model.nowMs);
  const view = followWindow(model, open, metrics.narrow, slideMs);
  return openSheet(model, size, metrics, { atMs: model.nowMs, view, range: () => followRange(model, open) });
}

/** What an open panel shows. */
interface OpenView {
  /** The moment whose phase lies open. */
  readonly atMs: number;
  readonly view: TimeSpan;
  /** `ruling`: the phases in view. */
  readonly range: (ruling: readonly Stretch[]) => Range;
}

export function openSheet(model: RoadModel, size: Size, metrics: Metrics, { atMs, view, range }: OpenView): Sheet {
  const panels = panelsAt(model, atMs);
  const within = stretches(model).filter((stretch) => stretch.toMs > view.fromMs && stretch.fromMs < view.toMs);
  const ruling = within.length > 0 ? within : [panels.open];
  const top = metrics.railH;
  const height = Math.max(1, size.height - top - metrics.axisH);
  const folds = model.alarm || metrics.railH === 0 ? [] : foldsOf(model, panels, metrics, size, { y: top, height });
  const pastW = widthOf(folds, 'left');
  const plot = { x: pastW + metrics.gutterW, y: top, width: 0, height };
  const openBox = { ...plot, width: Math.max(1, size.width - plot.x - widthOf(folds, 'right')) };
  return {
    size,
    metrics,
    open: panels.open,
    panels: [flatPanel(openBox, view, range(ruling), ruling)],
    unfolded: null,
    folds,
    rail: { x: openBox.x, y: 0, width: openBox.width, height: metrics.railH },
    plot: openBox,
    axis: { x: 0, y: top + height, width: size.width, height: metrics.axisH },
  };
}

function flatPanel(box: Box, view: TimeSpan, range: Range, ruling: readonly Stretch[]): Panel {
  return { box, leftInset: 0, rightInset: 0, view, range, stretches: ruling };
}

function widthOf(folds: readonly Fold[], side: 'left' | 'right'): number {
  const isRight = (i: number): boolean => {
    const fold = folds[i]!;
    return fold.kind === 'coming' || (fold.kind === 'more' && i > 0);
  };
  return folds.reduce((sum, fold, i) => sum + (isRight(i) === (side === 'right') ? fold.panel.box.width : 0), 0);
}

/** Where a moment stands in a panel, px; outside its view it stands outside. */
export function xAt(panel: Panel, atMs: number): number {
  return panel.box.x + ((atMs - panel.view.fromMs) / (panel.view.toMs - panel.view.fromMs)) * panel.box.width;
}

/** Where a temperature stands in a panel at `x`, px; the paper's slant included. */
export function yAt(panel: Panel, valueC: number, x: number): number {
  const { box, range } = panel;
  const flat = (range[1] - valueC) / (range[1] - range[0]);
  const inset = insetAt(panel, x);
  return box.y + inset + flat * (box.height - 2 * inset);
}

/** How far the paper's edge stands in at `x`, px. */
export function insetAt(panel: Panel, x: number): number {
  const along = Math.min(1, Math.max(0, (x - panel.box.x) / panel.box.width));
  return panel.leftInset + (panel.rightInset - panel.leftInset) * along;
}

/** The panel in which a moment lies; the last whose view has begun. */
export function panelOf(sheet: Sheet, atMs: number): Panel {
  return sheet.panels.findLast((panel) => panel.view.fromMs <= atMs) ?? sheet.panels[0]!;
}

/** The moment under `x`, feed clock. */
export function momentAt(sheet: Sheet, x: number): number {
  const panel = sheet.panels.findLast((candidate) => candidate.box.x <= x) ?? sheet.panels[0]!;
  const along = (x - panel.box.x) / panel.box.width;
  return panel.view.fromMs + along * (panel.view.toMs - panel.view.fromMs);
}
