/** The description says of every route what it really answers: each is asked here, and every answer is held against it. */
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import type { Backup } from '../../../server/backups/backups.ts';
import type { Invitation } from '../../../server/pairing/guests.ts';
import type { Query } from '../../../server/source/asking.ts';
import type { UsbPort } from '../../../server/source/ports.ts';
import { asks, type Reply } from '../../support/asks.ts';
import { BOWL, type Kitchen, openKitchen } from '../../support/server.ts';
import { shipped } from '../../support/shipped.ts';

type Json = Readonly<Record<string, unknown>>;
type Method = 'get' | 'post' | 'put' | 'delete';

interface Operation {
  readonly operationId: string;
  readonly parameters: readonly { readonly name: string; readonly in: string }[];
  readonly responses: Json;
  readonly requestBody?: { readonly content: Json };
}

interface Described {
  readonly paths: Readonly<Record<string, Readonly<Record<Method, Operation>>>>;
}

/** Asks a kitchen and checks what it says against its own description. */
async function described(kitchen: Kitchen) {
  const { address } = kitchen.http;
  const door = asks(address);
  const document = (await door.get('/api/openapi.json')).body as Described;
  const ajv = new Ajv2020({
    strict: false,
    formats: { 'date-time': (text: string) => !Number.isNaN(Date.parse(text)) },
    // Each schema is put into code once and asked a few times.
    code: { optimize: false },
    inlineRefs: false,
  });
  ajv.addSchema(document, 'bowlside', false, false);
  const answered = new Set<string>();

  /** The answer is one that is described. */
  const holds = (method: Method, path: string, reply: Reply): void => {
    const place = `#/paths/${pointer(path)}/${method}`;
    const response = responseOf(document, path, method, reply.status);
    expect(response, `${method} ${path} gave ${reply.status}, which is not described`).toBeDefined();
    for (const [type, { schema }] of Object.entries(response!.content)) {
      if (schema === undefined) continue;
      const at = response!.at ?? `${place}/responses/${reply.status}`;
      const fits = ajv.compile({ $ref: `bowlside${at}/content/${pointer(type)}/schema` });
      expect(fits(reply.body), `${method} ${path} ${reply.status}: ${JSON.stringify(fits.errors)}`).toBe(true);
    }
    if (reply.status < 300) answered.add(`${method} ${path}`);
  };

  /** Of the path as it is described, the bodies that may be sent and the answers. */
  const ask = async (
    method: Method,
    path: string,
    values: Readonly<Record<string, string>> = {},
    body?: unknown,
  ): Promise<Reply> => {
    const asked = path.replaceAll(/\{(\w+)\}/g, (_, name: string) => encodeURIComponent(values[name]!));
    const reply = await (method === 'get'
      ? door.get(`/api${asked}${queryOf(values, path)}`)
      : method === 'delete'
        ? door.remove(`/api${asked}`)
        : door[method](`/api${asked}`, body ?? {}));
    holds(method, path, reply);
    const place = `#/paths/${pointer(path)}/${method}`;
    if (body !== undefined && reply.status < 300) {
      const fits = ajv.compile({ $ref: `bowlside${place}/requestBody/content/application~1json/schema` });
      expect(fits(body), `${method} ${path} took ${JSON.stringify(body)}: ${JSON.stringify(fits.errors)}`).toBe(true);
    }
    return reply;
  };
  /** A file sent as it is. */
  const send = async (path: string, values: Readonly<Record<string, string>>, file: string): Promise<Reply> => {
    const reply = await door.send(`/api${path}${queryOf(values, path)}`, file);
    holds('post', path, reply);
    return reply;
  };
  const all = Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.keys(methods).map((method) => `${method} ${path}`),
  );
  return { ask, send, answered, all, document };
}

interface Response {
  readonly content: Readonly<Record<string, { readonly schema?: unknown }>>;
  /** Where it stands, if not in its place. */
  readonly at?: string;
}

function responseOf(document: Described, path: string, method: Method, status: number): Response | undefined {
  const response = document.paths[path]![method].responses[status] as
    (Response & { readonly $ref?: string }) | undefined;
  if (response?.$ref === undefined) return response;
  const name = response.$ref.split('/').at(-1)!;
  const { components } = document as unknown as { components: { responses: Readonly<Record<string, Response>> } };
  return { ...components.responses[name]!, at: response.$ref };
}

