/**
 * The page's line to Bowlside: one socket, resumed where it left off, never trusted when silent. Holds the fold of the run that is going
 * and the newest value with the moment it came. Knows nothing of how any of it looks.
 */
import type { RunEvent } from '../server/core/record/event.ts';
import { decodeServerMessage } from '../server/core/show/decode.ts';
import { emptyView, foldEvents, foldNote, openView } from '../server/core/show/view.ts';
import type { View } from '../server/core/show/view.ts';
import { PROTOCOL_VERSION } from '../server/core/show/wire.ts';
import type {
  AliveMessage,
  BowlLabel,
  NowMessage,
  RefusalReason,
  ServerMessage,
  WireReading,
} from '../server/core/show/wire.ts';
import { Curve } from './curve.ts';
import { tellRunChanged } from './run-changed.ts';

/** Silence after which the line counts as lost, ms: the server speaks at least every 2 s (three missed). */
const SILENT_AFTER_MS = 6_000;
/** A page whose clock jumped by more than this has slept, ms: a page in the background is let look once a minute at least. */
const SLEPT_AFTER_MS = 90_000;
/** How long a page that comes back waits for a sign before it dials anew, ms (ours: nobody waits longer for a number). */
const PROOF_WITHIN_MS = 2_000;
/** Wait before the next try: anything between these, evenly (full jitter, so that screens don't come back all at once). */
const RETRY_MIN_MS = 500;
const RETRY_MAX_MS = 15_000;

export type Connection = 'connecting' | 'open' | 'lost';

export interface LiveState {
  /** null until the server has said which. */
  readonly bowl: string | null;
  /** All that stand on the bench, in order; empty until they were told. */
  readonly bowls: readonly BowlLabel[];
  readonly connection: Connection;
  /** False until the server has said whether a run is going. */
  readonly isKnown: boolean;
  readonly view: View;
  readonly now: NowMessage | null;
  /** Of this page's monotonic clock, when `now` came. */
  readonly nowCameAtMs: number;
  /** Wall clock of the last word from the server; null before the first. */
  readonly lastTrue: Date | null;
  readonly simulated: boolean;
  /** This screen may look on, and do nothing. */
  readonly watchesOnly: boolean;
  readonly curve: Curve;
  /** Feed clock when the probe last came back into the bowl; null: it has not been out. */
  readonly probeBackAtMs: number | null;
  readonly refused: RefusalReason | null;
  /** The page itself stood still for long, and has heard nothing since. */
  readonly hasSlept: boolean;
  /** Last event known to be on disk. */
  readonly recordedTo: number;
}

/** Before the server's first word. */
export function nothingYet(): LiveState {
  return {
    bowl: null,
    bowls: [],
    connection: 'connecting',
    isKnown: false,
    view: emptyView,
    now: null,
    nowCameAtMs: 0,
    lastTrue: null,
    simulated: false,
    watchesOnly: false,
    curve: new Curve(),
    probeBackAtMs: null,
    refused: null,
    hasSlept: false,
    recordedTo: 0,
  };
}

export class Live {
  readonly #bowl: string | null;
  #state = nothingYet();
  #socket: WebSocket | null = null;
  #epoch: string | null = null;
  #readingCount = 0;
  #heardAtMs = 0;
  #lookedAtWallMs = Date.now();
  #tries = 0;
  #retry: number | undefined;
  #watch: number | undefined;
  #proof: number | undefined;
  #isAudible = false;
  readonly #listeners = new Set<() => void>();

  /** `bowl`: null is the first on the bench. */
  constructor(bowl: string | null) {
    this.#bowl = bowl;
  }

  /** null: the first, and nobody has said yet which that is. */
  get bowl(): string | null {
    return this.#state.bowl ?? this.#bowl;
  }

  state(): LiveState {
    return this.#state;
  }

  /** Feed clock now, as far as this page can tell: the last one told, plus what has passed since. */
  feedNowMs(): number {
    const { now, nowCameAtMs } = this.#state;
    return now === null ? 0 : now.atMs + Math.max(0, performance.now() - nowCameAtMs);
  }

