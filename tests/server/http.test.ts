/** What the server answers over HTTP: the page, commands, the probe, what is on record. */
import { request } from 'node:http';
import { describe, expect, onTestFinished, test, vi } from 'vitest';
import { initialState, step } from '../../server/core/engine.ts';
import { isRunInfo, isTile, isWireReading } from '../../server/core/show/decode.ts';
import { decodeRunFile } from '../../server/core/record/trace.ts';
import { openHttp } from '../../server/http.ts';
import { NO_CHOICE } from '../../server/session/idle.ts';
import { get, post, withRun } from '../support/asked.ts';
import { BOWL, type Kitchen, openKitchen } from '../support/server.ts';
import { doorkeeper } from '../support/doorkeeper.ts';
import { shipped } from '../support/shipped.ts';

const COMMANDS = `/api/bowls/${BOWL}/commands`;

/** With headers that fetch would not let through. */
function asked({ http }: Kitchen, method: string, path: string, headers: Record<string, string>): Promise<number> {
  const { hostname, port } = new URL(http.address);
  return new Promise((resolve, reject) => {
    const sent = request({ hostname, port, method, path, headers }, (response) => {
      response.resume();
      resolve(response.statusCode ?? 0);
    });
    sent.on('error', reject);
    sent.end(method === 'POST' ? '{"name":"next"}' : undefined);
  });
}

describe('the page', () => {
  test('is served with headers that let nothing else run in it', async () => {
    const { http } = await openKitchen();
    const response = await fetch(http.address);
    expect(response.status).toBe(200);
    expect(await response.text()).toContain('Bowlside');
    const policy = response.headers.get('content-security-policy') ?? '';
    expect(policy).toContain("default-src 'self'");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).not.toContain('unsafe');
    expect(response.headers.get('x-content-type-options')).toBe('nosniff');
    expect(response.headers.get('x-powered-by')).toBeNull();
    expect(response.headers.get('access-control-allow-origin')).toBeNull();
  });

  test('is asked for anew each time, its built files are kept', async () => {
    const { http } = await openKitchen();
    const page = await fetch(http.address);
    const script = await fetch(`${http.address}/assets/page-1a2b3c.js`);
    expect(page.headers.get('cache-control')).toBe('no-cache');
    expect(script.headers.get('cache-control')).toContain('immutable');
    expect(script.headers.get('content-type')).toContain('javascript');
  });

  test.each(['/../package.json', '/%2e%2e/package.json', '/assets/..%2f..%2fpackage.json', '/nothing'])(
    'nothing outside its folder is served: %s',
    async (path) => {
      const kitchen = await openKitchen();
      expect(await asked(kitchen, 'GET', path, { host: new URL(kitchen.http.address).host })).toBeGreaterThanOrEqual(
        400,
      );
    },
  );
});