function pointer(key: string): string {
  return encodeURIComponent(key.replaceAll('~', '~0').replaceAll('/', '~1'));
}

/** What is not a variable of the path is asked after a question mark. */
function queryOf(values: Readonly<Record<string, string>>, path: string): string {
  const rest = Object.entries(values).filter(([name]) => !path.includes(`{${name}}`));
  return rest.length === 0 ? '' : `?${new URLSearchParams(rest).toString()}`;
}

const PORT: UsbPort = {
  path: '/dev/ttyACM1',
  label: 'Kitchen probe',
  identity: { vendorId: '1a86', productId: '7523', serialNumber: null, position: '1-1', path: '/dev/ttyACM1' },
};
/** Made up. */
const BAG = { title: 'House dark', coating: 'dark', meltC: 48, coolC: [27, 28], workC: 31.5 };

test('whatever is posted or put has a body, and it is described', async () => {
  const { document, all } = await described(await openKitchen());
  const without = all.filter((each) => {
    const [method, path] = each.split(' ') as [Method, string];
    return /^(post|put)$/.test(method) && document.paths[path]![method].requestBody === undefined;
  });
  expect(without).toEqual([]);
});

describe('real questions and answers fit what is described', () => {
  test('for every route, refusals among them', async () => {
    const choose = (path: string) => Promise.resolve(path === PORT.path ? 'beside' : null);
    const builtIn = { path: '/dev/ttyS0', label: '/dev/ttyS0', identity: null };
    const kitchen = await openKitchen(
      {},
      undefined,
      {
        choices: () => Promise.resolve([PORT]),
        all: () => Promise.resolve({ ports: [PORT, builtIn], why: '' }),
        ask: (query: Query | null) => Promise.resolve(query === null || query.ending === 'lf'),
        choose,
        put: (source) => Promise.resolve(source === 'beside'),
        isBeside: (source) => source === 'beside',
      },
      undefined,
      '0.0.0.0',
    );
    const { ask, send, answered, all } = await described(kitchen);
    const { bowl } = kitchen;
    const bowls = { bowl: BOWL };
    await ask('get', '/openapi.json');
    await ask('get', '/health');
    await ask('get', '/bowls/{bowl}', bowls);
    for (let n = 0; n < 6; n += 1) kitchen.bowl.hears(`31.${n}2,45.2${n}`);
    await ask('get', '/bowls/{bowl}/heard', bowls);
    await ask('get', '/bowls/{bowl}', { bowl: 'nobody' });
    await ask('post', '/bowls/{bowl}/probe', bowls, { lagS: 4 });
    await ask('post', '/bowls/{bowl}/probe', bowls, { lagS: 'slow' });
    await ask('get', '/bowls/{bowl}/probe', bowls);
    const point = { against: 'ice', trueC: 0, withinC: 0.2, readC: 0.4, spreadC: 0.05, stepC: 0.1, readings: 61 };
    const steam = { against: 'steam', air: { by: 'altitude', altitudeM: 520 } };
    await ask('post', '/bowls/{bowl}/check', bowls, { standard: steam, points: [point] });
    await ask('post', '/bowls/{bowl}/check', bowls, { standard: null, points: [] });
    await ask('post', '/bowls/{bowl}/check', bowls, {
      probe: { source: 'test', channel: 'nowhere' },
      standard: null,
      points: [],
    });
    await ask('post', '/bowls/{bowl}/check', bowls, { standard: { against: 'tea' }, points: [] });
    await ask('delete', '/bowls/{bowl}/check', bowls);
    await ask('get', '/thermometers');
    await ask('get', '/bench');
    const added = await ask('post', '/bench/bowls', {}, { name: 'milk, left' });
    const { bowl: second } = added.body as { readonly bowl: string };
    await ask('put', '/bench/bowls/{bowl}', { bowl: second }, { name: 'milk, right' });
    await ask('put', '/bench/bowls/{bowl}', { bowl: 'none' }, { name: null });
    await ask('post', '/bench/bowls', {}, { name: '' });
    await ask('delete', '/bench/bowls/{bowl}', { bowl: second });
    await ask('delete', '/bench/bowls/{bowl}', { bowl: BOWL });
    await ask('delete', '/bench/bowls/{bowl}', { bowl: 'none' });
    await ask('post', '/thermometers', {}, { path: PORT.path });
    await ask('post', '/thermometers', {}, { path: '/dev/null' });
    await ask('get', '/thermometers/all');
    await ask('post', '/thermometers/ask', {}, { text: 'READ?', ending: 'lf' });
    await ask('post', '/thermometers/ask', {}, { text: 'READ?', ending: 'cr' });
    await ask('post', '/thermometers/ask', {}, { text: 'a\nb', ending: 'lf' });
    await ask('delete', '/thermometers/ask');

    const { body: draft } = await ask('post', '/profiles/bag', {}, BAG);
    await ask('post', '/profiles/bag', {}, { ...BAG, coolC: 40 });
    await ask('post', '/profiles', {}, draft);
    await ask('post', '/profiles', {}, draft);
    await ask('post', '/profiles/check', {}, { ...(draft as object), phases: 'none' });
    await ask('post', '/profiles/{profile}/copies', { profile: 'dark' }, { title: 'Ginger' });
    await ask('put', '/profiles/{profile}', { profile: 'ginger' }, { ...shipped('dark'), id: 'ginger' });
    await ask('put', '/profiles/{profile}', { profile: 'dark' }, shipped('dark'));
    await ask('get', '/profiles');
    await ask('get', '/profiles/own');
    await ask('delete', '/profiles/{profile}', { profile: 'ginger' });
    await ask('delete', '/profiles/{profile}', { profile: 'ginger' });

    const say = (command: Json): Promise<Reply> => ask('post', '/bowls/{bowl}/commands', bowls, command);
    await say({ name: 'choose-profile', profile: 'house-dark', condition: 'solid' });
    await say({ name: 'choose-profile', profile: shipped('dark'), condition: 'solid' });
    await say({ name: 'next' });
    await say({ name: 'explode' });
    bowl.ramp(24, 60, 400);
    await ask('get', '/bowls/{bowl}', bowls);
    await say({ name: 'acknowledge', alarm: 'scorch', by: 'Ana' });
    await bowl.store.flush();
    const run = bowl.session.status().info!.run;
    await ask(
      'post',
      '/runs/{run}/notes',
      { run },
      { atMs: 5_000, untilMs: 9_000, text: 'stirred well', tags: ['stir'] },
    );
    await ask('post', '/runs/{run}/notes', { run }, { atMs: 5_000, text: '' });
    await say({ name: 'end' });
    await say({ name: 'end' });
    await bowl.store.flush();
    await ask('get', '/runs');
    await ask('get', '/runs', { words: 'dark', most: '5', order: 'worst' });
    await ask('get', '/runs', { order: 'sideways' });
    await ask('get', '/runs/{run}', { run });
    await ask('get', '/runs/{run}', { run: 'none' });
    await ask('get', '/runs/{run}/curve', { run, fromMs: '0', toMs: '20000' });
    await ask('get', '/runs/{run}/curve', { run, columns: '20' });
    await ask('get', '/runs/{run}/trace.jsonl', { run });

    await ask('get', '/run-choices');
    for (const file of ['table.csv', 'spreadsheet.csv', 'curve.svg', 'sheet.html', 'page.html'])
      await ask('get', `/runs/{run}/${file}`, { run });
    const table = 't_s,chocolate_c\n0,46\n1,46.1\n2,46.2\n';
    await send('/imports/preview', {}, table);
    await send('/imports/preview', {}, 'Time;T\n0;46,0\n60;45,0\n');
    await send('/imports/preview', {}, String((await ask('get', '/runs/{run}/trace.jsonl', { run })).body));
    await send('/imports', { profile: 'dark' }, table);
    await send('/imports', {}, table);
    const begun = await ask('post', '/runs/{run}/judgements', { run }, { profile: 'milk' });
    const judged = { run, judgement: (begun.body as { readonly id: string }).id };
    // It is over before the disk has it.
    await expect
      .poll(async () => (await ask('get', '/runs/{run}/judgements', { run })).body)
      .toMatchObject({ going: null, judgements: [{ id: judged.judgement }] });
    await ask('get', '/runs/{run}/judgements/{judgement}', judged);
    await ask('post', '/runs/{run}/judgements', { run }, { profile: 'nobody' });
    await ask('delete', '/runs/{run}/judgements/{judgement}', judged);
    await ask('get', '/runs/{run}/judgements/{judgement}', judged);
    await ask('get', '/runs/{run}/card', { run });
    const change = { name: 'Ginger', kg: 2.5, tags: ['gift'], setting: null };
    await ask('post', '/runs/{run}/card', { run }, { change, by: 'Ana' });
    await ask('post', '/runs/{run}/card', { run }, { change });
    await ask('post', '/runs/{run}/card', { run }, { change: { kg: 'much' } });
    await ask('delete', '/runs/{run}', { run });
    await ask('post', '/runs/{run}/bin', { run }, { binned: true });
    await ask('get', '/runs', { bin: 'yes' });
    await ask('delete', '/runs/{run}', { run });

    const { body: backup } = await ask('post', '/backups');
    const { name } = backup as Backup;
    await ask('get', '/backups');
    await ask('get', '/backups/{backup}', { backup: name });
    await ask('get', '/backups/{backup}', { backup: 'none' });
    // What was deleted for good just now may still be leaving the file, and then it says: try again.
    await expect.poll(() => ask('post', '/backups/{backup}/restore', { backup: name })).toMatchObject({ status: 200 });
    await ask('delete', '/backups/{backup}', { backup: name });

    await ask('post', '/screens/invitations', {}, { role: 'watch' });
    const { id, code } = (await ask('post', '/screens/invitations', {}, { role: 'control' })).body as Invitation;
    await ask('post', '/screens/invitations', {}, { role: 'host' });
    const letIn = kitchen.guests.letIn(code, 'Tablet', '192.168.7.20');
    await ask('get', '/screens');
    if (!letIn.ok) throw new Error(letIn.because);
    await ask('delete', '/screens/{screen}', { screen: letIn.guest.id });
    await ask('delete', '/screens/{screen}', { screen: letIn.guest.id });
    await ask('delete', '/screens/invitations/{invitation}', { invitation: id });
    const [open] = kitchen.guests.invitations;
    await ask('delete', '/screens/invitations/{invitation}', { invitation: open!.id });
    kitchen.router.add({ id: 'test', simulated: false }, 'first');
    kitchen.router.add({ id: 'beside', simulated: false }, null);
    const room = { thermometer: 'beside', channel: '', role: 'room', bowls: [] };
    await ask('post', '/bench/places', {}, room);
    await ask('post', '/bench/places', {}, { ...room, thermometer: 'none' });
    await ask('post', '/bench/places', {}, { ...room, role: 'soup' });
    await ask('get', '/bench');
    await ask('delete', '/bench/thermometers/{thermometer}', { thermometer: 'none' });
    await ask('delete', '/bench/thermometers/{thermometer}', { thermometer: 'test' });
    await ask('delete', '/bench/thermometers/{thermometer}', { thermometer: 'beside' });

    expect(all.filter((route) => !answered.has(route))).toEqual([]);
  });
});

