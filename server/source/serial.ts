/**
 * A thermometer on a serial port: keeps its port open for as long as it can, and opens it again for ever after it was lost.
 * Every way of losing it ends in one state, link down. Knows nothing of what its lines say.
 */
import { stat } from 'node:fs/promises';
import { MAX_LINE_BYTES } from './line-reader.ts';
import { explainTrouble } from './port-trouble.ts';
import { locatePort, thermometerId, USUAL_BAUD, type PortIdentity } from './ports.ts';
import { Rhythm } from './rhythm.ts';
import { listPorts, openPort, type ListPorts, type OpenPort, type PortListener } from './serial-port.ts';
import type { Clock, Source, SourceListener } from './source.ts';

export interface SerialTimings {
  /** First wait before opening again, ms; each failure doubles it up to `retryMostMs`, a byte heard sets it back. */
  readonly retryFirstMs: number;
  readonly retryMostMs: number;
  /** After this much silence, and then this often, the path is looked at: is it still the same device? ms. */
  readonly lookMs: number;
  /** The link counts as lost after this much silence, ms, or after `lostIntervals` of the thermometer's own if that is longer. */
  readonly lostMs: number;
  readonly lostIntervals: number;
}

/** All ours, chosen so that an unplug is seen within 2 s and no board is restarted for a pause of its own. */
export const SERIAL_TIMINGS: SerialTimings = {
  retryFirstMs: 250,
  retryMostMs: 5000,
  lookMs: 1000,
  lostMs: 10_000,
  lostIntervals: 10,
};

/** A path typed by hand is opened whatever it is, symbolic links too; an identity is looked for anew at each opening. */
export type SerialOptions = ({ readonly path: string } | { readonly identity: PortIdentity }) & {
  readonly baud?: number;
  readonly clock: Clock;
  readonly timings?: Partial<SerialTimings>;
  readonly list?: ListPorts;
};

export function serialSource(options: SerialOptions): Source {
  return new SerialSource(options);
}

interface Connection {
  readonly port: OpenPort;
  readonly path: string;
  readonly label: string;
  /** What stood at the path when it was opened; null where the system doesn’t say (COM3 is no path), then it never moves. */
  readonly device: string | null;
  heardAtMs: number;
  up: boolean;
}

type Sought =
  { readonly ok: true; readonly path: string; readonly label: string } | { readonly ok: false; readonly why: string };

class SerialSource implements Source {
  readonly id: string;
  readonly simulated = false;
  readonly #options: SerialOptions;
  readonly #timings: SerialTimings;
  readonly #rhythm = new Rhythm();
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
    this.#retryMs = this.#timings.retryFirstMs;
    this.id = thermometerId(options);
  }

  start(listener: SourceListener): void {
    if (this.#listener !== null) return;
    this.#listener = listener;
    listener.link({ state: 'looking', why: 'Opening the thermometer’s port.' });
    this.#opening = this.#open();
  }

  async close(): Promise<void> {
    this.#closed = true;
    clearTimeout(this.#timer);
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
    const opened = await openPort(path, this.#options.baud ?? USUAL_BAUD, this.#hears());
    if (!opened.ok) return this.#retry(spoken(opened.message, path));
    if (this.#closed) return opened.port.close();
    this.#connected({ port: opened.port, path, label, device, heardAtMs: this.#nowMs(), up: false });
  }

  async #seek(): Promise<Sought> {
    if ('path' in this.#options) return { ok: true, path: this.#options.path, label: this.#options.path };
    const found = await locatePort(this.#options.identity, this.#options.list ?? listPorts);
    if (found.kind === 'one') return { ok: true, path: found.path, label: found.label };
    if (found.kind === 'none') return { ok: false, why: found.why };
    return { ok: false, why: 'Several thermometers of this kind are plugged in: choose one, or leave one plugged in.' };
  }

  #connected(connection: Connection): void {
    this.#connection = connection;
    if (this.#quietSpell) {
      this.#listener?.link({ state: 'looking', why: `${connection.label} is open, but says nothing.` });
    } else {
      this.#goUp(connection);
    }
    this.#lookLater(connection);
  }

  #hears(): PortListener {
    return {
      bytes: () => this.#heard(),
      line: (text, whole) => this.#line(text, whole),
      gone: () => this.#unplugged(),
    };
  }

  #heard(): void {
    const connection = this.#connection;
    if (connection === null) return;
    connection.heardAtMs = this.#nowMs();
    this.#quietSpell = false;
    this.#retryMs = this.#timings.retryFirstMs;
    if (!connection.up) this.#goUp(connection);
  }

  /** The first line after opening may be the tail of one; not so one that is too long to be any line's tail. */
  #line(text: string, whole: boolean): void {
    if (this.#connection === null) return;
    const atMs = this.#nowMs();
    this.#rhythm.line(atMs);
    if (!whole && text.length <= MAX_LINE_BYTES) return;
    this.#listener?.input({ atMs, source: this.id, kind: 'line', text });
  }

  #goUp(connection: Connection): void {
    connection.up = true;
    this.#listener?.input({ atMs: this.#nowMs(), source: this.id, kind: 'link', up: true });
    this.#listener?.link({ state: 'up', label: connection.label });
  }

  #lookLater(connection: Connection): void {
    this.#timer = setTimeout(() => void this.#look(connection), this.#timings.lookMs);
  }

  /** The library can miss an unplug for good, spinning on a dead port: whoever says nothing is looked at. */
  async #look(connection: Connection): Promise<void> {
    const quietMs = (): number => this.#nowMs() - connection.heardAtMs;
    const moved = quietMs() >= this.#timings.lookMs && (await hasMoved(connection));
    if (this.#closed || this.#connection !== connection) return;
    if (moved) return this.#unplugged();
    // Asked anew: it may have spoken during the look.
    if (this.#quietSpell || quietMs() < this.#lostAfterMs()) return this.#lookLater(connection);
    this.#quietSpell = true;
    this.#lose(silentFor(quietMs()));
  }

  #lostAfterMs(): number {
    return Math.max(this.#timings.lostIntervals * this.#rhythm.medianMs(), this.#timings.lostMs);
  }

  #unplugged(): void {
    this.#rhythm.interrupted();
    this.#lose('The thermometer was unplugged, or its cable is loose.');
  }

  /** The one way down. */
  #lose(why: string): void {
    const connection = this.#connection;
    if (connection === null) return;
    this.#connection = null;
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

function spoken(message: string, path: string): string {
  const { cause, action } = explainTrouble(message, path);
  return `${cause} ${action}`;
}

function silentFor(quietMs: number): string {
  const seconds = Math.round(quietMs / 1000);
  return `Nothing has come from the thermometer for ${seconds} s. Is it switched on, and does no other program read its port?`;
}

/** While a port is held open its device number is not given to another, so a replug always shows here. */
async function deviceAt(path: string): Promise<string | null> {
  try {
    const { rdev, ino } = await stat(path);
    return `${rdev}:${ino}`;
  } catch {
    return null;
  }
}

async function hasMoved({ path, device }: Connection): Promise<boolean> {
  return (await deviceAt(path)) !== device;
}