describe('commands', () => {
  test('choosing by id, then a run that begins, a step by hand and the end', async () => {
    const kitchen = await openKitchen();
    const { bowl } = kitchen;
    const chosen = await post(kitchen, COMMANDS, { name: 'choose-profile', profile: 'milk', condition: 'solid' });
    expect(chosen).toMatchObject({
      status: 200,
      body: { state: 'waiting', chosen: { profile: 'milk', condition: 'solid' } },
    });
    bowl.ramp(24, 30, 10);
    expect(await get(kitchen, `/api/bowls/${BOWL}`)).toMatchObject({
      status: 200,
      body: { state: 'going', info: { profile: shipped('milk') } },
    });
    expect((await post(kitchen, COMMANDS, { name: 'next' })).status).toBe(200);
    expect(bowl.session.now(0).estimate?.phase).toBe(shipped('milk').phases[1]!.id);
    expect(await post(kitchen, COMMANDS, { name: 'end' })).toMatchObject({ status: 200, body: { state: 'waiting' } });
  });

  test.each([
    ['no command at all', [], 'command'],
    ['an unknown one', { name: 'explode' }, 'command.name'],
    ['a field too many', { name: 'next', soon: true }, 'command.soon'],
    ['an unknown profile', { name: 'choose-profile', profile: 'ruby', condition: 'solid' }, 'command.profile'],
    [
      'a profile whose band is upside down',
      {
        name: 'choose-profile',
        profile: { ...shipped('dark'), phases: [{ id: 'a', heading: 'up', bandC: [5, 4] }] },
        condition: 'solid',
      },
      'command.profile.phases.a.bandC',
    ],
  ])('%s is a bad request that names the place', async (_, body, path) => {
    const kitchen = await openKitchen();
    const answer = await post(kitchen, COMMANDS, body);
    expect(answer).toMatchObject({
      status: 400,
      body: { title: expect.any(String), detail: expect.any(String), path },
    });
    expect(answer.type).toContain('application/problem+json');
  });

  test('one that does not fit the moment is a conflict, with the reason', async () => {
    const kitchen = await openKitchen();
    expect(await post(kitchen, COMMANDS, { name: 'end' })).toMatchObject({
      status: 409,
      body: { detail: 'No run is going.' },
    });
    expect((await post(kitchen, COMMANDS, { name: 'start', phase: 'melt' })).status).toBe(409);
  });

  test('broken JSON, too much of it, or something else than JSON', async () => {
    const kitchen = await openKitchen();
    expect((await post(kitchen, COMMANDS, '{"name":')).status).toBe(400);
    expect((await post(kitchen, COMMANDS, { name: 'x'.repeat(70_000) })).status).toBe(413);
    expect(
      (await post(kitchen, COMMANDS, 'name=end', { 'content-type': 'application/x-www-form-urlencoded' })).status,
    ).toBe(415);
    expect((await post(kitchen, COMMANDS, '{"name":"end"}', { 'content-type': 'text/plain' })).status).toBe(415);
  });

  test.each([
    ['GET', '/api/runs/%E0%A4', {}, 400, 'address'],
    ['POST', COMMANDS, { 'content-encoding': 'made-up' }, 415, 'packed'],
    ['POST', COMMANDS, { 'content-type': 'application/json; charset=made-up' }, 415, 'character set'],
    [
      'POST',
      '/api/imports',
      { 'content-type': 'application/octet-stream', 'content-encoding': 'made-up' },
      415,
      'packed',
    ],
  ])('%s %s with %j is refused for what is wrong with it', async (method, path, headers, status, word) => {
    const { http } = await openKitchen();
    const response = await fetch(new URL(path, http.address), {
      method,
      headers: { origin: http.address, 'content-type': 'application/json', ...headers },
      ...(method === 'GET' ? {} : { body: '{}' }),
    });
    expect(response.status).toBe(status);
    expect(((await response.json()) as { detail: string }).detail).toContain(word);
  });

  test('another bowl, another address', async () => {
    const kitchen = await openKitchen();
    expect((await post(kitchen, '/api/bowls/bowl-2/commands', { name: 'end' })).status).toBe(404);
    expect((await get(kitchen, '/api/bowls/bowl-2')).status).toBe(404);
    expect((await get(kitchen, '/api/nothing')).status).toBe(404);
  });
});

describe('the probe', () => {
  const PROBE = `/api/bowls/${BOWL}/probe`;

  test('has its lag said, and forgotten again', async () => {
    const kitchen = await openKitchen();
    const said = { lagS: 4.5, from: 'said', measuredAtWall: null };
    expect(await post(kitchen, PROBE, { lagS: 4.5 })).toMatchObject({ status: 200, body: { probeLag: said } });
    expect((await get(kitchen, `/api/bowls/${BOWL}`)).body).toMatchObject({ probeLag: said });
    expect(await post(kitchen, PROBE, { lagS: null })).toMatchObject({ status: 200, body: { probeLag: null } });
  });

  test.each([
    [{ lagS: 301 }, 'probe.lagS', 'probe.lagS is 301: a number from 0 to 300 is wanted, or null.'],
    [{ lagS: -0.1 }, 'probe.lagS', 'probe.lagS is -0.1: a number from 0 to 300 is wanted, or null.'],
    [{ lagS: '4' }, 'probe.lagS', 'probe.lagS is "4": a number from 0 to 300 is wanted, or null.'],
    [{}, 'probe.lagS', 'probe.lagS is missing: a number from 0 to 300 is wanted, or null.'],
    [{ lagS: 4, unit: 's' }, 'probe.unit', 'probe.unit is "s": there is no such key.'],
    [[], 'probe', 'probe is a list: an object is wanted.'],
  ])('%j is none', async (body, path, detail) => {
    const kitchen = await openKitchen();
    expect(await post(kitchen, PROBE, body)).toMatchObject({ status: 400, body: { path, detail } });
    expect(kitchen.bowl.session.status().probeLag).toBeNull();
  });

  test('cannot be told of while none is read', async () => {
    const kitchen = await openKitchen();
    kitchen.bowl.session.use({ id: 'simulated', simulated: true }, NO_CHOICE);
    expect(await post(kitchen, PROBE, { lagS: 4 })).toMatchObject({
      status: 409,
      body: { detail: 'No thermometer is read.' },
    });
  });
});