  /** Calls back after every change; returns how to stop that. */
  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  start(): void {
    document.addEventListener('visibilitychange', this.#prove);
    window.addEventListener('online', this.#prove);
    window.addEventListener('pageshow', this.#prove);
    this.#watch = window.setInterval(this.#listenForSilence, 500);
    this.#dial();
  }

  stop(): void {
    document.removeEventListener('visibilitychange', this.#prove);
    window.removeEventListener('online', this.#prove);
    window.removeEventListener('pageshow', this.#prove);
    window.clearInterval(this.#watch);
    window.clearTimeout(this.#retry);
    window.clearTimeout(this.#proof);
    this.#drop();
  }

  /** Whether an alarm would be heard from this page: told now, and anew to each server it comes to. */
  tellAudible(isAudible: boolean): void {
    if (isAudible === this.#isAudible) return;
    this.#isAudible = isAudible;
    this.#sayAlive();
  }

  #sayAlive(): void {
    if (this.#socket?.readyState !== WebSocket.OPEN) return;
    const alive: AliveMessage = { kind: 'alive', audible: this.#isAudible };
    this.#socket.send(JSON.stringify(alive));
  }

  #dial(): void {
    window.clearTimeout(this.#retry);
    this.#drop();
    this.#heardAtMs = performance.now();
    const socket = new WebSocket(this.#address());
    this.#socket = socket;
    socket.addEventListener('message', ({ data }) => {
      if (this.#socket === socket) this.#hear(String(data));
    });
    socket.addEventListener('close', () => {
      if (this.#socket === socket) this.#lose();
    });
  }

  /** The socket's query says where this page left off; with nothing held it says only the bowl. */
  #address(): string {
    const url = new URL('/live', location.href);
    url.protocol = url.protocol === 'https:' ? 'wss:' : 'ws:';
    if (this.bowl !== null) url.searchParams.set('bowl', this.bowl);
    const { info, lastSeq, missing } = this.#state.view;
    if (this.#epoch !== null && info !== null && missing === null) {
      url.searchParams.set('epoch', this.#epoch);
      url.searchParams.set('run', info.run);
      url.searchParams.set('seq', String(lastSeq));
      url.searchParams.set('n', String(this.#readingCount));
    }
    return url.href;
  }

  #hear(text: string): void {
    // What waited while the page slept is of before.
    if (this.#hasSlept()) return this.#wakeUp();
    this.#heardAtMs = performance.now();
    window.clearTimeout(this.#proof);
    const decoded = decodeServerMessage(text);
    if (!decoded.ok) {
      if (decoded.reason !== 'unknown-kind') console.warn(`Bowlside said something unreadable: ${decoded.what}`);
      return;
    }
    this.#take(decoded.message);
  }

  #take(message: ServerMessage): void {
    const lastTrue = new Date();
    switch (message.kind) {
      case 'welcome':
        return this.#welcome(message);
      case 'bowls':
        return this.#change({ bowls: message.bowls });
      case 'nothing-missed':
        return this.#change({ connection: 'open', lastTrue });
      case 'snapshot':
        return this.#restart(message);
      case 'tail':
      case 'news':
        return this.#append(message);
      case 'now':
        return this.#change({ connection: 'open', now: message, nowCameAtMs: performance.now(), lastTrue });
      case 'note':
        if (message.run !== this.#state.view.info?.run) return;
        return this.#change({ view: foldNote(this.#state.view, message.note), lastTrue });
      case 'run-changed':
        return tellRunChanged(message.run);
      case 'heartbeat':
        return this.#change({ lastTrue });
      case 'refused':
        return this.#change({ refused: message.reason });
    }
  }

  #welcome(message: Extract<ServerMessage, { kind: 'welcome' }>): void {
    this.#tries = 0;
    // Whoever shows a run on record missed what was told of it meanwhile.
    if (this.#epoch !== null) tellRunChanged(null);
    this.#epoch = message.epoch;
    this.#sayAlive();
    const refused = message.protocol === PROTOCOL_VERSION ? null : 'protocol';
    const { bowl, simulated, watchesOnly = false } = message;
    this.#change({ bowl, connection: 'open', simulated, watchesOnly, refused, lastTrue: new Date() });
  }

  #restart(message: Extract<ServerMessage, { kind: 'snapshot' }>): void {
    const opened = message.info === null ? emptyView : openView(message.info);
    const view = message.notes.reduce(foldNote, foldEvents(opened, message.events));
    const curve = new Curve();
    curve.addTiles(message.tiles);
    this.#readingCount = message.readingCount;
    const { events, recordedTo } = message;
    const probeBackAtMs = probeBackIn(events);
    this.#change({ connection: 'open', isKnown: true, view, curve, probeBackAtMs, recordedTo, lastTrue: new Date() });
  }

  /** What came twice is dropped by its numbers. A hole, or a run not known here: all of it is asked for. */
  #append(message: Extract<ServerMessage, { kind: 'tail' | 'news' }>): void {
    if (message.run !== this.#state.view.info?.run) return this.#askForAll();
    const view = foldEvents(this.#state.view, message.events);
    const fresh = this.#freshOf(message.readings, message.readingCount);
    if (view.missing !== null || fresh === null) return this.#askForAll();
    this.#state.curve.addReadings(fresh);
    this.#readingCount = Math.max(this.#readingCount, message.readingCount);
    const probeBackAtMs = probeBackIn(message.events) ?? this.#state.probeBackAtMs;
    this.#change({ connection: 'open', view, probeBackAtMs, recordedTo: message.recordedTo, lastTrue: new Date() });
  }

  #freshOf(readings: readonly WireReading[], count: number): readonly WireReading[] | null {
    const fresh = count - this.#readingCount;
    if (fresh <= 0) return [];
    return fresh > readings.length ? null : readings.slice(readings.length - fresh);
  }

  #askForAll(): void {
    this.#epoch = null;
    this.#dial();
  }

  readonly #listenForSilence = (): void => {
    if (this.#hasSlept()) return this.#wakeUp();
    if (this.#socket === null) return;
    if (performance.now() - this.#heardAtMs > SILENT_AFTER_MS) this.#lose();
  };

  /** A machine that sleeps may stop the monotonic clock with it; the wall clock tells. */
  #hasSlept(): boolean {
    const wallMs = Date.now();
    const sinceMs = wallMs - this.#lookedAtWallMs;
    this.#lookedAtWallMs = wallMs;
    return sinceMs > SLEPT_AFTER_MS;
  }

  /** Nothing of before is believed, and the line is made anew: a socket that slept along may be dead without knowing. */
  #wakeUp(): void {
    this.#change({ connection: 'lost', hasSlept: true });
    this.#dial();
  }

  /** A page that was hidden or offline believes nothing until it has heard something. */
  readonly #prove = (): void => {
    if (document.visibilityState === 'hidden') return;
    if (this.#hasSlept()) return this.#wakeUp();
    if (this.#socket?.readyState === WebSocket.CONNECTING) return;
    if (this.#socket?.readyState !== WebSocket.OPEN) return this.#dial();
    this.#sayAlive();
    window.clearTimeout(this.#proof);
    this.#proof = window.setTimeout(() => this.#dial(), PROOF_WITHIN_MS);
  };

  #lose(): void {
    this.#drop();
    this.#change({ connection: 'lost' });
    window.clearTimeout(this.#retry);
    const isFirst = this.#tries === 0 && document.visibilityState === 'visible';
    this.#tries += 1;
    const waitMs = isFirst ? 0 : RETRY_MIN_MS + Math.random() * (RETRY_MAX_MS - RETRY_MIN_MS);
    this.#retry = window.setTimeout(() => this.#dial(), waitMs);
  }

  #drop(): void {
    const socket = this.#socket;
    this.#socket = null;
    socket?.close();
  }

  #change(part: Partial<LiveState>): void {
    const isAwake = part.connection === 'open' ? { hasSlept: false } : {};
    this.#state = { ...this.#state, ...isAwake, ...part };
    for (const listener of this.#listeners) listener();
  }
}

function probeBackIn(events: readonly RunEvent[]): number | null {
  return events.findLast((event) => event.kind === 'probe' && event.state === 'in')?.atMs ?? null;
}
