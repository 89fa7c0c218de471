/**
 * How often a thermometer speaks, learned by listening, and how long a silence from it means something.
 * Knows times only: no port, no timer.
 */

/** How many intervals are remembered; the median of them is the rhythm (ours). */
const REMEMBERED = 31;

/** Rhythm of one thermometer; it is kept over a reconnect. All times are ms of one monotonic clock. */
export class Rhythm {
  readonly #intervalsMs: number[] = [];
  #lastLineMs: number | null = null;

  /** A line has ended. */
  line(atMs: number): void {
    if (this.#lastLineMs !== null) this.#intervalsMs.push(atMs - this.#lastLineMs);
    if (this.#intervalsMs.length > REMEMBERED) this.#intervalsMs.shift();
    this.#lastLineMs = atMs;
  }

  /** The silence that follows is no interval of the thermometer's own: it was away. */
  interrupted(): void {
    this.#lastLineMs = null;
  }

  /** Median time between lines, ms, the lower one of two; 0 while unknown. */
  medianMs(): number {
    const sorted = this.#intervalsMs.toSorted((a, b) => a - b);
    return sorted[(sorted.length - 1) >> 1] ?? 0;
  }
}
