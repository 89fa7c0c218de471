/**
 * Asking a thermometer that speaks only when asked: one query at a time, again where no answer comes, and at a pace. Every query was a
 * person's wish for this very thermometer. Knows neither ports nor what an answer says: any line is one.
 */

export const LINE_ENDINGS = { lf: '\n', crlf: '\r\n', cr: '\r' } as const;
export type LineEnding = keyof typeof LINE_ENDINGS;

/** What is sent, without its end, in printable ASCII; and the end. */
export interface Query {
  readonly text: string;
  readonly ending: LineEnding;
}

/** The longest query, characters (ours: a channel list of a bench instrument is under 60). */
export const QUERY_MOST = 80;

/** Printable ASCII, so that nothing else than one line goes out. */
export const QUERY_FORM = new RegExp(`^[\\x20-\\x7e]{1,${QUERY_MOST}}$`);

export interface AskingTimings {
  /** From one query to the next, ms, where answers come (ours: as often as plain thermometers speak). */
  readonly paceMs: number;
  /** An answer that has not come by then does not come any more, ms (ours: a slow converter takes most of a second). */
  readonly timeOutMs: number;
  /** So often it is asked again at once; then it counts as mute, and is asked every `mutePaceMs` (ours). */
  readonly retries: number;
  readonly mutePaceMs: number;
}

export const ASKING_TIMINGS: AskingTimings = { paceMs: 1000, timeOutMs: 1900, retries: 2, mutePaceMs: 5000 };

export interface AskingOptions {
  readonly query: Query;
  readonly send: (text: string) => Promise<boolean>;
  /** No answer came in time, so many times in a row. True: whoever is told sees to it, and calls `again`. */
  readonly onUnanswered: (times: number) => boolean;
  readonly timings?: Partial<AskingTimings>;
}

/** Asks from its making until it is stopped. */
export class Asking {
  readonly #options: AskingOptions;
  readonly #timings: AskingTimings;
  #timer: NodeJS.Timeout | undefined;
  #sentAtMs = 0;
  #isOutstanding = false;
  #unanswered = 0;
  #stopped = false;

  constructor(options: AskingOptions) {
    this.#options = options;
    this.#timings = { ...ASKING_TIMINGS, ...options.timings };
    this.#ask();
  }

  get isMute(): boolean {
    return this.#unanswered > this.#timings.retries;
  }

  /** A line has come: the answer, or as good as one. */
  answered(): void {
    this.#unanswered = 0;
    if (!this.#isOutstanding) return;
    this.#isOutstanding = false;
    this.#askIn(this.#sentAtMs + this.#timings.paceMs - performance.now());
  }

  /** Asks now, as something has changed. */
  again(): void {
    this.#askIn(0);
  }

  stop(): void {
    this.#stopped = true;
    clearTimeout(this.#timer);
  }

  #askIn(ms: number): void {
    clearTimeout(this.#timer);
    if (!this.#stopped) this.#timer = setTimeout(() => this.#ask(), Math.max(0, ms));
  }

  #ask(): void {
    const { query, send } = this.#options;
    this.#sentAtMs = performance.now();
    this.#isOutstanding = true;
    this.#timer = setTimeout(() => this.#timedOut(), this.#timings.timeOutMs);
    // What did not go out has no answer, and counts as unanswered.
    void send(query.text + LINE_ENDINGS[query.ending]);
  }

  #timedOut(): void {
    this.#isOutstanding = false;
    this.#unanswered++;
    if (this.#options.onUnanswered(this.#unanswered)) return;
    this.#askIn(this.isMute ? this.#timings.mutePaceMs : 0);
  }
}
