/**
 * A thermometer on a serial port: keeps its port open for as long as it can, and opens it again for ever after it was lost.
 * Every way of losing it ends in one state, link down. Watches bytes and the form of lines; knows nothing of what they say.
 */
import type { LinkState } from '../core/show/wire.ts';
import type { Query } from './asking.ts';
import { deviceAt } from './device.ts';
import { MAX_LINE_BYTES } from './line-reader.ts';
import { silentFor, silentSinceOpened, tornLines, UNPLUGGED, whichOfItsKind, whyNotOpen } from './link-words.ts';
import { othersAt, type OthersAt } from './others.ts';
import { groupOf, type GroupOf } from './port-group.ts';
import { type FoundPort, locatePort, thermometerId, type PortIdentity } from './ports.ts';
import { Rhythm } from './rhythm.ts';
import { openPort, type ListPorts, type OpenPort, type OpenPortAt, type PortListener } from './serial-port.ts';
import type { Clock, Source, SourceListener } from './source.ts';
import { Speech, type SpeechOptions } from './speech.ts';
import { Torn } from './torn.ts';

export interface SerialTimings {
  /** First wait before opening again, ms; each failure doubles it up to `retryMostMs`, a byte heard sets it back. */
  readonly retryFirstMs: number;
  readonly retryMostMs: number;
  /** After this much silence, and then this often, the path is looked at: is it still the same device? ms. */
  readonly lookMs: number;
  /** The link counts as stale after this much silence, ms, or after `staleIntervals` of the thermometer's own if that is longer. */
  readonly staleMs: number;
  readonly staleIntervals: number;
  /** The link counts as lost after this much silence, ms, or after `lostIntervals` of the thermometer's own if that is longer. */
  readonly lostMs: number;
  readonly lostIntervals: number;
}

/** All ours, chosen so that an unplug is seen within 2 s and no board is restarted for a pause of its own. */
export const SERIAL_TIMINGS: SerialTimings = {
  retryFirstMs: 250,
  retryMostMs: 5000,
  lookMs: 1000,
  staleMs: 2000,
  staleIntervals: 3,
  lostMs: 10_000,
  lostIntervals: 10,
};

/** A path typed by hand is opened whatever it is, symbolic links too; an identity is looked for anew at each opening. */
export type Where = { readonly path: string } | { readonly identity: PortIdentity };

interface Listening extends SpeechOptions {
  /** What a person wants the device that is open at this path to be asked. null, or absent: nothing is ever sent. */
  readonly queryAt?: (path: string) => Promise<Query | null>;
  readonly clock: Clock;
  readonly timings?: Partial<SerialTimings>;
  /** Which ports there are; absent: those of this system. */
  readonly list?: ListPorts;
  /** Where the device is now; absent: as the list has it. */
  readonly locate?: (identity: PortIdentity) => Promise<FoundPort>;
  readonly open?: OpenPortAt;
  readonly othersAt?: OthersAt;
  readonly groupOf?: GroupOf;
}

export type SerialOptions = Where & Listening;

export function serialSource(options: SerialOptions): Source {
  return new SerialSource(options);
}

const OPENING = 'Opening the thermometer’s port.';

interface Connection {
  readonly port: OpenPort;
  readonly path: string;
  readonly label: string;
  /** What stood at the path when it was opened; null where the system doesn’t say (COM3 is no path), then it never moves. */
  readonly device: string | null;
  heardAtMs: number;
  up: boolean;
  /** Others were looked for in this silence. */
  isStale: boolean;
  isTorn: boolean;
  /** A person has said since it was opened what it is to be asked, or that it isn't. */
  isAsked: boolean;
  /** What is wrong though it is open; null: nothing. */
  why: string | null;
}

type Sought =
  { readonly ok: true; readonly path: string; readonly label: string } | { readonly ok: false; readonly why: string };

class SerialSource implements Source {
  readonly id: string;
  readonly simulated = false;
  readonly #options: SerialOptions;
  readonly #timings: SerialTimings;
  readonly #rhythm = new Rhythm();
  readonly #torn = new Torn();
  readonly #speech: Speech;
  #listener: SourceListener | null = null;
  #connection: Connection | null = null;
  #retryMs: number;
  #timer: NodeJS.Timeout | undefined;
  #opening: Promise<void> = Promise.resolve();
  #letGo: Promise<void> = Promise.resolve();
  /** The port was opened again for this silence: not twice, opening may restart the board. */
  #quietSpell = false;
  #closed = false;

