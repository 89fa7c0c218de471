/**
 * The one door to the web framework: serves the page and answers its questions. Everything is checked here once — who asks, how much
 * they send, what they mean — and handed on in our own words.
 */
import { createHash } from 'node:crypto';
import { extname } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import express, { type ErrorRequestHandler, type Express, type RequestHandler, type Response } from 'express';
import { type Complaint, complaintText, object, optional } from './core/record/shape.ts';
import { ARRIVAL, type Arrival } from './listening.ts';
import { type Gate, passCookie, type Visitor } from './pairing/gate.ts';
import { GUEST_MS, type Guests } from './pairing/guests.ts';
import { PAIR_PATH, pairPage, PAIR_STYLE, type PairTrouble } from './pairing/pair-page.ts';
import { may } from './pairing/role.ts';
import { type Answer, type Asked, roleFor, type Route } from './routes/route.ts';
import { type Door, isWelcome } from './visitors.ts';

export interface WebAppOptions {
  /** The built page. */
  readonly webFolder: string;
  readonly routes: readonly Route[];
  /** Who is let through, and who may come in over a network. */
  readonly gate: Gate;
  readonly guests: Pick<Guests, 'letIn'>;
  /** How long requests may take to arrive; absent: ours. */
  readonly arrival?: Arrival;
}

/** Largest body of JSON (ours: a profile in full fits many times over). */
const MAX_BODY_BYTES = 65_536;
/** A code and a name. */
const MAX_FORM_BYTES = 1_024;
/** Names of built files change with their content, so that they keep for ever: a year, s. */
const BUILT_FILES_S = 365 * 24 * 3_600;
/** Ends the name of a file that was packed when it was built (web/vite.config.ts). */
const PACKED = '.gz';

/** Answers whatever is asked at that door. */
export function webApp(options: WebAppOptions, door: Door): Express {
  const app = express();
  app.disable('x-powered-by');
  app.use((request, response, next) => {
    response.set(PROTECTION);
    if (isWelcome(door, request)) next();
    else problem(response, 403, 'Not from here', 'Open Bowlside at the address it printed when it started.');
  });
  app.use(admitting(options.gate));
  app.use(PAIR_PATH, pairing(options));
  app.use(keepingStrangersOut(options.routes));
  app.use('/api', api(options.routes, options.arrival ?? ARRIVAL));
  app.use(packedFiles(options.webFolder));
  app.use(express.static(options.webFolder, { setHeaders: keepBuiltFiles }));
  app.use((_request, response) => problem(response, 404, 'Not found', 'There is nothing at this address.'));
  app.use(failed);
  return app;
}

/** Who asks is found out once, before anything is done for them. */
function admitting(gate: Gate): RequestHandler {
  return (request, response, next) => {
    const visitor = gate.visitorOf(request);
    response.locals['visitor'] = visitor;
    if (gate.lets(visitor)) next();
    else problem(response, 429, 'Too many', 'Too much was asked from there at once. Wait a moment.');
  };
}

function visitorAt(response: Response): Visitor {
  return response.locals['visitor'] as Visitor;
}

/** Who was not let in gets to see that there is a server, and where to give the code. */
function keepingStrangersOut(routes: readonly Route[]): RequestHandler {
  const open = new Set(routes.filter((route) => roleFor(route) === 'none').map(({ path }) => `/api${path}`));
  return (request, response, next) => {
    if (visitorAt(response).role !== null || open.has(request.path)) return next();
    const isPage = request.method === 'GET' && !/^\/api(?:\/|$)/i.test(request.path);
    if (isPage) return showPairing(response, 401, '', '', null);
    problem(response, 401, 'Not let in', 'This screen is not let in. Load the page again and give it a code.');
  };
}

function pairing({ guests }: WebAppOptions): express.Router {
  const router = express.Router();
  router.get('/', (request, response) => {
    if (visitorAt(response).role === 'host') return response.redirect(303, '/');
    const { code } = request.query as { readonly code?: unknown };
    showPairing(response, 200, typeof code === 'string' ? code : '', '', null);
  });
  const form = express.text({ limit: MAX_FORM_BYTES, type: 'application/x-www-form-urlencoded' });
  router.post('/', arrivingWithin(ARRIVAL.bodyMs), form, (request, response) => {
    const fields = new URLSearchParams(typeof request.body === 'string' ? request.body : '');
    const [code, name] = [fields.get('code') ?? '', fields.get('name') ?? ''];
    const answer = guests.letIn(code, name, visitorAt(response).address);
    if (!answer.ok) return showPairing(response, REFUSED[answer.because], code, name, answer.because);
    response.cookie(passCookie(request.socket.localPort!), answer.pass, {
      httpOnly: true,
      sameSite: 'strict',
      maxAge: GUEST_MS[answer.guest.role],
    });
    response.redirect(303, '/');
  });
  return router;
}

