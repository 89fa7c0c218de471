/**
 * The curve as the page holds it: growing columns of what was read and of what the chocolate is estimated to be, and from them
 * at most two points per column of what is visible. Knows nothing about phases, pixels or the chart.
 */
import { QUALITY_CODE } from '../server/core/show/wire.ts';
import type { Tile, WireReading } from '../server/core/show/wire.ts';
import { Pyramid } from './road/pyramid.ts';
import type { Extremes } from './road/pyramid.ts';

/** A stretch without a good reading is a gap from this many usual intervals on, and never below the floor (ours). */
const GAP_INTERVALS = 3;
const GAP_FLOOR_MS = 3_000;
/** Newest intervals whose median is the usual one (ours: rides out one late reading, follows a changed pace within five). */
const PACE_MEMORY = 9;

/** A line to be drawn, oldest point first. NaN in `valueC` lifts the pen. */
export interface Polyline {
  readonly atMs: number[];
  readonly valueC: number[];
}

/** What the thermometer said, corrected; what the chocolate is estimated to be. */
export type CurveLine = 'reading' | 'estimate';

/** A stretch of time without a good reading. */
export interface Hole {
  readonly fromMs: number;
  readonly toMs: number;
}

export class Curve {
  #atMs = new Float64Array(1024);
  /** Gaps so far, up to and including the one before each row: two rows with the same count have none between them. */
  #gapsBy = new Uint32Array(1024);
  #size = 0;
  readonly #readings = new Pyramid();
  readonly #estimates = new Pyramid();
  readonly #holes: Hole[] = [];
  #pace: number[] = [];
  #newestMs = -Infinity;
  /** How far the newest row reaches, ms: its own moment, or the end of its tile. */
  #coveredToMs = -Infinity;
  #sawEmptyTile = false;

