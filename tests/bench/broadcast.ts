/** What telling every page costs the server: our own broadcast against the bare socket library, which is given each message once as text. The pages are in another process. */
import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { setImmediate as breath } from 'node:timers/promises';
import { WebSocket, WebSocketServer } from 'ws';
import type { ServerMessage } from '../../server/core/show/wire.ts';
import { Live, MAX_SCREENS, type TellingBowl } from '../../server/live.ts';
import { Gate } from '../../server/pairing/gate.ts';
import { doorAt } from '../../server/visitors.ts';
import { BOWL, infoOf, nowAt } from '../support/scenes.ts';
import { against } from './against.ts';
import { type Figure, ROOT } from './figures.ts';
import { bowlC } from './stream.ts';

const CLIENTS = [1, 50, 200];
/** Told in one work to each of one, of fifty and of two hundred: about as much in all (ours). */
const MESSAGES = 4_000;
const FEWEST_MESSAGES = 100;
const LEAST = 0.8;
/** Nothing but what is measured is sent meanwhile, ms. */
const NEVER = 1e9;

type NewsMessage = Extract<ServerMessage, { kind: 'news' }>;

export async function measureBroadcast(rounds: number): Promise<readonly Figure[]> {
  const figures: Figure[] = [];
  for (const clients of CLIENTS) figures.push(...(await broadcast(clients, rounds)));
  return figures;
}

async function broadcast(clients: number, rounds: number): Promise<Figure[]> {
  const count = Math.max(FEWEST_MESSAGES, Math.round(MESSAGES / clients));
  const messages = Array.from({ length: count }, (_, n) => newsOf(n));
  const bare = await bareServer(clients, messages);
  const own = await ownServer(clients, messages);
  try {
    const name = `broadcast to ${clients} page${clients === 1 ? '' : 's'}`;
    const pair = {
      name,
      count: count * clients,
      each: 'message and page',
      floor: bare.tell,
      ours: own.tell,
      least: LEAST,
    };
    return await against(pair, rounds);
  } finally {
    await bare.close();
    await own.close();
  }
}

function newsOf(n: number): NewsMessage {
  const atMs = n * 100;
  const readings: NewsMessage['readings'] = [[atMs, bowlC(n), 0, bowlC(n)]];
  return { kind: 'news', bowl: BOWL, run: infoOf(false).run, events: [], readings, readingCount: n + 1, recordedTo: 1 };
}

/** `tell` resolves once every page has heard all, with the characters that they heard. */
interface Telling {
  readonly tell: () => Promise<number>;
  readonly close: () => Promise<void>;
}

async function bareServer(clients: number, messages: readonly NewsMessage[]): Promise<Telling> {
  const server = await listening();
  const sockets = new WebSocketServer({ server, perMessageDeflate: false });
  const pages = await dialled(
    server,
    Array.from({ length: clients }, () => '/'),
    messages.length,
  );
  const say = (message: NewsMessage): void => {
    const text = JSON.stringify(message);
    for (const socket of sockets.clients) if (socket.readyState === WebSocket.OPEN) socket.send(text);
  };
  return {
    tell: () => heardBy(pages, messages, say),
    close: async () => {
      await gone(pages);
      sockets.close();
      server.close();
    },
  };
}

/** As many bowls as it takes: so many pages may look at one. */
async function ownServer(clients: number, messages: readonly NewsMessage[]): Promise<Telling> {
  const server = await listening();
  const { port } = server.address() as AddressInfo;
  const bowls = Array.from({ length: Math.ceil(clients / MAX_SCREENS) }, (_, n) => new Bowl(`${BOWL}-${n}`));
  const live = new Live({
    server,
    door: doorAt('127.0.0.1', port),
    gate: new Gate({ guestOf: () => null, isGuest: () => false }, () => performance.now()),
    epoch: 'measured',
    clock: { nowMs: () => performance.now() },
    sessions: new Map(bowls.map((bowl) => [bowl.bowl, bowl])),
    timings: { nowMs: NEVER, heartbeatMs: NEVER, pingMs: NEVER },
  });
  const paths = Array.from({ length: clients }, (_, n) => `/live?bowl=${bowls[n % bowls.length]!.bowl}`);
  const pages = await dialled(server, paths, messages.length);
  const say = (message: NewsMessage): void => {
    for (const bowl of bowls) bowl.tell(message);
  };
  return {
    tell: () => heardBy(pages, messages, say),
    close: async () => {
      await gone(pages);
      await live.close();
      server.close();
    },
  };
}

/** All that a broadcast asks of a bowl. */
class Bowl implements TellingBowl {
  readonly bowl: string;
  readonly #listeners: ((message: ServerMessage) => void)[] = [];

  constructor(bowl: string) {
    this.bowl = bowl;
  }

  onTell(listener: (message: ServerMessage) => void): void {
    this.#listeners.push(listener);
  }

  tell(message: ServerMessage): void {
    for (const listener of this.#listeners) listener(message);
  }

  status(): { readonly bowl: string; readonly simulated: boolean } {
    return { bowl: this.bowl, simulated: true };
  }

  catchUp(): readonly ServerMessage[] {
    return [];
  }

  now(): ReturnType<typeof nowAt> {
    return nowAt({ min: 80 });
  }
}

async function listening(): Promise<Server> {
  const server = createServer();
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  return server;
}

async function dialled(server: Server, paths: readonly string[], messages: number): Promise<ChildProcess> {
  const at = `127.0.0.1:${(server.address() as AddressInfo).port}`;
  const pages = fork(join(ROOT, 'tests/bench/clients.mjs'));
  pages.send({ urls: paths.map((path) => `ws://${at}${path}`), origin: `http://${at}`, messages });
  await once(pages, 'message');
  return pages;
}

/** Between two messages the sockets are given the time to send, as they have between two readings. */
async function heardBy(
  pages: ChildProcess,
  messages: readonly NewsMessage[],
  say: (message: NewsMessage) => void,
): Promise<number> {
  const heard = once(pages, 'message');
  for (const message of messages) {
    say(message);
    await breath();
  }
  return ((await heard) as [number])[0];
}

async function gone(pages: ChildProcess): Promise<void> {
  const exit = once(pages, 'exit');
  pages.kill('SIGKILL');
  await exit;
}
