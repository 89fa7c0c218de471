/**
 * A stand-in for the server that says what a test tells it to, message by message, to the built page: for states that a real bowl takes an
 * hour to get into. Judges nothing, stores nothing; it only remembers what the page asked for.
 */
import { once } from 'node:events';
import { createServer } from 'node:http';
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { readFile } from 'node:fs/promises';
import { extname, join, normalize } from 'node:path';
import { WebSocket, WebSocketServer } from 'ws';
import type { ServerMessage } from '../../server/core/show/wire.ts';
import { atPortAgain } from './ports.ts';

export const WEB_FOLDER = join(import.meta.dirname, '../../dist/web');

/** A page takes three times this without a word for a lost line, ms. */
const BEAT_EVERY_MS = 2_000;

export interface Script {
  /** What each page hears on arrival, in order. */
  greeting: readonly ServerMessage[];
  /** Answers to GET, by path. */
  answers: Readonly<Record<string, unknown>>;
}

export interface Asked {
  readonly path: string;
  readonly body: unknown;
}

export class ScriptedBowl {
  readonly script: Script;
  readonly asked: Asked[] = [];
  /** Queries of the sockets that came, in order. */
  readonly arrivals: URLSearchParams[] = [];
  readonly #server = createServer((request, response) => void this.#answer(request, response));
  readonly #sockets = new WebSocketServer({ server: this.#server, path: '/live' });
  /** As the real one does: however slow the machine, a page is lost only where a test says so. */
  readonly #beating = setInterval(() => {
    if (!this.#isSilent) this.say({ kind: 'heartbeat', atMs: 0 });
  }, BEAT_EVERY_MS);
  #isSilent = false;

  constructor(script: Script) {
    this.script = script;
    // Of the server, which says it where it is opened.
    this.#sockets.on('error', () => undefined);
    this.#sockets.on('connection', (socket, request) => {
      this.arrivals.push(new URL(request.url ?? '/', 'http://localhost').searchParams);
      if (!this.#isSilent) for (const message of this.script.greeting) socket.send(JSON.stringify(message));
    });
  }

  async open(): Promise<string> {
    const { port } = await atPortAgain((each) => this.#listen(each));
    return `http://127.0.0.1:${port}`;
  }

  say(...messages: readonly ServerMessage[]): void {
    for (const message of messages) this.sayText(JSON.stringify(message));
  }

  sayText(text: string): void {
    for (const socket of this.#sockets.clients) if (socket.readyState === WebSocket.OPEN) socket.send(text);
  }

  /** Pages that come hear nothing until `speak`; those that are there stay. */
  hush(): void {
    this.#isSilent = true;
  }

  /** Cuts every page off; those that come back hear nothing until `speak`. */
  fallSilent(): void {
    this.hush();
    for (const socket of this.#sockets.clients) socket.terminate();
  }

  speak(): void {
    this.#isSilent = false;
    for (const socket of this.#sockets.clients) socket.close();
  }

  hangUp(): void {
    for (const socket of this.#sockets.clients) socket.terminate();
  }

  async close(): Promise<void> {
    clearInterval(this.#beating);
    this.hangUp();
    this.#sockets.close();
    this.#server.closeAllConnections();
    await new Promise<void>((resolve) => this.#server.close(() => resolve()));
  }

  async #listen(port: number): Promise<AddressInfo | null> {
    this.#server.listen(port, '127.0.0.1');
    const isThere = await once(this.#server, 'listening').then(
      () => true,
      () => false,
    );
    return isThere ? (this.#server.address() as AddressInfo) : null;
  }

  async #answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const { pathname } = new URL(request.url ?? '/', 'http://localhost');
    response.setHeader('Content-Security-Policy', "default-src 'self'; img-src 'self' data:");
    if (request.method === 'POST') return this.#takePost(pathname, request, response);
    if (Object.hasOwn(this.script.answers, pathname)) return sendJson(response, 200, this.script.answers[pathname]);
    return sendFile(pathname, response);
  }

  async #takePost(path: string, request: IncomingMessage, response: ServerResponse): Promise<void> {
    let text = '';
    for await (const chunk of request) text += String(chunk);
    const body: unknown = JSON.parse(text);
    this.asked.push({ path, body });
    if (!path.endsWith('/notes')) return sendJson(response, 200, {});
    const note = { id: `written-${this.asked.length}`, by: null, writtenAtWall: '2026-11-24T14:40:00' };
    sendJson(response, 201, { ...note, ...(body as object) });
  }
}

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.woff2': 'font/woff2',
};

async function sendFile(path: string, response: ServerResponse): Promise<void> {
  const file = join(WEB_FOLDER, normalize(path === '/' ? '/index.html' : path));
  try {
    const body = await readFile(file);
    // As the real one does: a page that comes again has its script at hand.
    if (path.startsWith('/assets/')) response.setHeader('cache-control', 'public, max-age=31536000, immutable');
    response.writeHead(200, { 'content-type': TYPES[extname(file)] ?? 'application/octet-stream' }).end(body);
  } catch {
    sendJson(response, 404, { detail: `There is nothing at ${path}.` });
  }
}

function sendJson(response: ServerResponse, status: number, body: unknown): void {
  response.writeHead(status, { 'content-type': 'application/json' }).end(JSON.stringify(body));
}