  /** Adds columns of a stored curve, oldest first. Tiles older than what is held are left out. */
  addTiles(tiles: readonly Tile[]): void {
    for (const [atMs, lowC, highC, estimateC] of tiles) {
      if (!this.#comesNext(atMs)) continue;
      if (lowC === null || highC === null) {
        this.#sawEmptyTile = true;
        continue;
      }
      this.#append(atMs, lowC, highC, estimateC);
      this.#coveredToMs = atMs + this.#usualMs();
    }
  }

  /** Adds readings, oldest first. What is not good leaves a gap; readings older than what is held are left out. */
  addReadings(readings: readonly WireReading[]): void {
    for (const [atMs, valueC, quality, estimateC] of readings) {
      if (!this.#comesNext(atMs) || quality !== QUALITY_CODE.good) continue;
      this.#append(atMs, valueC, valueC, estimateC);
      this.#coveredToMs = atMs;
    }
  }

  /** Moment of the newest good reading; null before the first. */
  lastAtMs(): number | null {
    return this.#size === 0 ? null : this.#atMs[this.#size - 1]!;
  }

  /** The newest good reading; of a column, its middle. null before the first. */
  last(): { readonly valueC: number; readonly atMs: number; readonly quality: 'good' } | null {
    const atMs = this.lastAtMs();
    if (atMs === null) return null;
    const { low, high } = this.#readings.at(this.#size - 1);
    return { valueC: (low + high) / 2, atMs, quality: 'good' };
  }

  /**
   * A line over a span, of at most two points per column, in the order they happened, one row beyond either end so that it reaches
   * the edge. Columns stand at whole multiples of their width, so a sliding window shows the same columns again. `sinceMs`: what is
   * older is left out.
   */
  columns(which: CurveLine, { fromMs, toMs }: Hole, count: number, sinceMs = fromMs): Polyline {
    const line: Polyline = { atMs: [], valueC: [] };
    if (!(toMs > fromMs)) return line;
    const pyramid = which === 'reading' ? this.#readings : this.#estimates;
    /* Whole milliseconds: a row on the line between two columns must not fall into a third. */
    const stepMs = Math.ceil((toMs - fromMs) / Math.max(1, count));
    const first = this.#firstFrom(Math.max(fromMs, sinceMs));
    const last = this.#firstAfter(toMs);
    let gaps = -1;
    const add = (from: number, to: number): void => {
      const broken = gaps >= 0 && this.#gapsBy[to - 1] !== gaps;
      this.#addColumn(line, pyramid, from, to, broken);
      gaps = this.#gapsBy[to - 1]!;
    };
    if (first > 0) add(first - 1, first);
    for (let i = first; i < last;) {
      const endMs = (Math.floor(this.#atMs[i]! / stepMs) + 1) * stepMs;
      const next = this.#nextFrom(i, endMs, last);
      add(i, next);
      i = next;
    }
    if (last < this.#size) add(last, last + 1);
    return line;
  }

  /** How many rows a span holds. */
  rowsIn(fromMs: number, toMs: number): number {
    return this.#firstAfter(toMs) - this.#firstFrom(fromMs);
  }

  /** Stretches without a good reading that touch the span and last at least `leastMs`; the one still open ends at `nowMs`. */
  holes(fromMs: number, toMs: number, leastMs: number, nowMs: number): Hole[] {
    const found = this.#holes.filter(
      (hole) => hole.toMs > fromMs && hole.fromMs < toMs && hole.toMs - hole.fromMs >= leastMs,
    );
    const open = this.#openHole(nowMs);
    if (open !== null && open.toMs - open.fromMs >= leastMs && open.fromMs < toMs && open.toMs > fromMs)
      found.push(open);
    return found;
  }

  /** Estimate at a moment, from the newest row not after it, °C; null before the first, in a gap, or where there is none. */
  estimateAt(atMs: number): number | null {
    const i = this.#firstAfter(atMs) - 1;
    if (i < 0 || this.#isGap(atMs - this.#atMs[i]!)) return null;
    return valueOrNull(this.#estimates.at(i).low);
  }

  /** The last estimate of a span, °C; null where it holds none. */
  lastEstimateIn(fromMs: number, toMs: number): number | null {
    const from = this.#firstFrom(fromMs);
    for (let i = this.#firstAfter(toMs) - 1; i >= from; i--) {
      const value = this.#estimates.at(i).low;
      if (!Number.isNaN(value)) return value;
    }
    return null;
  }

  /** Lowest and highest estimate of a span, °C; NaN both where it holds none. */
  estimateExtremes(fromMs: number, toMs: number): Extremes {
    return this.#estimates.extremes(this.#firstFrom(fromMs), this.#firstAfter(toMs));
  }

  #comesNext(atMs: number): boolean {
    if (atMs < this.#newestMs) return false;
    if (this.#newestMs > -Infinity && atMs > this.#newestMs) {
      this.#pace.push(atMs - this.#newestMs);
      if (this.#pace.length > PACE_MEMORY) this.#pace.shift();
    }
    this.#newestMs = atMs;
    return true;
  }

  #append(atMs: number, lowC: number, highC: number, estimateC: number | null): void {
    this.#makeRoom();
    const isGap = this.#size > 0 && this.#isBroken(atMs);
    if (isGap) this.#holes.push({ fromMs: this.#coveredToMs, toMs: atMs });
    this.#sawEmptyTile = false;
    this.#atMs[this.#size] = atMs;
    this.#gapsBy[this.#size] = this.#holes.length;
    this.#size++;
    this.#readings.push(lowC, highC);
    this.#estimates.push(estimateC ?? NaN, estimateC ?? NaN);
  }

  /** An empty tile says outright that nothing was read; otherwise only lateness tells. */
  #isBroken(atMs: number): boolean {
    const sinceMs = atMs - this.#atMs[this.#size - 1]!;
    return this.#isGap(sinceMs) || (this.#sawEmptyTile && sinceMs - this.#usualMs() > GAP_FLOOR_MS);
  }

  #isGap(sinceMs: number): boolean {
    return sinceMs > Math.max(GAP_INTERVALS * this.#usualMs(), GAP_FLOOR_MS);
  }

  #usualMs(): number {
    const sorted = this.#pace.toSorted((a, b) => a - b);
    return sorted[(sorted.length - 1) >> 1] ?? 0;
  }

  #openHole(nowMs: number): Hole | null {
    const lastMs = this.lastAtMs();
    if (lastMs === null || !this.#isGap(nowMs - lastMs)) return null;
    return { fromMs: this.#coveredToMs, toMs: nowMs };
  }

  #addColumn(line: Polyline, pyramid: Pyramid, from: number, to: number, broken: boolean): void {
    const { low, high } = pyramid.extremes(from, to);
    const firstMs = this.#atMs[from]!;
    if (broken || Number.isNaN(low)) liftPen(line, firstMs);
    if (Number.isNaN(low)) return;
    if (low === high) return addPoint(line, firstMs, low);
    const first = pyramid.at(from);
    const lowFirst = Math.abs(first.low - low) <= Math.abs(high - first.high);
    addPoint(line, firstMs, lowFirst ? low : high);
    addPoint(line, this.#atMs[to - 1]!, lowFirst ? high : low);
  }

  #makeRoom(): void {
    if (this.#size < this.#atMs.length) return;
    const atMs = new Float64Array(this.#size * 2);
    atMs.set(this.#atMs);
    this.#atMs = atMs;
    const gapsBy = new Uint32Array(this.#size * 2);
    gapsBy.set(this.#gapsBy);
    this.#gapsBy = gapsBy;
  }

  /** First row at or after a moment, beyond row `i` and at most `last`: looked for in ever longer strides, for it is near. */
  #nextFrom(i: number, atMs: number, last: number): number {
    let stride = 1;
    while (i + stride < last && this.#atMs[i + stride]! < atMs) stride *= 2;
    return Math.min(last, this.#firstFrom(atMs, i + (stride >> 1), Math.min(last, i + stride)));
  }

  /** First row at or after a moment, between two rows; the second of them where there is none. */
  #firstFrom(atMs: number, from = 0, to = this.#size): number {
    let low = from;
    let high = to;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.#atMs[middle]! < atMs) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** First row after a moment; the size where there is none. */
  #firstAfter(atMs: number): number {
    let i = this.#firstFrom(atMs);
    while (i < this.#size && this.#atMs[i] === atMs) i++;
    return i;
  }
}

function addPoint(line: Polyline, atMs: number, valueC: number): void {
  line.atMs.push(atMs);
  line.valueC.push(valueC);
}

function liftPen(line: Polyline, atMs: number): void {
  if (line.valueC.length > 0 && !Number.isNaN(line.valueC.at(-1)!)) addPoint(line, atMs, NaN);
}

function valueOrNull(value: number): number | null {
  return Number.isNaN(value) ? null : value;
}
