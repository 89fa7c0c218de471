/**
 * What the map keeps as pixels from one drawing to the next: the ground, words that stand still, and of an overview that does so the trace too,
 * so that a shift of twelve hours costs no more to draw than the seconds that have come since.
 */
import type { Curve } from '../curve.ts';
import { Layer } from './layer.ts';
import type { RoadModel } from './model.ts';
import { xAt } from './sheet.ts';
import type { Sheet } from './sheet.ts';

/** So much of the newest trace is drawn anew each time, px (ours: several columns, and the ends of the widest line). */
const ANEW_PX = 24;
/** Where it begins a line has an end that the kept trace doesn't have; so much of it stays hidden, px (half the widest line). */
const END_PX = 10;

/** What of the trace is drawn anew. */
export interface Tail {
  /** Feed clock. */
  readonly sinceMs: number;
  /** The kept picture stands left of it, px. */
  readonly x: number;
}

export class Kept {
  readonly ground = new Layer();
  readonly words = new Layer();
  readonly past = new Layer();
  #key = '';
  #curve: Curve | null = null;
  #endMs = -Infinity;

  /** What is to be drawn of this trace; null: all of it. `key`: all that its picture is made from but for the curve, which only grows. */
  tailOf({ curve }: RoadModel, sheet: Sheet, key: string): Tail | null {
    if (key !== this.#key || curve !== this.#curve) return null;
    const panel = sheet.panels.at(-1)!;
    const { view, box } = panel;
    const sinceMs = this.#endMs - ((view.toMs - view.fromMs) / box.width) * ANEW_PX;
    if (sinceMs <= view.fromMs) return { sinceMs: view.fromMs, x: box.x };
    return { sinceMs, x: xAt(panel, sinceMs) + END_PX };
  }

  /** The whole trace stands on this canvas, and nothing over it. */
  takePast(from: CanvasRenderingContext2D, { curve }: RoadModel, key: string): void {
    this.past.take(from);
    this.#key = key;
    this.#curve = curve;
    this.#endMs = curve.lastAtMs() ?? -Infinity;
  }

  /** What it was painted with looks different now: a face has come that was missing. */
  forget(): void {
    this.ground.forget();
    this.words.forget();
    this.#curve = null;
  }
}
