/**
 * The one door to the web framework: serves the page and answers its questions. Everything is checked here once — who asks, how much
 * they send, what they mean — and handed on in our own words.
 */
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import express, { type ErrorRequestHandler, type Express, type Request, type Response } from 'express';
import { parseCommand } from './core/record/command-file.ts';
import type { Profile } from './core/record/profile.ts';
import { complaintText, object, orNull, within } from './core/record/shape.ts';
import { encodeLines } from './core/record/trace.ts';
import type { NoteInfo } from './core/show/wire.ts';
import { PROBE_LAG_MAX_S } from './config.ts';
import type { CommandAnswer, Session } from './session.ts';
import { wireReadings } from './session/told.ts';
import type { UsbPort } from './source/ports.ts';
import type { StoredRun } from './store/records.ts';
import type { Store } from './store/store.ts';
import { doorAt, type Door, isWelcome } from './visitors.ts';

export interface HttpOptions {
  readonly listen: { readonly host: string; readonly port: number };
  /** The built page. */
  readonly webFolder: string;
  readonly profiles: readonly Profile[];
  readonly sessions: ReadonlyMap<string, Session>;
  readonly store: Store;
  readonly thermometer: { readonly choices: readonly UsbPort[]; choose(path: string): Promise<boolean> };
  readonly wallNowMs: () => number;
  readonly newId: () => string;
}

export interface Http {
  readonly server: Server;
  readonly door: Door;
  /** What to open in a browser. */
  readonly address: string;
  close(): Promise<void>;
}

export type OpenedHttp = { readonly ok: true; readonly http: Http } | { readonly ok: false; readonly message: string };

/** Largest body, and largest text of a note (ours: a profile in full fits many times over, so does anything said with sticky hands). */
const MAX_BODY = '64kb';
const MAX_NOTE_CHARS = 2_000;
const MAX_NAME_CHARS = 80;
/** A note takes the place of another note or of an act, by the id of its mark (`show/view.ts`). */
const MARK_ID = /^(note-[\w-]{1,64}|event-\d{1,9})$/;
/** Columns of a stored run's curve (ours: as many as a snapshot has). */
const RUN_COLUMNS = 2_400;
/** A request that takes longer to arrive is no page of ours, ms; and more at once are none of ours either (ours). */
const REQUEST_MS = 30_000;
const MAX_CONNECTIONS = 256;
/** Names of built files change with their content, so that they keep for ever: a year, s. */
const BUILT_FILES_S = 365 * 24 * 3_600;

/** Listens, or says in one sentence why it cannot. */
export async function openHttp(options: HttpOptions): Promise<OpenedHttp> {
  const { host } = options.listen;
  const server = createServer({ requestTimeout: REQUEST_MS });
  server.maxConnections = MAX_CONNECTIONS;
  const failure = await listening(server, options.listen);
  if (failure !== null) return { ok: false, message: failure };
  const { port } = server.address() as AddressInfo;
  const door = doorAt(host, port);
  server.on('request', routes(options, door));
  return { ok: true, http: { server, door, address: addressOf(host, port), close: () => closed(server) } };
}

function listening(server: Server, { host, port }: HttpOptions['listen']): Promise<string | null> {
  return new Promise((resolve) => {
    server.once('error', (error: NodeJS.ErrnoException) => resolve(whyDeaf(error, host, port)));
    server.listen({ host, port, exclusive: true }, () => resolve(null));
  });
}

function whyDeaf({ code, message }: NodeJS.ErrnoException, host: string, port: number): string {
  const place = `${host}:${port}`;
  switch (code) {
    case 'EADDRINUSE':
      return `${place} is in use, perhaps by another Bowlside. Stop that one, or choose another address with --listen ${host}:PORT.`;
    case 'EACCES':
      return `${place} may not be used by this user. Choose another port with --listen ${host}:PORT.`;
    case 'EADDRNOTAVAIL':
    case 'ENOTFOUND':
      return `${host} is not an address of this machine. Choose one with --listen HOST:PORT.`;
    default:
      return `${place} cannot be listened at: ${message}.`;
  }
}

function addressOf(host: string, port: number): string {
  const everywhere = host === '0.0.0.0' || host === '::';
  const name = everywhere ? 'localhost' : host.includes(':') ? `[${host}]` : host;
  return `http://${name}:${port}`;
}

function closed(server: Server): Promise<void> {
  return new Promise((resolve) => {
    server.close(() => resolve());
    server.closeAllConnections();
  });
}

