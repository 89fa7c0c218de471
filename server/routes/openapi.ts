/**
 * The routes told to machines: an OpenAPI 3.1 document out of the very shapes that check what is asked, so that the two cannot differ.
 * Knows no route by name.
 */
import { type JsonSchema, type Shape, object, optional, text, wholeFrom } from '../core/record/shape.ts';
import type { Needed } from '../pairing/role.ts';
import { roleFor, type Route } from './route.ts';

/** Raised when what was right to ask or to expect is so no longer. */
export const API_VERSION = '1';

type Json = Readonly<Record<string, unknown>>;

const ABOUT =
  'Everything a page of Bowlside asks of it, and a script on the same machine may. Requests from web pages other than its own are refused. ' +
  'Bodies are JSON unless it says otherwise. Moments called …Ms are milliseconds of the run’s own clock, …Wall are ISO 8601, …C are °C, …S seconds. ' +
  'News of a bowl comes over a WebSocket at /live, which is not described here.';

/** RFC 9457, with the place in the body that is at fault and the rule it breaks. */
const PROBLEM = object({
  detail: text,
  title: text,
  status: wholeFrom(400),
  path: optional(text),
  rule: optional(text),
});

/** Over a network; at the machine itself everything may be asked. */
const NEEDS: Readonly<Record<Needed, string>> = {
  none: 'For everybody.',
  watch: 'For a screen that looks on.',
  control: 'For a screen that takes part.',
  host: 'At the machine itself alone.',
};

/** Whatever is asked may be refused like this. */
const ALWAYS = [401, 403, 429, 500];

const PROBLEMS: Readonly<Record<number, string>> = {
  400: 'What was asked is not understood; `path` says where.',
  401: 'Asked over a network by a screen that is not let in.',
  403: 'Asked from elsewhere than a page of this server or this machine, or by a screen that may not.',
  404: 'There is nothing of that name.',
  409: 'Not as things stand now; `detail` says why.',
  413: 'The body is too large.',
  415: 'The body is of another type than is read here.',
  429: 'Too much was asked from there at once.',
  500: 'Bowlside broke in answering. A run that is going goes on.',
  503: 'The disk does not take it now; the detail says what becomes of it.',
  507: 'The disk takes no more, or does not answer.',
};

const PROBLEM_TYPE = 'application/problem+json';
const COMPONENTS = '#/components';

/** `named`: shapes that are told once and pointed to. */
export function openApiOf(routes: readonly Route[], named: Readonly<Record<string, Shape>>): Json {
  const pointing = pointersTo({ ...named, Problem: PROBLEM });
  const paths: Record<string, Record<string, unknown>> = {};
  for (const route of routes) (paths[route.path] ??= {})[route.method] = pointing.within(operationOf(route));
  return {
    openapi: '3.1.0',
    info: {
      title: 'Bowlside',
      version: API_VERSION,
      description: ABOUT,
      license: { name: 'MIT', identifier: 'MIT' },
    },
    servers: [
      { url: '/api', description: 'Where it was started: http://127.0.0.1:4330 unless somebody said otherwise.' },
    ],
    tags: [...new Set(routes.map(tagOf))].map((name) => ({ name })),
    paths,
    components: { schemas: pointing.schemas, responses: pointing.within(problemResponses()) },
  };
}

function operationOf(route: Route): Json {
  const body = bodyOf(route);
  return {
    operationId: nameOf(route),
    summary: route.does,
    description: NEEDS[roleFor(route)],
    tags: [tagOf(route)],
    parameters: [...pathParameters(route), ...queryParameters(route)],
    ...(body === null ? {} : { requestBody: body }),
    responses: { ...answerOf(route), ...refusalsOf(route) },
  };
}

/** `get /runs/{run}/trace.jsonl` is `get-runs-run-trace-jsonl`. */
function nameOf({ method, path }: Route): string {
  return [method, ...path.split(/[^\w]+/)].filter((word) => word !== '').join('-');
}

function tagOf({ path }: Route): string {
  return path.split('/')[1]!;
}

function pathParameters({ path }: Route): Json[] {
  return Array.from(path.matchAll(/\{(\w+)\}/g), ([, name]) => ({
    name,
    in: 'path',
    required: true,
    schema: text.schema,
  }));
}

function queryParameters({ query = {} }: Route): Json[] {
  return Object.entries(query).map(([name, { schema }]) => ({ name, in: 'query', schema }));
}

function bodyOf({ body, upload }: Route): Json | null {
  if (upload !== undefined)
    return {
      required: true,
      description: `No more than ${upload.mostBytes} bytes.`,
      content: { [upload.type]: { schema: text.schema } },
    };
  if (body === undefined) return null;
  return { required: true, content: { 'application/json': { schema: body.schema } } };
}

function answerOf({ gives }: Route): Json {
  if ('file' in gives) return { 200: { description: 'The file.', content: { [gives.file]: {} } } };
  const { json, status = 200 } = gives;
  const content = { 'application/json': { schema: json } };
  const description = (each: number): string => (each === 201 ? 'It is made.' : 'It is so.');
  return Object.fromEntries([status].flat().map((each) => [each, { description: description(each), content }]));
}

function refusalsOf(route: Route): Json {
  const sends = route.method !== 'get';
  const isChecked = route.body !== undefined || route.upload !== undefined || route.query !== undefined;
  const statuses = [
    ...ALWAYS,
    ...(isChecked ? [400] : []),
    ...(route.path.includes('{') ? [404] : []),
    ...(sends ? [413, 415] : []),
    ...(route.problems ?? []),
  ];
  const sorted = [...new Set(statuses)].toSorted((a, b) => a - b);
  return Object.fromEntries(sorted.map((status) => [status, { $ref: `${COMPONENTS}/responses/Problem${status}` }]));
}

function problemResponses(): Json {
  const content = { [PROBLEM_TYPE]: { schema: PROBLEM.schema } };
  return Object.fromEntries(
    Object.entries(PROBLEMS).map(([status, description]) => [`Problem${status}`, { description, content }]),
  );
}

/** Puts a pointer in the place of every schema that has a name, however deep it stands. */
function pointersTo(named: Readonly<Record<string, Shape>>) {
  const names = new Map(Object.entries(named).map(([name, { schema }]) => [schema as unknown, name]));
  const within = (value: unknown): unknown => {
    const name = names.get(value);
    return name === undefined ? inside(value) : { $ref: `${COMPONENTS}/schemas/${name}` };
  };
  const inside = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(within);
    if (typeof value !== 'object' || value === null) return value;
    return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, within(part)]));
  };
  const schemas = Object.fromEntries(
    Object.entries(named).map(([name, { schema }]) => [name, inside(schema) as JsonSchema]),
  );
  return { within, schemas };
}