test('every route of the server is described, under a name of its own, with its variables and its shapes', async () => {
  const kitchen = await openKitchen();
  const { document } = await described(kitchen);
  const operations = Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => ({ path, method, operation })),
  );
  const names = operations.map(({ operation }) => operation.operationId);
  expect(new Set(names).size).toBe(names.length);
  expect(operations.map(({ path, method }) => `${method} ${path}`).toSorted()).toEqual(
    kitchen.routes.map(({ path, method }) => `${method} ${path}`).toSorted(),
  );
  for (const { path, operation } of operations) {
    const inPath = operation.parameters.filter((parameter) => parameter.in === 'path').map(({ name }) => `{${name}}`);
    expect(path.match(/\{\w+\}/g) ?? [], path).toEqual(inPath);
  }
  for (const { path, method, query = {}, body, upload } of kitchen.routes) {
    const { parameters, requestBody } = document.paths[path]![method];
    const inQuery = parameters.filter((parameter) => parameter.in === 'query').map(({ name }) => name);
    expect(inQuery, `${method} ${path}`).toEqual(Object.keys(query));
    expect(Object.keys(requestBody?.content ?? {}), `${method} ${path}`).toEqual(
      body !== undefined ? ['application/json'] : upload === undefined ? [] : [upload.type],
    );
  }
});
