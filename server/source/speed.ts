/**
 * The search for the speed of a thermometer, on the open port: which speed to try next, and when it is found. Only bytes speak against
 * a speed, silence never does. Knows no port; whoever has one does what it says.
 */
import { Legible, type Verdict } from './legible.ts';

/** The speeds searched, baud, the likeliest first (ours: what boards and bench thermometers are set to when new). */
export const USUAL_BAUDS: readonly number[] = [9600, 115200, 57600, 38400, 19200, 4800];
/** Speed heard at first where none is named or remembered, baud. */
export const USUAL_BAUD = USUAL_BAUDS[0]!;

/** A search takes so long, ms (contract), or until each speed was heard at where the thermometer speaks less often than every 2 s. */
export const SEARCH_MS = 12_000;
/** After a search that found nothing, the next begins so much later, ms (ours: the thermometer may have been switched on in its midst). */
const REST_MS = 30_000;
/** The speed to begin with is left when it is wrong for longer than a board takes to boot, ms (ours): boards boot noisily. */
const BOOT_MS = 500;
/** A speed that was found is searched again when nothing but what is no text has come for so long, so many times; ms. Ours: no plug is wiggled for as long. */
const GARBLED_MS = 5_000;
const GARBLED_TIMES = 3;
/** What comes so soon after a change was sent, or cut off, before it, ms (ours). */
export const SETTLE_MS = 100;

/** What follows from the bytes just heard; null: go on listening. */
export type SpeedStep =
  | { readonly kind: 'found' }
  /** Change to this speed, and call `changed`. */
  | { readonly kind: 'try'; readonly baud: number }
  /** The same; none is certain, and this one is as good as any. */
  | { readonly kind: 'unsure'; readonly baud: number };

export class SpeedSearch {
  /** In the order they are tried; the first is the one to begin with. */
  readonly #bauds: readonly number[];
  #at = 0;
  /** The speed that was found last, or the one to begin with: where a search that finds nothing ends. */
  #home = 0;
  #tried = 0;
  #legible = new Legible();
  #state: 'begun' | 'searching' | 'found' | 'unsure' = 'begun';
  #wrongSinceMs: number | null = null;
  #wrongTimes = 0;
  #startedMs = 0;
  #endedMs = 0;
  #changedMs = -Infinity;

  /** `first`: the speed the port is opened at. */
  constructor(first = USUAL_BAUD) {
    this.#bauds = [first, ...USUAL_BAUDS.filter((baud) => baud !== first)];
  }

  /** The speed the port runs at, or is to run at. */
  get baud(): number {
    return this.#bauds[this.#at]!;
  }

  get isFound(): boolean {
    return this.#state === 'found';
  }

  /** What is no text was perhaps sent at another speed, and is no line of the thermometer. */
  get isGoingOn(): boolean {
    return this.#state === 'begun' || this.#state === 'searching';
  }

  /** The port has been opened, or opened anew: the speed it had is kept, and has to show itself again. */
  opened(): void {
    this.#legible = new Legible();
    this.#wrongSinceMs = null;
    this.#wrongTimes = 0;
    if (this.isFound) this.#state = 'begun';
  }

  /** The port runs at `baud` now. */
  changed(atMs: number): void {
    this.#changedMs = atMs;
    this.#legible = new Legible();
  }

  /** The port will not run at `baud`, or what was asked at it was not answered: no reason to search again where that was in vain. */
  refused(atMs: number): SpeedStep | null {
    if (!this.isGoingOn) return null;
    return this.#state === 'searching' ? this.#next(atMs) : this.#begin(atMs, atMs);
  }

  bytes(chunk: Uint8Array, atMs: number): SpeedStep | null {
    if (atMs - this.#changedMs < SETTLE_MS) return null;
    return this.#judged(this.#legible.bytes(chunk, atMs), atMs);
  }

  /** Nothing came for `PAUSE_MS` after the last bytes. */
  quiet(atMs: number): SpeedStep | null {
    return this.isFound ? null : this.#judged(this.#legible.quiet(atMs), atMs);
  }

  #judged(verdict: Verdict, atMs: number): SpeedStep | null {
    switch (verdict) {
      case 'unsure':
        return null;
      case 'right':
        return this.#right();
      case 'wrong':
        this.#legible = new Legible();
        return this.#wrong(atMs);
    }
  }

  #right(): SpeedStep | null {
    const wasFound = this.isFound;
    this.#legible = new Legible();
    this.#wrongSinceMs = null;
    this.#wrongTimes = 0;
    this.#state = 'found';
    this.#home = this.#at;
    return wasFound ? null : { kind: 'found' };
  }

  #wrong(atMs: number): SpeedStep | null {
    this.#wrongTimes++;
    switch (this.#state) {
      case 'found':
        this.#wrongSinceMs ??= atMs;
        if (atMs - this.#wrongSinceMs < GARBLED_MS || this.#wrongTimes < GARBLED_TIMES) return null;
        return this.#begin(atMs, atMs);
      case 'begun':
        this.#wrongSinceMs ??= atMs;
        return atMs - this.#wrongSinceMs < BOOT_MS ? null : this.#begin(this.#wrongSinceMs, atMs);
      case 'unsure':
        return atMs - this.#endedMs < REST_MS ? null : this.#begin(atMs, atMs);
      default:
        return this.#next(atMs);
    }
  }

  #begin(startedMs: number, atMs: number): SpeedStep {
    this.#state = 'searching';
    this.#startedMs = startedMs;
    this.#tried = 0;
    return this.#next(atMs);
  }

  #next(atMs: number): SpeedStep {
    this.#tried++;
    if (this.#tried >= this.#bauds.length && atMs - this.#startedMs >= SEARCH_MS) {
      this.#state = 'unsure';
      this.#endedMs = atMs;
      this.#at = this.#home;
      return { kind: 'unsure', baud: this.baud };
    }
    this.#at = (this.#at + 1) % this.#bauds.length;
    return { kind: 'try', baud: this.baud };
  }
}
