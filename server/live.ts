/**
 * The one door to the socket library: lets our own pages in, brings each up to date, then tells it everything in order.
 * Knows what a session tells, not what it means.
 */
import type { IncomingMessage, Server } from 'node:http';
import type { Duplex } from 'node:stream';
import { WebSocket, WebSocketServer } from 'ws';
import type { BenchBowl } from './bench/bench.ts';
import type { AliveMessage, NowMessage, RefusalReason, ResumePoint, ServerMessage } from './core/show/wire.ts';
import { PROTOCOL_VERSION } from './core/show/wire.ts';
import type { Session } from './session/session.ts';
import type { BowlStatus } from './session/status.ts';
import type { Gate, Visitor } from './pairing/gate.ts';
import type { Clock } from './source/source.ts';
import { type Door, isOwnPage } from './visitors.ts';

/** Times between what is sent without being asked, ms. A page takes 6 s without a word for a lost connection. */
export interface LiveTimings {
  readonly nowMs: number;
  /** A thermometer may speak ever so often: what comes sooner than this after the last shows with the next `now` of the timer. */
  readonly apartMs: number;
  readonly heartbeatMs: number;
  readonly pingMs: number;
  /** A socket without any sign of life for this long is gone. */
  readonly goneMs: number;
}

/** field notes on half-open sockets: ping at 10 s, give up at 25 s; the rest is ours (apart: ten lines a second, with some play). */
const TIMINGS: LiveTimings = { nowMs: 250, apartMs: 80, heartbeatMs: 2_000, pingMs: 10_000, goneMs: 25_000 };

/** A page says nothing longer than its sign of life; bytes (field notes). */
const MAX_PAYLOAD_BYTES = 16 * 1024;
/** At one bowl: more pages than hands in any kitchen (field notes). A page has a socket for each bowl. */
export const MAX_SCREENS = 64;
/** Who only looks on gets none of the last ones: they are for those who act (ours: more than come with one invitation to watch). */
export const MAX_WATCHING = 48;
/** With this much unsent, a page gets no newer value until it has caught up, bytes (field notes). */
const SKIP_NOW_BYTES = 64 * 1024;
/** With this much unsent it is dropped; it comes back and resumes, bytes (field notes). */
const DROP_BYTES = 1024 * 1024;
/** How long a page is given to say goodbye when the server stops, ms (ours). */
const GOODBYE_MS = 500;
const PATH = '/live';

/** Close codes of RFC 6455 §7.4.1. */
const GOING_AWAY = 1001;
const POLICY = 1008;

/** What is asked of a bowl's session here. */
export interface TellingBowl extends Pick<Session, 'bowl' | 'onTell' | 'catchUp' | 'now'> {
  status(): Pick<BowlStatus, 'bowl' | 'simulated'>;
}

export interface LiveOptions {
  readonly server: Server;
  readonly door: Door;
  readonly gate: Gate;
  /** New at each start of the server. */
  readonly epoch: string;
  readonly clock: Clock;
  readonly sessions: ReadonlyMap<string, TellingBowl>;
  /** What stands on the bench, in order. Absent: one bowl without a name. */
  readonly bowls?: () => readonly BenchBowl[];
  /** Whether this bowl should ring nobody now. Absent: no. */
  readonly isLeftAlone?: (bowl: string) => boolean;
  /** Why the host's bell command cannot ring. Absent or null: it can, or there is none. */
  readonly bellTrouble?: string | null;
  readonly timings?: Partial<LiveTimings>;
}

interface Screen {
  readonly socket: WebSocket;
  readonly visitor: Visitor;
  readonly session: TellingBowl;
  heardAtMs: number;
  /** An alarm would be heard from it. */
  audible: boolean;
}

