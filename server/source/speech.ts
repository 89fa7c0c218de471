/**
 * How one thermometer is spoken with over whichever port it has now: at which speed, and with which question, if any. The speed outlives a
 * reopening; the question has to be given anew, as it may be another device. Knows neither paths nor silence, and sends nothing else.
 */
import { Asking, type AskingTimings, type Query } from './asking.ts';
import { PAUSE_MS, unreadable } from './legible.ts';
import { askingAt, speedUnsure, tryingSpeed, unanswered } from './link-words.ts';
import type { OpenPort } from './serial-port.ts';
import { SETTLE_MS, SpeedSearch, type SpeedStep } from './speed.ts';

export interface SpeechOptions {
  /** The speed a person named, baud; absent: it is searched on the open port, beginning with `firstBaud`. */
  readonly baud?: number;
  readonly firstBaud?: number;
  /** A search has found the speed. */
  readonly onBaud?: (baud: number) => void;
  readonly asking?: Partial<AskingTimings>;
}

type Voice = Pick<OpenPort, 'setBaud' | 'send'>;

export class Speech {
  readonly #options: SpeechOptions;
  readonly #nowMs: () => number;
  readonly #onChange: () => void;
  readonly #search: SpeedSearch;
  #port: Voice | null = null;
  #query: Query | null = null;
  #asking: Asking | null = null;
  #pause: NodeJS.Timeout | undefined;
  #baudFound: number | null = null;
  #said: string | null = null;
  #trouble: string | null = null;

  /** `onChange`: what is found, what is wrong or what is asked is not as it was. */
  constructor(options: SpeechOptions, nowMs: () => number, onChange: () => void) {
    this.#options = options;
    this.#nowMs = nowMs;
    this.#onChange = onChange;
    this.#search = new SpeedSearch(options.baud ?? options.firstBaud);
  }

  /** The speed to open the port at. */
  get baud(): number {
    return this.#search.baud;
  }

  /** The speed found, and the first line heard at it; of one that is asked, its newest answer. */
  get heard(): { readonly baud?: number; readonly sample?: string } {
    const baud = this.#baudFound === null ? {} : { baud: this.#baudFound };
    return this.#said === null ? baud : { ...baud, sample: this.#said };
  }

  /** Why nothing of what comes can be used; null: nothing is known to be wrong. */
  get trouble(): string | null {
    return this.#trouble;
  }

  get asks(): string | null {
    return this.#query?.text ?? null;
  }

  opened(port: Voice): void {
    this.#port = port;
    this.#search.opened();
  }

  closed(): void {
    this.#port = null;
    this.#stop();
    this.#query = null;
    this.#trouble = null;
    clearTimeout(this.#pause);
  }

  /** From now on, over this opening; null: nothing. */
  ask(query: Query | null): void {
    if (this.#port === null) return;
    this.#stop();
    this.#query = query;
    this.#trouble = null;
    if (query !== null) this.#begin(query, this.#port);
    this.#onChange();
  }

  bytes(chunk: Uint8Array): void {
    if (!this.#isSearched) return;
    this.#take(this.#search.bytes(chunk, this.#nowMs()));
    clearTimeout(this.#pause);
    if (this.#search.isFound) return;
    this.#pause = setTimeout(() => this.#take(this.#search.quiet(this.#nowMs())), PAUSE_MS + 1);
  }

  /** False where it was perhaps sent at another speed, and is no line of the thermometer. */
  line(text: string): boolean {
    if (this.#isSearched && this.#search.isGoingOn && unreadable(text) > 0) return false;
    this.#asking?.answered();
    this.#sample(text);
    return true;
  }

  get #isSearched(): boolean {
    return this.#options.baud === undefined;
  }

  /** A line shows that a speed is the right one, or that it answers. */
  #sample(text: string): void {
    const isFound = this.#isSearched && this.#search.isFound && this.#baudFound !== this.#search.baud;
    if (isFound) this.#baudFound = this.#search.baud;
    const isNews = this.#query !== null && (text !== this.#said || this.#trouble !== null);
    if (!isFound && !isNews) return;
    this.#said = text;
    this.#trouble = null;
    this.#onChange();
  }

  #take(step: SpeedStep | null): void {
    switch (step?.kind) {
      case undefined:
        return;
      case 'found':
        return this.#options.onBaud?.(this.#search.baud);
      case 'try':
        this.#trouble = this.#query === null ? tryingSpeed(step.baud) : askingAt(this.#query.text, step.baud);
        break;
      case 'unsure':
        this.#trouble = this.#query === null ? speedUnsure(step.baud) : unanswered(this.#query.text);
    }
    this.#baudFound = null;
    this.#onChange();
    void this.#change(step.baud);
  }

  async #change(baud: number): Promise<void> {
    const port = this.#port;
    const changed = await port?.setBaud(baud);
    if (port === null || this.#port !== port) return;
    if (!changed) return this.#tryNextSoon();
    this.#search.changed(this.#nowMs());
    this.#asking?.again();
  }

  /** Not at once: a port that is gone refuses every speed, and nothing else would be heard meanwhile. */
  #tryNextSoon(): void {
    clearTimeout(this.#pause);
    this.#pause = setTimeout(() => this.#take(this.#search.refused(this.#nowMs())), SETTLE_MS);
  }

  #begin(query: Query, port: Voice): void {
    const timings = this.#options.asking;
    this.#asking = new Asking({
      query,
      send: (text) => port.send(text),
      onUnanswered: () => this.#unanswered(query),
      ...(timings === undefined ? {} : { timings }),
    });
  }

  #stop(): void {
    this.#asking?.stop();
    this.#asking = null;
  }

  /** It may not have understood: while the speed is not known, the next one is tried. */
  #unanswered(query: Query): boolean {
    if (this.#isSearched && this.#search.isGoingOn) {
      this.#take(this.#search.refused(this.#nowMs()));
      return true;
    }
    if (this.#asking?.isMute && this.#trouble === null) {
      this.#trouble = unanswered(query.text);
      this.#onChange();
    }
    return false;
  }
}