describe('what is on record', () => {
  test('the runs, and one of them as the page opens it', async () => {
    const kitchen = await withRun();
    const { run, bowl } = kitchen;
    expect((await get(kitchen, '/api/runs')).body).toMatchObject({
      total: 1,
      runs: [{ run, profile: 'dark', simulated: false, endedAtMs: null }],
    });
    const { body } = await get(kitchen, `/api/runs/${run}`);
    const stored = bowl.store.openRun(run)!;
    expect(isRunInfo(body['info'])).toBe(true);
    expect(body['events']).toEqual(stored.events);
    expect(body).not.toHaveProperty('readings');
    expect((body['tiles'] as unknown[]).length).toBeGreaterThan(0);
    expect((body['tiles'] as unknown[]).every(isTile)).toBe(true);
    expect(body['header']).toEqual(stored.header);
    expect((await get(kitchen, '/api/runs/none')).status).toBe(404);
  });

  test('its curve: of a short stretch every reading, of a longer one columns', async () => {
    const kitchen = await withRun();
    const { run, bowl } = kitchen;
    const readings = bowl.store.readingsOf(run);
    const [first, last] = [readings[0]!.atMs, readings.at(-1)!.atMs];
    const whole = await get(kitchen, `/api/runs/${run}/curve?columns=5`);
    expect(whole.body['readings']).toBeNull();
    expect(whole.body['tiles']).toEqual(bowl.store.tilesOf(run, 5));
    const short = await get(kitchen, `/api/runs/${run}/curve?fromMs=${first}&toMs=${first + 5_000}`);
    const every = short.body['readings'] as unknown[];
    expect(every.every(isWireReading)).toBe(true);
    expect(every).toHaveLength(readings.filter(({ atMs }) => atMs <= first + 5_000).length);
    expect(last).toBeGreaterThan(first + 5_000);
    const early = await get(kitchen, `/api/runs/${run}/curve?fromMs=-60000&toMs=${first + 5_000}`);
    expect(early.body).toEqual(short.body);
    expect((await get(kitchen, `/api/runs/${run}/curve?columns=0`)).status).toBe(400);
    expect((await get(kitchen, '/api/runs/none/curve')).status).toBe(404);
  });

  test('its trace as a file that replays to the same log', async () => {
    const kitchen = await withRun();
    const response = await fetch(`${kitchen.http.address}/api/runs/${kitchen.run}/trace.jsonl`);
    expect(response.headers.get('content-disposition')).toContain('2026-11-25-dark.jsonl');
    const decoded = decodeRunFile(await response.text());
    if (!decoded.ok) throw new Error(decoded.reason);
    const { header, inputs, events } = decoded.value;
    let state = initialState(header);
    const again = inputs.flatMap((input) => {
      const output = step(state, input);
      state = output.state;
      return output.events;
    });
    expect(again).toEqual(events);
    expect(events.length).toBeGreaterThan(0);
  });

  test('a note is kept with the run and told', async () => {
    const kitchen = await withRun();
    const { run, bowl } = kitchen;
    const answer = await post(kitchen, `/api/runs/${run}/notes`, { atMs: 4000, text: ' added 200 g ', by: 'Ana' });
    expect(answer).toMatchObject({ status: 201, body: { atMs: 4000, text: 'added 200 g', by: 'Ana' } });
    await bowl.store.flush();
    expect((await get(kitchen, `/api/runs/${run}`)).body['notes']).toEqual([answer.body]);
    expect(bowl.told.at(-1)).toEqual({ kind: 'note', bowl: BOWL, run, note: answer.body });
  });

  test('a note is changed and struck out by further ones; what it said before is kept', async () => {
    const kitchen = await withRun();
    const { run, bowl } = kitchen;
    const path = `/api/runs/${run}/notes`;
    const first = await post(kitchen, path, { atMs: 4000, text: 'added 200 g' });
    const replaces = `note-${String(first.body['id'])}`;
    const second = await post(kitchen, path, { atMs: 4000, text: 'added 300 g', replaces });
    const third = await post(kitchen, path, { atMs: 4000, text: '', replaces: `note-${String(second.body['id'])}` });
    expect([second, third]).toMatchObject([
      { status: 201, body: { text: 'added 300 g', replaces } },
      { status: 201, body: { text: '', replaces: `note-${String(second.body['id'])}` } },
    ]);
    await bowl.store.flush();
    expect((await get(kitchen, `/api/runs/${run}`)).body['notes']).toEqual([first.body, second.body, third.body]);
  });

  test.each([
    [{ atMs: 1, text: 'a', replaces: 'n1' }, 'replaces'],
    [{ atMs: 1, text: 'a', replaces: null }, 'replaces'],
    [{ atMs: 1 }, 'text'],
    [{ atMs: 1, text: '  ' }, 'text'],
    [{ atMs: 1, text: 'x'.repeat(2001) }, 'text'],
    [{ atMs: 1.5, text: 'a' }, 'atMs'],
    [{ text: 'a' }, 'atMs'],
    [{ atMs: 1, text: 'a', by: 7 }, 'by'],
    [[], ''],
    [{ atMs: 9, untilMs: 8, text: 'a' }, 'untilMs'],
    [{ atMs: 8 * 24 * 3_600_000, text: 'a' }, 'atMs'],
    [{ atMs: 9, text: 'a', tags: ['b', ' '] }, 'tags[1]'],
  ])('%j is no note', async (body, path) => {
    const kitchen = await withRun();
    expect(await post(kitchen, `/api/runs/${kitchen.run}/notes`, body)).toMatchObject({ status: 400, body: { path } });
  });

  test('a note on a run that is not there', async () => {
    const kitchen = await openKitchen();
    expect((await post(kitchen, '/api/runs/none/notes', { atMs: 1, text: 'a' })).status).toBe(404);
  });

  test('the profiles at hand, and how the server is', async () => {
    const kitchen = await openKitchen();
    expect((await get(kitchen, '/api/profiles')).body).toEqual([shipped('dark'), shipped('milk')]);
    expect((await get(kitchen, '/api/health')).body).toMatchObject({
      ok: true,
      bowls: [{ bowl: BOWL, state: 'waiting' }],
    });
  });
});

