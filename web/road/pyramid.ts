/**
 * A growing column of spans (low and high) with its own min-max pyramid: the extremes of any stretch in logarithmic time,
 * so that a single-sample peak survives at every zoom. Knows nothing about time, temperature or drawing.
 */

/** Entries folded into one entry of the level above (ours; 8 keeps the pyramid an eighth of its base). */
const FOLD = 8;
const FOLD_BITS = 3;
/** Room of a new level, entries (ours). */
const FIRST_ROOM = 64;

interface Level {
  low: Float32Array;
  high: Float32Array;
  size: number;
}

/** Extremes of a stretch; NaN both where nothing was measured in it. */
export interface Extremes {
  readonly low: number;
  readonly high: number;
}

export class Pyramid {
  readonly #levels: Level[] = [newLevel()];

  get size(): number {
    return this.#levels[0]!.size;
  }

  /** Adds one entry at the end. NaN for both means nothing was measured; it keeps its place and widens no stretch. */
  push(low: number, high: number): void {
    let index = this.size;
    for (let k = 0; k < this.#levels.length; k++) {
      widen(this.#levels[k]!, index, low, high);
      index >>= FOLD_BITS;
    }
    if (this.#levels.at(-1)!.size > FOLD) this.#levels.push(foldOf(this.#levels.at(-1)!));
  }

  /** Entry `index` of the base. NaN both outside the column. */
  at(index: number): Extremes {
    const base = this.#levels[0]!;
    return { low: base.low[index] ?? NaN, high: base.high[index] ?? NaN };
  }

  /** Extremes of entries `from` to `to` (exclusive), both clamped to the column. */
  extremes(from: number, to: number): Extremes {
    const end = Math.min(to, this.size);
    let low = Infinity;
    let high = -Infinity;
    for (let i = Math.max(0, from); i < end;) {
      const k = this.#highestWholeLevel(i, end);
      const level = this.#levels[k]!;
      const j = i >> (FOLD_BITS * k);
      if (level.low[j]! < low) low = level.low[j]!;
      if (level.high[j]! > high) high = level.high[j]!;
      i += 1 << (FOLD_BITS * k);
    }
    return low <= high ? { low, high } : { low: NaN, high: NaN };
  }

  /** The highest level whose entry starts at base index `i` and ends by `end`. */
  #highestWholeLevel(i: number, end: number): number {
    let k = 0;
    while (k + 1 < this.#levels.length) {
      const step = 1 << (FOLD_BITS * (k + 1));
      if (i % step !== 0 || i + step > end) break;
      k++;
    }
    return k;
  }
}

function newLevel(): Level {
  return { low: new Float32Array(FIRST_ROOM), high: new Float32Array(FIRST_ROOM), size: 0 };
}

function widen(level: Level, index: number, low: number, high: number): void {
  if (index === level.size) open(level);
  const before = level.low[index]!;
  if (Number.isNaN(low)) return;
  if (Number.isNaN(before) || low < before) level.low[index] = low;
  if (Number.isNaN(before) || high > level.high[index]!) level.high[index] = high;
}

/** Opens the next entry, empty, doubling the room where it is full. */
function open(level: Level): void {
  if (level.size === level.low.length) {
    level.low = doubled(level.low);
    level.high = doubled(level.high);
  }
  level.low[level.size] = NaN;
  level.high[level.size] = NaN;
  level.size++;
}

function doubled(column: Float32Array): Float32Array {
  const wider = new Float32Array(column.length * 2);
  wider.set(column);
  return wider;
}

function foldOf(below: Level): Level {
  const level = newLevel();
  for (let i = 0; i < below.size; i++) widen(level, i >> FOLD_BITS, below.low[i]!, below.high[i]!);
  return level;
}
