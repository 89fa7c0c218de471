/**
 * Listens for the page and its questions, as early as the start can. What answers them is loaded when the first one comes, so that a run
 * that goes on need not wait for it.
 */
import { createServer, type IncomingMessage, type RequestListener, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { ARRIVAL, closed, listening } from './listening.ts';
import { keepFromCrowding } from './pairing/crowd.ts';
import type { Route } from './routes/route.ts';
import { addressOf, doorAt, type Door } from './visitors.ts';
import type { WebAppOptions } from './web-app.ts';

export interface HttpOptions extends Omit<WebAppOptions, 'routes'> {
  readonly listen: { readonly host: string; readonly port: number };
  /** Asked for when they are needed: once, and again only where that failed. */
  readonly routes: () => Promise<readonly Route[]>;
}

export interface Http {
  readonly server: Server;
  readonly door: Door;
  /** What to open in a browser. */
  readonly address: string;
  readonly port: number;
  /** Loads what answers, before anybody asks. Never rejects: what could not be loaded is tried again by the next question. */
  prepare(): Promise<void>;
  close(): Promise<void>;
}

export type OpenedHttp = { readonly ok: true; readonly http: Http } | { readonly ok: false; readonly message: string };

/** More connections at once are no pages of ours (ours: a socket for each of four bowls, and what is fetched beside them). */
const MAX_CONNECTIONS = 512;
const NOT_LOADED =
  'Bowlside could not load what answers you. The run goes on. Was it built anew meanwhile? Then start it again.';

/** Listens, or says in one sentence why it cannot. */
export async function openHttp(options: HttpOptions): Promise<OpenedHttp> {
  const { host } = options.listen;
  const server = createServer({ requestTimeout: ARRIVAL.uploadMs, headersTimeout: ARRIVAL.bodyMs });
  server.maxConnections = MAX_CONNECTIONS;
  keepFromCrowding(server);
  const failure = await listening(server, options.listen);
  if (failure !== null) return { ok: false, message: failure };
  const { port } = server.address() as AddressInfo;
  const door = doorAt(host, port);
  let app: Promise<RequestListener | null> | null = null;
  const loaded = (): Promise<RequestListener | null> => (app ??= loadedApp(options, door).catch(() => (app = null)));
  server.on('request', (request, response) => void loaded().then((answer) => answerBy(answer, request, response)));
  const prepare = async (): Promise<void> => void (await loaded());
  return {
    ok: true,
    http: { server, door, port, address: addressOf(host, port), prepare, close: () => closed(server) },
  };
}

async function loadedApp(options: HttpOptions, door: Door): Promise<RequestListener> {
  const [{ webApp }, routes] = await Promise.all([import('./web-app.ts'), options.routes()]);
  return webApp({ ...options, routes }, door);
}

/** `answer` null: nothing could be loaded, which ends no run and is told to whoever asked. */
function answerBy(answer: RequestListener | null, request: IncomingMessage, response: ServerResponse): void {
  // Who went away meanwhile is never heard to go: whatever waited for that would wait for ever.
  if (response.destroyed) return;
  if (answer !== null) answer(request, response);
  else response.writeHead(500, { 'Content-Type': 'text/plain; charset=utf-8' }).end(NOT_LOADED);
}
