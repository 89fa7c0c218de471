/**
 * The map laid out: which panel lies where, on what scale, over which time. Pure: text is measured by whoever calls, nothing
 * is drawn. Everything in CSS px of the road's own box.
 */
import type { Phase } from '../../server/core/record/profile.ts';
import { foldsOf } from './folding.ts';
import { metricsFor } from './metrics.ts';
import type { Metrics, Size } from './metrics.ts';
import type { RoadModel, Unfolding } from './model.ts';
import { panelsAt, stretches } from './panels.ts';
import type { Stretch } from './panels.ts';
import { followRange, wholeRange } from './range.ts';
import type { Range } from './range.ts';
import { followWindow, lastWindow } from './window.ts';
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

export interface Sheet {
  readonly size: Size;
  readonly metrics: Metrics;
  readonly open: Stretch;
  /** One when a phase lies open, all of them when the map is unfolded. */
  readonly panels: readonly Panel[];
  /** What paints the unfolded map; null: a phase lies open. */
  readonly unfolded: Unfolding | null;
  readonly folds: readonly Fold[];
  /** The strip above the panels; no height where there is no room. */
  readonly rail: Box;
  readonly plot: Box;
  readonly axis: Box;
}

/** Lays the road out. `slideMs`: how often the following view moves on. */
export function layOut(model: RoadModel, size: Size, slideMs = 1_000): Sheet {
  const metrics = metricsFor(size);
  const { window, unfolding } = model;
  if (window.kind === 'all' && unfolding !== undefined) return unfolding.layOut(model, size, metrics);
  return openSheet(model, size, metrics, slideMs);
}

function openSheet(model: RoadModel, size: Size, metrics: Metrics, slideMs: number): Sheet {
  const { window } = model;
  const panels = panelsAt(model, window.kind === 'span' ? (window.fromMs + window.toMs) / 2 : model.nowMs);
  const view = openView(model, panels.open, metrics.narrow, slideMs);
  const within = stretches(model).filter((stretch) => stretch.toMs > view.fromMs && stretch.fromMs < view.toMs);
  const ruling = within.length > 0 ? within : [panels.open];
  const isFollowing = window.kind === 'follow';
  const range = isFollowing ? followRange(model, panels.open) : wholeRange(model, view.fromMs, view.toMs, ruling);
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
    panels: [flatPanel(openBox, { fromMs: view.fromMs, toMs: view.toMs }, range, ruling)],
    unfolded: null,
    folds,
    rail: { x: openBox.x, y: 0, width: openBox.width, height: metrics.railH },
    plot: openBox,
    axis: { x: 0, y: top + height, width: size.width, height: metrics.axisH },
  };
}

function openView(model: RoadModel, open: Stretch, narrow: boolean, slideMs: number): TimeSpan {
  const { window } = model;
  if (window.kind === 'span') return window;
  if (window.kind === 'last') return lastWindow(model, window.backMs, slideMs);
  return followWindow(model, open, narrow, slideMs);
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
