/** Lays out an open panel that shows as many of the last minutes as were asked for, or a stretch that is held, or one that is played back. */
import { elapsedTicks } from './elapsed-ticks.ts';
import type { Metrics, Size } from './metrics.ts';
import type { RoadModel, RoadWindow } from './model.ts';
import { followSheet, openSheet } from './sheet.ts';
import type { Sheet, ToldTimes } from './sheet.ts';
import { nowTick } from './ticks.ts';
import { wholeRange } from './whole-range.ts';
import type { TimeSpan } from './window.ts';
import { elapsed } from '../words/elapsed.ts';
import { ON_MAP } from '../words/road.ts';

export type OpenWindow = Exclude<RoadWindow, { kind: 'all' }>;

export function heldSheet(model: RoadModel, window: OpenWindow, size: Size, metrics: Metrics, slideMs: number): Sheet {
  const isHeld = window.kind === 'span';
  const sheet = openedSheet(model, window, size, metrics, slideMs);
  if (!isHeld && model.live !== 'playback') return sheet;
  return { ...sheet, told: toldTimes(model, sheet.panels[0]!.view, isHeld) };
}

function openedSheet(model: RoadModel, window: OpenWindow, size: Size, metrics: Metrics, slideMs: number): Sheet {
  if (window.kind === 'follow') return followSheet(model, size, metrics, slideMs);
  const isHeld = window.kind === 'span';
  const { fromMs, toMs } = isHeld ? window : lastWindow(model, window.backMs, slideMs);
  return openSheet(model, size, metrics, {
    atMs: isHeld ? (fromMs + toMs) / 2 : model.nowMs,
    view: { fromMs, toMs },
    range: (ruling) => wholeRange(model, fromMs, toMs, ruling),
  });
}

function toldTimes({ startedAtMs, nowMs, live }: RoadModel, view: TimeSpan, isHeld: boolean): ToldTimes {
  const isNowInView = live !== 'playback' && nowMs >= view.fromMs && nowMs <= view.toMs;
  const rail = ON_MAP.between(elapsed(view.fromMs - startedAtMs), elapsed(view.toMs - startedAtMs));
  return {
    rail: isHeld ? rail : null,
    ticks: (room) => [...elapsedTicks(view, startedAtMs, room), ...(isNowInView ? [nowTick(nowMs)] : [])],
  };
}

/** Of a view of the last minutes, this share of them lies ahead (ours: the forecast is seen, the past has the room). */
const LAST_AHEAD = 0.25;

function lastWindow(model: RoadModel, backMs: number, stepMs: number): TimeSpan {
  const nowMs = Math.floor(model.nowMs / stepMs) * stepMs;
  return { fromMs: nowMs - backMs, toMs: nowMs + backMs * LAST_AHEAD };
}