const REFUSED: Readonly<Record<PairTrouble, number>> = { wrong: 403, locked: 429, full: 409 };

function showPairing(response: Response, status: number, code: string, name: string, why: PairTrouble | null): void {
  response.set({
    'Content-Security-Policy': policyWith(PAIR_STYLE),
    'Cache-Control': 'no-store',
    // A form of a page that names no referrer names no origin either (Fetch, append a request Origin header).
    'Referrer-Policy': 'same-origin',
  });
  response
    .status(status)
    .type('html')
    .send(pairPage(code, name, why));
}

const POLICY = [
  "default-src 'self'",
  "img-src 'self' data:",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'self'",
  "frame-ancestors 'none'",
].join('; ');

/** Nothing but our own files runs in the page, and nobody frames it. */
const PROTECTION: Readonly<Record<string, string>> = {
  'Content-Security-Policy': POLICY,
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Cache-Control': 'no-cache',
};

/** The same, and this one style by its hash. */
function policyWith(style: string): string {
  return `${POLICY}; style-src 'sha256-${createHash('sha256').update(style).digest('base64')}'`;
}

/** What was packed when it was built goes out so to browsers that unpack it. All else, and all to others, is for whoever comes next. */
function packedFiles(webFolder: string): RequestHandler {
  const setHeaders = (response: Response, path: string): void => {
    keepBuiltFiles(response, path);
    response.type(extname(path.slice(0, -PACKED.length))).set('Content-Encoding', 'gzip');
  };
  const packed = express.static(webFolder, { index: false, redirect: false, setHeaders });
  return (request, response, next) => {
    response.vary('Accept-Encoding');
    if (request.acceptsEncodings('gzip', 'identity') !== 'gzip') return next();
    const { url, path } = request;
    request.url = (path.endsWith('/') ? `${path}index.html` : path) + PACKED;
    packed(request, response, (error) => {
      request.url = url;
      next(error);
    });
  };
}

function keepBuiltFiles(response: Response, path: string): void {
  if (/[/\\]assets[/\\]/.test(path)) response.set('Cache-Control', `max-age=${BUILT_FILES_S}, immutable`);
}

function api(routes: readonly Route[], arrival: Arrival): express.Router {
  const router = express.Router();
  const oneFile = oneAtATime();
  for (const route of routes) {
    const body = route.upload === undefined ? bodyOf(route, arrival) : [oneFile, ...bodyOf(route, arrival)];
    router[route.method](expressPath(route.path), permitting(route), ...body, answering(route));
  }
  return router;
}

function permitting(route: Route): RequestHandler {
  const needed = roleFor(route);
  return (_request, response, next) => {
    if (may(visitorAt(response).role, needed)) return next();
    if (needed === 'host') problem(response, 403, 'Not from here', 'This is done at the machine Bowlside runs on.');
    else problem(response, 403, 'Looking on', 'This screen may look on. Ask for a code to take part.');
  };
}

/** One file at a time, from its first byte to its answer: each may fill much memory. */
function oneAtATime(): RequestHandler {
  let isTaken = false;
  return (_request, response, next) => {
    if (isTaken) return problem(response, 409, 'Not now', 'Another file is being read. Try again in a moment.');
    isTaken = true;
    response.once('close', () => (isTaken = false));
    next();
  };
}

/** What takes longer to arrive is cut off. */
function arrivingWithin(ms: number): RequestHandler {
  return (request, _response, next) => {
    const patience = setTimeout(() => request.destroy(), ms);
    for (const over of ['end', 'close'] as const) request.once(over, () => clearTimeout(patience));
    next();
  };
}

/** `/runs/{run}` as the framework writes it. */
function expressPath(path: string): string {
  return path.replaceAll(/\{(\w+)\}/g, ':$1');
}

/** A form posted by a foreign page is never JSON, and JSON from a foreign page never comes without its origin. */
function bodyOf({ method, upload }: Route, { bodyMs, uploadMs }: Arrival): RequestHandler[] {
  if (method === 'get') return [];
  const type = upload?.type ?? 'application/json';
  const refused: RequestHandler = (request, response, next) => {
    if (request.is(type) || (method === 'delete' && request.get('content-type') === undefined)) next();
    else problem(response, 415, 'Not this type', `A request like this has the content type ${type}.`);
  };
  const read =
    upload === undefined
      ? express.json({ limit: MAX_BODY_BYTES, type })
      : express.text({ limit: upload.mostBytes, type });
  return [arrivingWithin(upload === undefined ? bodyMs : uploadMs), refused, read];
}