test('a file that is cut off by its reader stops being made, and nothing is printed of it', async () => {
  vi.stubEnv('NODE_ENV', 'production');
  const printed = vi.spyOn(console, 'error').mockImplementation(() => {});
  onTestFinished(() => {
    vi.unstubAllEnvs();
    printed.mockRestore();
  });
  let isOver = false;
  function* endless(): Generator<string> {
    try {
      for (;;) yield 'x'.repeat(65_536);
    } finally {
      isOver = true;
    }
  }
  const answer = () => ({ kind: 'file', type: 'text/plain', name: null, content: endless() }) as const;
  const route = { method: 'get', path: '/endless', does: '', gives: { file: 'text/plain' }, answer } as const;
  const opened = await openHttp({
    listen: { host: '127.0.0.1', port: 0 },
    webFolder: '/nowhere',
    routes: async () => [route],
    ...doorkeeper(),
  });
  if (!opened.ok) throw new Error(opened.message);
  onTestFinished(() => opened.http.close());
  const going = new AbortController();
  const response = await fetch(`${opened.http.address}/api/endless`, { signal: going.signal });
  await response.body!.getReader().read();
  going.abort();
  await expect.poll(() => isOver).toBe(true);
  // Whatever would be printed is printed once what was under way is settled.
  await new Promise((resolve) => setTimeout(resolve, 100));
  expect(printed).not.toHaveBeenCalled();
});

test('an address that is taken is told in one sentence that says what to do', async () => {
  const kitchen = await openKitchen();
  const port = Number(new URL(kitchen.http.address).port);
  const second = await openHttp({
    listen: { host: '127.0.0.1', port },
    webFolder: '/nowhere',
    routes: async () => [],
    ...doorkeeper(),
  });
  expect(second).toMatchObject({ ok: false, message: expect.stringContaining('--listen') });
});
