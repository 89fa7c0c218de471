/**
 * A page without a screen: dials, folds what it is told as a page does, and comes back where it left off. And a proxy between the two
 * that cuts wherever it is told to.
 */
import { connect, createServer, type AddressInfo, type Socket } from 'node:net';
import { onTestFinished } from 'vitest';
import { WebSocket } from 'ws';
import type { RunEvent } from '../../server/core/record/event.ts';
import { decodeServerMessage } from '../../server/core/show/decode.ts';
import type { NoteInfo, RunInfo, ServerMessage, WireReading } from '../../server/core/show/wire.ts';
import { BOWL } from './server.ts';

type Kind = ServerMessage['kind'];
type Of<K extends Kind> = Extract<ServerMessage, { kind: K }>;

export class Page {
  /** Every message, over all sockets. */
  readonly heard: ServerMessage[] = [];
  readonly notes = new Map<string, NoteInfo>();
  info: RunInfo | null = null;
  events: RunEvent[] = [];
  /** Those that came one by one; a snapshot stands for `readingCount - readings.length` more. */
  readings: WireReading[] = [];
  readingCount = 0;
  recordedTo = 0;
  /** What could not be true of a page that misses nothing and hears nothing twice. */
  readonly faults: string[] = [];
  #socket: WebSocket | null = null;
  #epoch: string | null = null;
  readonly #address: string;
  readonly #origin: string;
  readonly #headers: Readonly<Record<string, string>>;
  readonly #waiting = new Set<() => void>();

  /** `headers`: sent along when it dials. `origin`: what the page's own address would be; it differs from `address` where a proxy stands between. */
  constructor(address: string, origin: string = address, headers: Readonly<Record<string, string>> = {}) {
    this.#address = address;
    this.#headers = headers;
    this.#origin = origin;
    onTestFinished(() => this.leave());
  }

  get socket(): WebSocket {
    if (this.#socket === null) throw new Error('not connected');
    return this.#socket;
  }

  /** Resolves when the socket is open; rejects where it is turned away. */
  dial(query: Readonly<Record<string, string>> = {}): Promise<void> {
    const url = new URL('/live', this.#address.replace('http:', 'ws:'));
    for (const [key, value] of Object.entries({ bowl: BOWL, ...this.#leftOff(), ...query }))
      url.searchParams.set(key, value);
    const host = new URL(this.#origin).host;
    const socket = new WebSocket(url, {
      origin: this.#origin,
      headers: { host, ...this.#headers },
      perMessageDeflate: false,
    });
    this.#socket = socket;
    socket.on('message', (data: Buffer) => {
      if (this.#socket === socket) this.#hear(data.toString());
    });
    return new Promise((resolve, reject) => {
      socket.once('open', () => resolve());
      socket.once('close', () => reject(new Error('closed before it was open')));
      socket.on('error', reject);
    });
  }

  leave(): void {
    this.#socket?.terminate();
    this.#socket = null;
  }

  /** The first message of this kind, heard or still to come. */
  async first<K extends Kind>(kind: K): Promise<Of<K>> {
    await this.until(() => this.heard.some((message) => message.kind === kind));
    return this.heard.find((message): message is Of<K> => message.kind === kind)!;
  }

  /** Resolves as soon as it holds; asked after each message. */
  until(holds: () => boolean): Promise<void> {
    return new Promise((resolve) => {
      const ask = (): void => {
        if (!holds()) return;
        this.#waiting.delete(ask);
        resolve();
      };
      this.#waiting.add(ask);
      ask();
    });
  }

  #leftOff(): Record<string, string> {
    if (this.#epoch === null || this.info === null) return {};
    const n = String(this.readingCount);
    return { epoch: this.#epoch, run: this.info.run, seq: String(this.events.length), n };
  }

  #hear(text: string): void {
    const decoded = decodeServerMessage(text);
    if (!decoded.ok) this.faults.push(`unreadable: ${decoded.what}`);
    else this.#take(decoded.message);
    for (const ask of this.#waiting) ask();
  }

  #take(message: ServerMessage): void {
    this.heard.push(message);
    switch (message.kind) {
      case 'welcome':
        this.#epoch = message.epoch;
        return;
      case 'snapshot':
        return this.#restart(message);
      case 'tail':
      case 'news':
        return this.#append(message);
      case 'note':
        this.notes.set(message.note.id, message.note);
        return;
      default:
    }
  }

  #restart({ info, events, notes, readingCount, recordedTo }: Of<'snapshot'>): void {
    this.info = info;
    this.events = [...events];
    this.readings = [];
    this.readingCount = readingCount;
    this.recordedTo = recordedTo;
    this.notes.clear();
    for (const note of notes) this.notes.set(note.id, note);
  }

  #append({ run, events, readings, readingCount, recordedTo }: Of<'tail' | 'news'>): void {
    if (run !== this.info?.run) this.faults.push(`news of ${run}, not shown here`);
    for (const event of events) {
      if (event.seq !== this.events.length + 1) this.faults.push(`event ${event.seq} after ${this.events.length}`);
      this.events.push(event);
    }
    this.readings.push(...readings);
    this.readingCount += readings.length;
    if (this.readingCount !== readingCount)
      this.faults.push(`${this.readingCount} readings where ${readingCount} were told`);
    this.recordedTo = recordedTo;
  }
}

/** A wire with scissors: passes both ways until a number of bytes have come back, then cuts both sides. */
export class CuttingProxy {
  /** Bytes from the server until the next connection is cut. */
  cutAfterBytes = Infinity;
  /** How often it has cut. */
  cuts = 0;
  #sockets = new Set<Socket>();
  #server = createServer((page) => this.#join(page));
  readonly #target: URL;

  constructor(target: string) {
    this.#target = new URL(target);
  }

  async open(): Promise<string> {
    await new Promise<void>((resolve) => this.#server.listen(0, '127.0.0.1', resolve));
    onTestFinished(() => this.close());
    return `http://127.0.0.1:${(this.#server.address() as AddressInfo).port}`;
  }

  async close(): Promise<void> {
    for (const socket of this.#sockets) socket.destroy();
    await new Promise<void>((resolve) => this.#server.close(() => resolve()));
  }

  #join(page: Socket): void {
    const server = connect(Number(this.#target.port), this.#target.hostname);
    let left = this.cutAfterBytes;
    const cut = (): void => {
      page.destroy();
      server.destroy();
    };
    for (const socket of [page, server]) {
      this.#sockets.add(socket);
      socket.on('close', () => {
        this.#sockets.delete(socket);
        cut();
      });
      socket.on('error', cut);
    }
    page.on('data', (bytes) => server.write(bytes));
    server.on('data', (bytes) => {
      page.write(bytes.subarray(0, Math.min(left, bytes.length)));
      left -= bytes.length;
      if (left > 0) return;
      this.cuts++;
      page.end(cut);
    });
  }
}