  constructor(options: SerialOptions) {
    this.#options = options;
    this.#timings = { ...SERIAL_TIMINGS, ...options.timings };
    this.#speech = new Speech(
      options,
      () => this.#nowMs(),
      () => this.#tell(),
    );
    this.#retryMs = this.#timings.retryFirstMs;
    this.id = thermometerId(options);
  }

  start(listener: SourceListener): void {
    if (this.#listener !== null) return;
    this.#listener = listener;
    listener.link({ state: 'looking', why: OPENING });
    this.#opening = this.#open();
  }

  ask(query: Query | null): void {
    if (this.#connection !== null) this.#connection.isAsked = true;
    this.#speech.ask(query);
  }

  async close(): Promise<void> {
    this.#closed = true;
    clearTimeout(this.#timer);
    this.#speech.closed();
    const connection = this.#connection;
    this.#connection = null;
    await connection?.port.close();
    await this.#opening;
    await this.#letGo;
  }

  async #open(): Promise<void> {
    await this.#letGo;
    const sought = await this.#seek();
    if (this.#closed) return;
    if (!sought.ok) return this.#retry(sought.why);
    const { path, label } = sought;
    // Before opening: afterwards it may be gone already, and nothing would ever show it.
    const device = await deviceAt(path);
    const opened = await (this.#options.open ?? openPort)(path, this.#speech.baud, this.#hears());
    if (!opened.ok) return this.#retry(await whyNotOpen(opened.message, path, this.#asking));
    if (this.#closed) return opened.port.close();
    const heardAtMs = this.#nowMs();
    const begun = { heardAtMs, up: false, isStale: false, isTorn: false, isAsked: false, why: null };
    this.#connected({ port: opened.port, path, label, device, ...begun });
  }

  /** Who is asked why a port can't be opened. */
  get #asking() {
    return { othersAt: this.#othersAt, groupOf: this.#options.groupOf ?? groupOf };
  }

  get #othersAt(): OthersAt {
    return this.#options.othersAt ?? othersAt;
  }

  async #seek(): Promise<Sought> {
    if ('path' in this.#options) return { ok: true, path: this.#options.path, label: this.#options.path };
    const { identity, list, locate = (wanted: PortIdentity) => locatePort(wanted, list) } = this.#options;
    const found = await locate(identity);
    if (found.kind === 'one') return { ok: true, path: found.path, label: found.label };
    if (found.kind === 'none') return { ok: false, why: found.why };
    return { ok: false, why: whichOfItsKind(found.ports.length === 1) };
  }

  #connected(connection: Connection): void {
    this.#connection = connection;
    this.#speech.opened(connection.port);
    void this.#askAsWanted(connection);
    if (this.#quietSpell) void this.#reopenedInSilence(connection);
    else this.#goUp(connection);
    this.#lookLater(connection);
  }

  /** Whose yes it was is looked up at each opening: another device may be at the path now. */
  async #askAsWanted(connection: Connection): Promise<void> {
    const query = (await this.#options.queryAt?.(connection.path)) ?? null;
    if (this.#connection === connection && !connection.isAsked && query !== null) this.#speech.ask(query);
  }

  async #reopenedInSilence(connection: Connection): Promise<void> {
    connection.why = silentSinceOpened(connection.label, await this.#othersAt(connection.path));
    if (this.#connection === connection && !connection.up) this.#tell();
  }

  #hears(): PortListener {
    return {
      bytes: (chunk) => this.#heard(chunk),
      line: (text, whole) => this.#line(text, whole),
      gone: () => this.#unplugged(),
    };
  }

  #heard(chunk: Uint8Array): void {
    const connection = this.#connection;
    if (connection === null) return;
    connection.heardAtMs = this.#nowMs();
    connection.isStale = false;
    this.#quietSpell = false;
    this.#retryMs = this.#timings.retryFirstMs;
    if (!connection.up) this.#goUp(connection);
    else if (connection.why !== null && !connection.isTorn) this.#mend(connection, null);
    this.#speech.bytes(chunk);
  }

  /** The first line after opening may be the tail of one; not so one that is too long to be any line's tail. */
  #line(text: string, whole: boolean): void {
    const connection = this.#connection;
    if (connection === null) return;
    if (!this.#speech.line(text)) return;
    const atMs = this.#nowMs();
    this.#rhythm.line(atMs);
    if (!whole && text.length <= MAX_LINE_BYTES) return;
    this.#listener?.input({ atMs, source: this.id, kind: 'line', text });
    void this.#watchForm(connection, text);
  }

  async #watchForm(connection: Connection, text: string): Promise<void> {
    const wasTorn = connection.isTorn;
    connection.isTorn = this.#torn.line(text);
    if (connection.isTorn === wasTorn) return;
    const why = connection.isTorn ? tornLines(await this.#othersAt(connection.path)) : null;
    if (this.#connection === connection && connection.isTorn !== wasTorn) this.#mend(connection, why);
  }

  #goUp(connection: Connection): void {
    connection.up = true;
    connection.why = null;
    this.#listener?.input({ atMs: this.#nowMs(), source: this.id, kind: 'link', up: true });
    this.#tell();
  }

  /** Something is wrong though it is open, or is not any more. */
  #mend(connection: Connection, why: string | null): void {
    connection.why = why;
    this.#tell();
  }

  /** How the open port stands. */
  #tell(): void {
    if (this.#connection !== null) this.#listener?.link(this.#standing(this.#connection));
  }

  #standing({ up, label, why }: Connection): LinkState {
    const { asks, trouble, heard } = this.#speech;
    if (!up || trouble !== null) return { state: 'looking', why: trouble ?? why ?? OPENING, asks };
    return { state: 'up', label, ...heard, ...(why === null ? {} : { why }), asks };
  }

  #lookLater(connection: Connection): void {
    this.#timer = setTimeout(() => void this.#look(connection), this.#timings.lookMs);
  }

  /** The library can miss an unplug for good, spinning on a dead port: whoever says nothing is looked at. */
  async #look(connection: Connection): Promise<void> {
    const quietMs = (): number => this.#nowMs() - connection.heardAtMs;
    const moved = quietMs() >= this.#timings.lookMs && (await deviceAt(connection.path)) !== connection.device;
    if (this.#closed || this.#connection !== connection) return;
    if (moved) return this.#unplugged();
    // Asked anew: it may have spoken during the look.
    if (this.#quietSpell || quietMs() < this.#lostAfterMs()) {
      if (quietMs() >= this.#staleAfterMs()) void this.#stale(connection);
      return this.#lookLater(connection);
    }
    this.#quietSpell = true;
    this.#lose(silentFor(quietMs(), []));
  }

  /** Open but mute: once in each silence it is looked who else reads it. */
  async #stale(connection: Connection): Promise<void> {
    if (connection.isStale || !connection.up) return;
    connection.isStale = true;
    const others = await this.#othersAt(connection.path);
    if (others.length === 0 || this.#connection !== connection || !connection.isStale) return;
    this.#mend(connection, silentFor(this.#nowMs() - connection.heardAtMs, others));
  }

  #staleAfterMs(): number {
    return Math.max(this.#timings.staleIntervals * this.#rhythm.medianMs(), this.#timings.staleMs);
  }

  #lostAfterMs(): number {
    return Math.max(this.#timings.lostIntervals * this.#rhythm.medianMs(), this.#timings.lostMs);
  }

  #unplugged(): void {
    this.#rhythm.interrupted();
    this.#torn.forget();
    this.#lose(UNPLUGGED);
  }

  /** The one way down. */
  #lose(why: string): void {
    const connection = this.#connection;
    if (connection === null) return;
    this.#connection = null;
    this.#speech.closed();
    clearTimeout(this.#timer);
    // A lost port must be closed too, or its descriptor stays open for good.
    this.#letGo = connection.port.close();
    if (connection.up) this.#listener?.input({ atMs: this.#nowMs(), source: this.id, kind: 'link', up: false, why });
    this.#retry(why);
  }

  #retry(why: string): void {
    if (this.#closed) return;
    const retryInMs = this.#retryMs;
    this.#retryMs = Math.min(2 * retryInMs, this.#timings.retryMostMs);
    this.#listener?.link({ state: 'down', why, retryInMs });
    this.#timer = setTimeout(() => {
      this.#opening = this.#open();
    }, retryInMs);
  }

  #nowMs(): number {
    return this.#options.clock.nowMs();
  }
}