function routes(options: HttpOptions, door: Door): Express {
  const app = express();
  app.disable('x-powered-by');
  app.use((request, response, next) => {
    response.set(PROTECTION);
    if (isWelcome(door, request)) next();
    else problem(response, 403, 'Not from here', 'Open Bowlside at the address it printed when it started.');
  });
  app.use('/api', api(options));
  app.use(express.static(options.webFolder, { setHeaders: keepBuiltFiles }));
  app.use((_request, response) => problem(response, 404, 'Not found', 'There is nothing at this address.'));
  app.use(failed);
  return app;
}

/** Nothing but our own files runs in the page, and nobody frames it. */
const PROTECTION: Readonly<Record<string, string>> = {
  'Content-Security-Policy': [
    "default-src 'self'",
    "img-src 'self' data:",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; '),
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Cache-Control': 'no-cache',
};

function keepBuiltFiles(response: Response, path: string): void {
  if (/[/\\]assets[/\\]/.test(path)) response.set('Cache-Control', `max-age=${BUILT_FILES_S}, immutable`);
}

function api(options: HttpOptions): express.Router {
  const router = express.Router();
  router.use(onlyJson, express.json({ limit: MAX_BODY, type: 'application/json' }));
  router.get('/health', (_request, response) => response.json(healthOf(options)));
  router.get('/profiles', (_request, response) => response.json(options.profiles));
  router.get('/bowls/:bowl', (request, response) =>
    withBowl(options, request, response, (s) => response.json(s.status())),
  );
  router.post('/bowls/:bowl/commands', (request, response) =>
    withBowl(options, request, response, (session) => takeCommand(options, session, request, response)),
  );
  router.post('/bowls/:bowl/probe', (request, response) =>
    withBowl(options, request, response, (session) => takeProbe(session, request, response)),
  );
  router.get('/thermometers', (_request, response) => response.json(options.thermometer.choices));
  router.post('/thermometers', (request, response) => chooseThermometer(options, request, response));
  router.get('/runs', (_request, response) => response.json(options.store.runs()));
  router.get('/runs/:run', (request, response) =>
    withRun(options, request, response, (run) => response.json(runForPage(options.store, run))),
  );
  router.get('/runs/:run/trace.jsonl', (request, response) =>
    withRun(options, request, response, (run) => sendTrace(options.store, run, response)),
  );
  router.post('/runs/:run/notes', (request, response) =>
    withRun(options, request, response, (run) => takeNote(options, run, request, response)),
  );
  return router;
}

/** A form posted by a foreign page is never JSON, and JSON from a foreign page never comes without its origin. */
function onlyJson(request: Request, response: Response, next: () => void): void {
  if (request.method !== 'POST' || request.is('application/json')) next();
  else problem(response, 415, 'Not JSON', 'A request that changes something has the content type application/json.');
}

function withBowl(
  options: HttpOptions,
  request: Request,
  response: Response,
  answer: (session: Session) => void,
): void {
  const bowl = String(request.params['bowl']);
  const session = options.sessions.get(bowl);
  if (session === undefined) problem(response, 404, 'No such bowl', `There is no bowl ${bowl}.`);
  else answer(session);
}

function withRun<Answer>(
  { store }: HttpOptions,
  request: Request,
  response: Response,
  answer: (run: StoredRun) => Answer,
): Answer | void {
  const name = String(request.params['run']);
  const run = store.openRun(name);
  if (run === null) return problem(response, 404, 'No such run', `There is no run ${name}.`);
  return answer(run);
}

function takeCommand({ profiles }: HttpOptions, session: Session, request: Request, response: Response): void {
  const parsed = parseCommand(request.body, profiles);
  if (!parsed.ok) {
    const { path, value, rule } = parsed.complaint;
    return problem(response, 400, 'Not a command', `${path} is ${value}: ${rule}.`, path);
  }
  sendAnswer(session, session.command(parsed.command), response);
}

function sendAnswer(session: Session, answer: CommandAnswer, response: Response): void {
  if (answer.ok) response.json(session.status());
  else if (answer.because === 'unfit') problem(response, 409, 'Not now', answer.detail);
  else problem(response, 400, 'Not a command', answer.detail);
}

const probeShape = object({ lagS: orNull(within(0, PROBE_LAG_MAX_S)) });

function takeProbe(session: Session, request: Request, response: Response): void {
  const complaint = probeShape.check(request.body, 'probe');
  if (complaint !== null) return problem(response, 400, 'Not a probe', `${complaintText(complaint)}.`, complaint.path);
  const { lagS } = request.body as { readonly lagS: number | null };
  sendAnswer(session, session.setProbeLag(lagS), response);
}

async function chooseThermometer({ thermometer }: HttpOptions, request: Request, response: Response): Promise<void> {
  const path = textIn(request.body, 'path');
  if (path !== null && (await thermometer.choose(path))) response.json({ chosen: path });
  else problem(response, 409, 'Not now', 'This thermometer is not among those to choose from.', 'path');
}

function takeNote(options: HttpOptions, { run, bowl }: StoredRun, request: Request, response: Response): void {
  const read = noteFrom(request.body, options);
  if (!read.ok) return problem(response, 400, 'Not a note', read.detail, read.path);
  const session = options.sessions.get(bowl);
  if (session === undefined) options.store.annotate(run, read.note);
  else session.annotate(run, read.note);
  response.status(201).json(read.note);
}

type ReadNote =
  | { readonly ok: true; readonly note: NoteInfo }
  | { readonly ok: false; readonly path: string; readonly detail: string };

function noteFrom(body: unknown, { newId, wallNowMs }: HttpOptions): ReadNote {
  const text = textIn(body, 'text')?.trim() ?? '';
  const by = fieldIn(body, 'by') ?? null;
  const atMs = fieldIn(body, 'atMs');
  const replaces = fieldIn(body, 'replaces');
  if (replaces !== undefined && !(typeof replaces === 'string' && MARK_ID.test(replaces)))
    return noNote('replaces', 'the id of a note or of an act is wanted, or nothing');
  if ((text === '' && replaces === undefined) || text.length > MAX_NOTE_CHARS)
    return noNote('text', `1 to ${MAX_NOTE_CHARS} characters are wanted`);
  if (!Number.isSafeInteger(atMs)) return noNote('atMs', 'a whole number of milliseconds is wanted');
  if (by !== null && (typeof by !== 'string' || by.length > MAX_NAME_CHARS))
    return noNote('by', 'a name is wanted, or nothing');
  const writtenAtWall = new Date(wallNowMs()).toISOString();
  const note = { id: newId(), atMs: atMs as number, text, by, writtenAtWall };
  return { ok: true, note: replaces === undefined ? note : { ...note, replaces } };
}

function noNote(path: string, rule: string): ReadNote {
  return { ok: false, path, detail: `${path}: ${rule}.` };
}

function fieldIn(body: unknown, key: string): unknown {
  return typeof body === 'object' && body !== null ? (body as Readonly<Record<string, unknown>>)[key] : undefined;
}

function textIn(body: unknown, key: string): string | null {
  const value = fieldIn(body, key);
  return typeof value === 'string' ? value : null;
}

function healthOf({ sessions, store }: HttpOptions) {
  return {
    ok: store.health().recording,
    store: store.health(),
    bowls: [...sessions.values()].map((session) => session.status()),
  };
}

/** As a page opens it: what it knows of a run that is going, and the readings as it gets them live. */
function runForPage(store: Store, stored: StoredRun) {
  const { run, header, simulated, startedAtMs, startedAtWall, readings, ...rest } = stored;
  const { profile, condition, probeLagS } = header;
  const info = { run, profile, condition, simulated, startedAtMs, startedAtWall, probeLagS, resumed: false };
  return { info, header, ...rest, readings: wireReadings(readings), tiles: store.tilesOf(run, RUN_COLUMNS) };
}

/** All that went in and came out, as a file that replays. */
async function sendTrace(store: Store, stored: StoredRun, response: Response): Promise<void> {
  const { run, bowl, source, simulated, startedAtMs, startedAtWall, header, events } = stored;
  const labels = { run, bowl, source, simulated, startedAtMs, startedAtWall };
  const file = { what: 'run', header, labels, inputs: store.inputsOf(run), events } as const;
  response.attachment(`${run}.jsonl`).type('application/jsonl');
  await pipeline(Readable.from(encodeLines(file)), response);
}

/** RFC 9457. `detail` comes first: it is the sentence for the person. */
function problem(response: Response, status: number, title: string, detail: string, path?: string): void {
  const body = { detail, title, status, ...(path === undefined ? {} : { path }) };
  response.status(status).type('application/problem+json').send(JSON.stringify(body));
}

/** What the framework refuses before it reaches us (a broken or too large body), or what broke in answering. */
const failed: ErrorRequestHandler = (error: unknown, _request, response, next) => {
  if (response.headersSent) return next(error);
  const status = fieldIn(error, 'status');
  if (status === 413) return problem(response, 413, 'Too large', `No more than ${MAX_BODY} at a time.`);
  if (typeof status === 'number' && status < 500)
    return problem(response, status, 'Not understood', 'The body is no JSON object.');
  return problem(response, 500, 'It broke', 'Bowlside could not answer. The run goes on.');
};