export class Live {
  readonly #options: LiveOptions;
  readonly #timings: LiveTimings;
  readonly #sockets = new WebSocketServer({
    noServer: true,
    maxPayload: MAX_PAYLOAD_BYTES,
    perMessageDeflate: false,
    clientTracking: true,
  });
  readonly #screens = new Set<Screen>();
  /** When each bowl's newest value was last told because it came. */
  readonly #shownAtMs = new Map<string, number>();
  readonly #timers: NodeJS.Timeout[];

  constructor(options: LiveOptions) {
    this.#options = options;
    this.#timings = { ...TIMINGS, ...options.timings };
    options.server.on('upgrade', this.#upgrade);
    for (const session of options.sessions.values()) this.join(session);
    const { nowMs, heartbeatMs, pingMs } = this.#timings;
    this.#timers = [
      setInterval(() => this.#sendNow(), nowMs),
      setInterval(() => this.#beat(), heartbeatMs),
      setInterval(() => this.#ping(), pingMs),
    ];
  }

  /** A bowl more on the bench. */
  join(session: TellingBowl): void {
    session.onTell((message) => this.#tell(session, message));
  }

  /** It has just heard of its thermometer: a value waits for no timer, but where too many come some wait for it. */
  showNow(session: TellingBowl): void {
    const atMs = this.#nowMs();
    if (this.#sinceShownMs(session, atMs) < this.#timings.apartMs) return;
    this.#shownAtMs.set(session.bowl, atMs);
    this.#sendNowOf(session);
  }

  /** A bowl less: pages that look at it are told that there is none. */
  leave(session: TellingBowl): void {
    this.#shownAtMs.delete(session.bowl);
    for (const screen of this.#screens) if (screen.session === session) refuse(screen.socket, 'no-such-bowl', POLICY);
  }

  /** The bench is another one, or a bowl has another name. */
  tellBowls(): void {
    for (const screen of this.#screens) send(screen, this.#bowls());
  }

  /** Pages looking on now. */
  get screens(): number {
    return this.#screens.size;
  }

  /** Those of them that an alarm of this bowl would be heard from. */
  audible(bowl: string): number {
    let screens = 0;
    for (const screen of this.#screens) if (screen.session.bowl === bowl && screen.audible) screens++;
    return screens;
  }

  /** A guest that is shut out is out at once. */
  dismiss(guest: string): void {
    for (const { socket, visitor } of this.#screens)
      if (visitor.guest?.id === guest) refuse(socket, 'shut-out', POLICY);
  }

  /** Says goodbye to every page and leaves no socket and no timer behind. */
  async close(): Promise<void> {
    for (const timer of this.#timers) clearInterval(timer);
    this.#options.server.off('upgrade', this.#upgrade);
    for (const socket of this.#sockets.clients) refuse(socket, 'shutting-down', GOING_AWAY);
    const hurry = setTimeout(() => {
      for (const socket of this.#sockets.clients) socket.terminate();
    }, GOODBYE_MS);
    await new Promise<void>((resolve) => {
      this.#sockets.close(() => resolve());
    });
    clearTimeout(hurry);
  }

  readonly #upgrade = (request: IncomingMessage, stream: Duplex, head: Buffer): void => {
    stream.on('error', () => stream.destroy());
    if (!isOwnPage(this.#options.door, request)) return turnAway(stream, '403 Forbidden');
    // Taken apart by hand: there are targets that are no address (RFC 3986), and an exception here would end the server.
    const [path, query = ''] = (request.url ?? '').split(/\?(.*)/s);
    if (path !== PATH) return turnAway(stream, '404 Not Found');
    const visitor = this.#options.gate.visitorOf(request);
    if (!this.#options.gate.lets(visitor)) return turnAway(stream, '429 Too Many Requests');
    if (visitor.role === null) return turnAway(stream, '401 Unauthorized');
    this.#sockets.handleUpgrade(request, stream, head, (socket) =>
      this.#arrive(socket, new URLSearchParams(query), visitor),
    );
  };

  #arrive(socket: WebSocket, query: URLSearchParams, visitor: Visitor): void {
    socket.on('error', () => socket.terminate());
    const wanted = query.get('bowl');
    const { sessions } = this.#options;
    // A page that was opened at no bowl's address is at the first.
    const session = wanted === null ? sessions.values().next().value : sessions.get(wanted);
    if (session === undefined) return refuse(socket, 'no-such-bowl', POLICY);
    const most = visitor.role === 'watch' ? MAX_WATCHING : MAX_SCREENS;
    if (this.#lookingAt(session) >= most) return refuse(socket, 'too-many-screens', POLICY);
    const screen: Screen = { socket, visitor, session, heardAtMs: this.#nowMs(), audible: false };
    socket.on('message', (data: Buffer, isBinary) => this.#hear(screen, isBinary ? '' : data.toString()));
    socket.on('pong', () => {
      screen.heardAtMs = this.#nowMs();
    });
    socket.on('close', () => this.#screens.delete(screen));
    this.#welcome(screen, query);
  }

  /** All in one go: nothing can be told between the picture so far and the first news after it. */
  #welcome(screen: Screen, query: URLSearchParams): void {
    const { epoch } = this.#options;
    const { session } = screen;
    const { bowl, simulated } = session.status();
    const watches = screen.visitor.role === 'watch' ? { watchesOnly: true as const } : {};
    const welcome = { protocol: PROTOCOL_VERSION, epoch, bowl, atMs: this.#nowMs(), simulated, ...watches };
    send(screen, { kind: 'welcome', ...welcome });
    send(screen, this.#bowls());
    for (const message of session.catchUp(resumePoint(query, epoch))) send(screen, message);
    this.#screens.add(screen);
    send(screen, this.#nowOf(session, this.#lookingAt(session)));
  }

  /** All a page ever says is that it is there, and whether it can be heard. */
  #hear(screen: Screen, text: string): void {
    screen.heardAtMs = this.#nowMs();
    const alive = aliveFrom(text);
    if (alive === null) return refuse(screen.socket, 'protocol', POLICY);
    // Who only looks on may be anywhere: the bowl's own people would hear nothing of what sounds there.
    if (screen.visitor.role !== 'watch') screen.audible = alive.audible ?? screen.audible;
    send(screen, { kind: 'heartbeat', atMs: this.#nowMs() });
  }

  #tell(session: TellingBowl, message: ServerMessage): void {
    const text = JSON.stringify(message);
    for (const screen of this.#screens) if (screen.session === session) sendText(screen, text);
  }

  /** Ages and courses go on where no reading comes. */
  #sendNow(): void {
    const { nowMs } = this.#timings;
    for (const session of this.#options.sessions.values())
      if (this.#sinceShownMs(session, this.#nowMs()) >= nowMs / 2) this.#sendNowOf(session);
  }

  #sinceShownMs({ bowl }: TellingBowl, atMs: number): number {
    return atMs - (this.#shownAtMs.get(bowl) ?? -Infinity);
  }

  #sendNowOf(session: TellingBowl): void {
    const screens = this.#lookingAt(session);
    if (screens === 0) return;
    const text = JSON.stringify(this.#nowOf(session, screens));
    for (const screen of this.#screens) {
      const keepsUp = screen.socket.bufferedAmount <= SKIP_NOW_BYTES;
      if (screen.session === session && keepsUp) sendText(screen, text);
    }
  }

  #nowOf(session: TellingBowl, screens: number): NowMessage {
    const { isLeftAlone, bellTrouble = null } = this.#options;
    return {
      ...session.now(screens),
      ...(isLeftAlone?.(session.bowl) === true ? { isLeftAlone: true } : {}),
      ...(bellTrouble === null ? {} : { bellTrouble }),
    };
  }

  #bowls(): ServerMessage {
    const bowls = this.#options.bowls?.() ?? [...this.#options.sessions.keys()].map((bowl) => ({ bowl, name: null }));
    return { kind: 'bowls', bowls };
  }

  #beat(): void {
    for (const screen of this.#screens) send(screen, { kind: 'heartbeat', atMs: this.#nowMs() });
  }

  #ping(): void {
    for (const { socket, visitor, heardAtMs } of this.#screens) {
      if (!this.#options.gate.isStillIn(visitor)) refuse(socket, 'shut-out', POLICY);
      else if (this.#nowMs() - heardAtMs > this.#timings.goneMs) socket.terminate();
      else socket.ping();
    }
  }

  #lookingAt(session: TellingBowl): number {
    let screens = 0;
    for (const screen of this.#screens) if (screen.session === session) screens++;
    return screens;
  }

  #nowMs(): number {
    return this.#options.clock.nowMs();
  }
}

function send(screen: Screen, message: ServerMessage): void {
  sendText(screen, JSON.stringify(message));
}

/** News and alarms are never left out: who cannot take them is dropped, comes back and gets what it missed. */
function sendText({ socket }: Screen, text: string): void {
  if (socket.bufferedAmount > DROP_BYTES) socket.terminate();
  else if (socket.readyState === WebSocket.OPEN) socket.send(text);
}

function refuse(socket: WebSocket, reason: RefusalReason, code: number): void {
  if (socket.readyState !== WebSocket.OPEN) return;
  const message: ServerMessage = { kind: 'refused', reason };
  socket.send(JSON.stringify(message));
  socket.close(code, reason);
}

/** Who never closes the other half of the line holds up neither a stop nor whoever comes next. */
function turnAway(stream: Duplex, status: string): void {
  stream.once('finish', () => stream.destroy());
  stream.end(`HTTP/1.1 ${status}\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`);
}

/** null where the page brings nothing, or something of another start of the server. */
function resumePoint(query: URLSearchParams, epoch: string): ResumePoint | null {
  const run = query.get('run');
  const seq = countIn(query, 'seq');
  const readingCount = countIn(query, 'n');
  if (query.get('epoch') !== epoch || run === null || seq === null || readingCount === null) return null;
  return { epoch, run, seq, readingCount };
}

function countIn(query: URLSearchParams, key: string): number | null {
  const text = query.get(key) ?? '';
  return /^\d{1,15}$/.test(text) ? Number(text) : null;
}

/** null for anything else, and for one with a key too many. */
function aliveFrom(text: string): AliveMessage | null {
  const message = recordFrom(text);
  if (message === null || message['kind'] !== 'alive') return null;
  const { kind: _kind, audible, ...more } = message;
  if (Object.keys(more).length > 0 || (audible !== undefined && typeof audible !== 'boolean')) return null;
  return { kind: 'alive', ...(audible === undefined ? {} : { audible }) };
}

function recordFrom(text: string): Readonly<Record<string, unknown>> | null {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null ? (value as Readonly<Record<string, unknown>>) : null;
  } catch {
    return null;
  }
}
