/** Lays out the whole run in one view: its panels side by side, unfolded. Everything in CSS px of the road's own box. */
import type { Metrics, Size } from './metrics.ts';
import type { RoadModel } from './model.ts';
import { panelsAt, stretches } from './panels.ts';
import { wholeRange } from './whole-range.ts';
import type { Panel, Sheet } from './sheet.ts';
import { sharesOf } from './unfolded.ts';

/** So far the overview that is played back stands in from either side, px (past.css: the line its head is dragged along stands so too). */
const PLAYED_INSET = 20;
/** Shortest time a panel can show, ms; a run that has just begun has no length yet. */
const LEAST_VIEW_MS = 60_000;

/** The overview grows by at most so much at once, px (ours: nobody sees it, and nearly all of it need not be drawn anew for minutes). */
const STEP_PX = 8;
/** … and by whole steps of this at least. */
const LEAST_STEP_MS = 1_000;

export function unfold(model: RoadModel, size: Size, roomy: Metrics, unfolded: Sheet['unfolded']): Sheet {
  const metrics = overview(roomy);
  const all = stretches(heldForAStep(model, size.width));
  const top = metrics.railH;
  /* The head must not be cut in half: it stands at the very end, or wherever playback has it. */
  const end = model.live === 'playback' ? PLAYED_INSET : metrics.ringR + metrics.ringW;
  const left = model.live === 'playback' ? PLAYED_INSET : 0;
  const width = Math.max(1, size.width - left - end);
  const box = { x: left, y: top, width, height: Math.max(1, size.height - top - metrics.axisH) };
  const shares = sharesOf(all);
  let x = left;
  const panels = all.map((stretch, i) => {
    const view = {
      fromMs: stretch.fromMs,
      toMs: Math.max(stretch.toMs, stretch.fromMs + (i === all.length - 1 ? LEAST_VIEW_MS : 1)),
    };
    const panel: Panel = {
      box: { ...box, x, width: shares[i]! * width },
      leftInset: i % 2 === 0 ? metrics.slant : 0,
      rightInset: i % 2 === 0 ? 0 : metrics.slant,
      view,
      range: wholeRange(model, view.fromMs, view.toMs, [stretch]),
      stretches: [stretch],
    };
    x += shares[i]! * width;
    return panel;
  });
  return {
    size,
    metrics,
    open: panelsAt(model, model.nowMs).open,
    panels,
    unfolded,
    folds: [],
    rail: { x: 0, y: 0, width: size.width, height: metrics.railH },
    plot: box,
    axis: { x: 0, y: box.y + box.height, width: size.width, height: metrics.axisH },
  };
}

/** Live, the overview grows in steps that double as the run grows longer: in between it stands still. */
function heldForAStep(model: RoadModel, width: number): RoadModel {
  if (model.live === 'playback' || model.live === 'over') return model;
  const { nowMs, startedAtMs } = model;
  const most = ((nowMs - startedAtMs) / Math.max(1, width)) * (STEP_PX / LEAST_STEP_MS);
  const stepMs = 2 ** Math.floor(Math.log2(Math.max(1, most))) * LEAST_STEP_MS;
  return { ...model, nowMs: startedAtMs + Math.ceil((nowMs - startedAtMs) / stepMs) * stepMs };
}

/** Of an overview, px; it grows no further than the map stands in from the sides. */
const OVERVIEW_RING = { radius: 12, width: 6, most: 1.1 };

/** An overview shows more at once: its words and its ring are smaller. */
function overview(metrics: Metrics): Metrics {
  const { label, ...text } = metrics.text;
  return {
    ...metrics,
    text: { ...text, label: label * 0.85 },
    traceW: 4 * metrics.scale,
    ringR: OVERVIEW_RING.radius * Math.min(OVERVIEW_RING.most, metrics.scale),
    ringW: OVERVIEW_RING.width * Math.min(OVERVIEW_RING.most, metrics.scale),
  };
}