function answering(route: Route): RequestHandler {
  return (request, response, next) => {
    const { params, query } = request as { readonly params: Asked['params']; readonly query: unknown };
    const body: unknown = request.body;
    const complaint = queryComplaint(route, query) ?? bodyComplaint(route, body);
    if (complaint !== null) {
      return problem(response, 400, route.refusal ?? 'Not understood', `${complaintText(complaint)}.`, complaint);
    }
    const asked = { params, query: query as Asked['query'], body, by: visitorAt(response) };
    Promise.resolve()
      .then(() => route.answer(asked))
      .then((answer) => send(response, answer))
      .catch(next);
  };
}

/** Every value of an address is one text, and one that the route knows. */
function queryComplaint({ query: known = {} }: Route, query: unknown): Complaint | null {
  const shapes = Object.entries(known).map(([key, shape]) => [key, optional(shape)] as const);
  return object(Object.fromEntries(shapes)).check(query, '');
}

function bodyComplaint({ body: shape, called = '' }: Route, body: unknown): Complaint | null {
  return shape === undefined ? null : shape.check(body, called);
}

async function send(response: Response, answer: Answer): Promise<void> {
  switch (answer.kind) {
    case 'json':
      response.status(answer.status ?? 200).json(answer.value);
      return;
    case 'problem':
      return problem(response, answer.status, answer.title, answer.detail, answer);
    case 'file':
      if (answer.name !== null) response.attachment(answer.name);
      if (answer.style !== undefined) response.set('Content-Security-Policy', policyWith(answer.style));
      response.type(answer.type);
      await pipeline(Readable.from(piecesOf(answer.content)), response).catch((error: unknown) => {
        if (!isCutOff(error)) throw error;
      });
  }
}

/** Whoever fetched it went away in the middle: that is nothing of ours. */
function isCutOff(error: unknown): boolean {
  return error instanceof Error && 'code' in error && error.code === 'ERR_STREAM_PREMATURE_CLOSE';
}

/** A reader that takes text one character at a time would be slow: whole texts are one piece. */
function piecesOf(
  content: Extract<Answer, { kind: 'file' }>['content'],
): Iterable<string | Uint8Array> | AsyncIterable<Uint8Array> {
  return typeof content === 'string' || content instanceof Uint8Array ? [content] : content;
}

/** RFC 9457. `detail` comes first: it is the sentence for the person. Besides, the place that is at fault, and the rule it breaks. */
function problem(
  response: Response,
  status: number,
  title: string,
  detail: string,
  { path, rule }: Partial<Pick<Complaint, 'path' | 'rule'>> = {},
): void {
  const body = {
    detail,
    title,
    status,
    ...(path === undefined ? {} : { path }),
    ...(rule === undefined ? {} : { rule }),
  };
  response.status(status).type('application/problem+json').send(JSON.stringify(body));
}

function whyNotRead(error: unknown, status: number, type: unknown): string {
  if (error instanceof URIError)
    return 'The address is not written as addresses are: after a % stand two digits of UTF-8.';
  if (status === 412 || status === 416)
    return 'The file is another one than the request asks for, or has no such part.';
  if (status === 415) return 'The body is packed, or in another character set than UTF-8; it is read plain alone.';
  return type === 'entity.parse.failed' ? 'The body is no JSON object.' : 'The request did not come whole.';
}

/** What the framework refuses before it reaches us (a broken or too large body), or what broke in answering. */
const failed: ErrorRequestHandler = (error: unknown, _request, response, next) => {
  if (response.headersSent) return next(error);
  // What was said of a file that is not sent after all.
  response.removeHeader('Content-Encoding');
  response.set(PROTECTION);
  const { status, limit, type } = error as {
    readonly status?: unknown;
    readonly limit?: unknown;
    readonly type?: unknown;
  };
  if (status === 413) return problem(response, 413, 'Too large', `No more than ${String(limit)} bytes at a time.`);
  if (typeof status === 'number' && status < 500)
    return problem(response, status, 'Not understood', whyNotRead(error, status, type));
  return problem(response, 500, 'It broke', 'Bowlside could not answer. The run goes on.');
};
