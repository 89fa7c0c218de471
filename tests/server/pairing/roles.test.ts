/** What each may do over a network: a stranger, one who looks on, one who takes part, and who sits at the machine; every route, page and message. */
import type { IncomingMessage } from 'node:http';
import { describe, expect, test } from 'vitest';
import { MAX_WATCHING } from '../../../server/live.ts';
import { may, type Role } from '../../../server/pairing/role.ts';
import { roleFor } from '../../../server/routes/route.ts';
import { doorkeeper } from '../../support/doorkeeper.ts';
import { HANDSHAKE, rawRequest, statusOf } from '../../support/raw-request.ts';
import { BOWL, type Kitchen, openBowl, openKitchen } from '../../support/server.ts';
import { freshFolder } from '../../support/store.ts';
import { Page } from '../../support/socket.ts';

type Who = 'stranger' | Role;
const EVERYBODY: readonly Who[] = ['stranger', 'watch', 'control', 'host'];

/** Where there is but one machine: the host says so, which nobody over a network is believed. */
const AT_THE_MACHINE = 'x-test-here';
const isHere = ({ headers }: IncomingMessage): boolean => headers[AT_THE_MACHINE] === 'yes';

/** A kitchen that a network reaches, with a run on record, and the head of a request of each of them. */
async function openNetwork() {
  // Time stands still: nobody is let through again for having waited.
  const keeper = doorkeeper(freshFolder(), isHere, () => 0);
  const kitchen = await openKitchen({}, openBowl(), undefined, keeper, '0.0.0.0');
  const run = kitchen.bowl.begin();
  await kitchen.bowl.store.flush();
  const { host } = new URL(kitchen.http.address);
  const passes = { watch: passOf(kitchen, 'watch'), control: passOf(kitchen, 'control') };
  const headOf = (who: Who): string[] => {
    const own = [`Host: ${host}`, `Origin: http://${host}`];
    if (who === 'host') return [...own, `${AT_THE_MACHINE}: yes`];
    return who === 'stranger' ? own : [...own, `Cookie: ${cookie(kitchen, passes[who])}`];
  };
  return { kitchen, run, headOf, passes };
}

function passOf({ guests }: Kitchen, role: 'watch' | 'control'): string {
  const answer = guests.letIn(guests.invite(role).code, role, '192.168.7.20');
  if (!answer.ok) throw new Error(answer.because);
  return answer.pass;
}

function cookie({ http }: Kitchen, pass: string): string {
  return `bowlside-${http.port}=${pass}`;
}

async function ask(
  kitchen: Kitchen,
  head: readonly string[],
  request: string,
  body?: string,
  type?: string,
): Promise<string> {
  const sent =
    body === undefined
      ? []
      : [`Content-Type: ${type ?? 'application/json'}`, `Content-Length: ${Buffer.byteLength(body)}`];
  return rawRequest(kitchen.http.address, [`${request} HTTP/1.1`, ...head, ...sent, 'Connection: close'], body);
}

describe('every route', () => {
  test('answers those it is for, and tells nobody else anything', async () => {
    const { kitchen, run, headOf } = await openNetwork();
    const leaks: string[] = [];
    for (const route of kitchen.routes) {
      // What it is about is there, and what it would do is refused before anything is looked at.
      const path = `/api${route.path}`.replaceAll(
        /\{(\w+)\}/g,
        (_, name: string) => ({ bowl: BOWL, run })[name] ?? 'none',
      );
      const body = route.method === 'get' ? undefined : '{"nothing":"of the kind"}';
      for (const who of EVERYBODY) {
        const answer = await ask(kitchen, headOf(who), `${route.method.toUpperCase()} ${path}`, body);
        const role = who === 'stranger' ? null : who;
        const isOpen = may(role, roleFor(route));
        const status = statusOf(answer);
        const isRefused = status === 401 || status === 403;
        if (isRefused === isOpen || (isRefused && (status === 401) !== (role === null)))
          leaks.push(`${who}: ${route.method} ${path}: ${status}`);
        if (!isOpen && /bowl-1|dark|"events"|startedAt/i.test(answer)) leaks.push(`${who}: ${path} says ${answer}`);
      }
    }
    expect(kitchen.routes.length).toBeGreaterThan(40);
    expect(leaks).toEqual([]);
  });

  test('that changes something is at least for those who take part; who is let in is said at the machine alone', async () => {
    const { kitchen } = await openNetwork();
    const changing = kitchen.routes.filter(({ method }) => method !== 'get');
    expect(changing.filter((route) => may('watch', roleFor(route))).map(({ path }) => path)).toEqual([]);
    const about = kitchen.routes.filter(({ path }) => path.startsWith('/screens'));
    expect(about.map(roleFor)).toEqual(['host', 'host', 'host', 'host']);
  });

  test('health tells a stranger that the server is there, and no more', async () => {
    const { kitchen, headOf } = await openNetwork();
    expect(await ask(kitchen, headOf('stranger'), 'GET /api/health')).toMatch(/\r\n\r\n\{"ok":true\}$/);
    expect(await ask(kitchen, headOf('watch'), 'GET /api/health')).toContain(BOWL);
  });

  test('a stranger is shown where to give the code, and none of the page', async () => {
    const { kitchen, headOf } = await openNetwork();
    const pages = ['/', '/index.html', '/assets/page-1a2b3c.js', '/nothing', '/pairing', '/PAIR/../index.html'];
    for (const page of pages) {
      const answer = await ask(kitchen, headOf('stranger'), `GET ${page}`);
      expect(statusOf(answer), page).toBe(401);
      expect(answer, page).toContain('This screen is not let in yet.');
      expect(answer, page).toMatch(/Content-Security-Policy: [^\r]*default-src 'self'[^\r]*style-src 'sha256-/i);
      expect(answer, page).not.toMatch(/<script|export \{\}/);
    }
  });

  test('no other way of asking gives a stranger more', async () => {
    const { kitchen, headOf } = await openNetwork();
    const methods = ['OPTIONS', 'HEAD', 'TRACE', 'PATCH', 'PROPFIND', 'DELETE', 'PUT', 'POST'];
    const paths = [
      '/api',
      '/api/',
      '/api/runs',
      '/API/runs',
      '/api/runs/',
      '//api/runs',
      '/',
      '/pair/x',
      '/api/health/',
    ];
    for (const request of [
      ...methods.flatMap((method) => paths.map((path) => `${method} ${path}`)),
      ...paths.filter((path) => /api/i.test(path)).map((path) => `GET ${path}`),
    ]) {
      const answer = await ask(kitchen, headOf('stranger'), request);
      expect([400, 401, 404], request).toContain(statusOf(answer));
      expect(answer, request).not.toMatch(/"runs"|^Allow:/im);
    }
  });
});

describe('a screen comes', () => {
  test('with a code on a form, gets a cookie that no script reads and no other site sends, and is let in with it', async () => {
    const { kitchen, headOf } = await openNetwork();
    const { code } = kitchen.guests.invite('control');
    const form = `code=${code.toLowerCase().replace('-', '+')}&name=Tablet%20%3Cb%3E`;
    const answer = await ask(kitchen, headOf('stranger'), 'POST /pair', form, 'application/x-www-form-urlencoded');
    expect(statusOf(answer)).toBe(303);
    const set = /^Set-Cookie: (.*)\r$/im.exec(answer)![1]!;
    expect(set).toMatch(/; HttpOnly/);
    expect(set).toMatch(/; SameSite=Strict/);
    expect(set).toMatch(/; Path=\//);
    const head = [...headOf('stranger'), `Cookie: other=1; ${set.split(';')[0]!}`];
    expect(statusOf(await ask(kitchen, head, 'GET /api/runs'))).toBe(200);
    expect(kitchen.guests.guests[0]).toMatchObject({ name: 'Tablet <b>', role: 'control' });
  });

  test('with a wrong code and hears why, its words still there and harmless; then it is locked out for a while', async () => {
    const { kitchen, headOf } = await openNetwork();
    const form = 'code=%22%3E%3Cscript%3Ealert(1)%3C%2Fscript%3E&name=%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E';
    const type = 'application/x-www-form-urlencoded';
    const tries = [];
    for (let i = 0; i < 6; i++) tries.push(await ask(kitchen, headOf('stranger'), 'POST /pair', form, type));
    expect(tries.map(statusOf)).toEqual([403, 403, 403, 403, 403, 429]);
    expect(tries[0]).toContain('That code does not hold.');
    expect(tries[0]).toContain('&lt;img src=x');
    expect(tries.join('')).not.toMatch(/<script|<img|Set-Cookie/i);
  });

  test('with a pass that is not quite one: that is none', async () => {
    const { kitchen, headOf, passes } = await openNetwork();
    const own = cookie(kitchen, passes.control);
    for (const spoiled of [
      `${own}; ${own}`,
      own.replace(/^bowlside-\d+/, 'bowlside-1'),
      own.slice(0, -1),
      `${own}A`,
      `x${own}`,
      own.replace(/=.*/, '='),
      own.toUpperCase(),
      `${own},other=1`,
    ])
      expect(
        statusOf(await ask(kitchen, [...headOf('stranger'), `Cookie: ${spoiled}`], 'GET /api/runs')),
        spoiled,
      ).toBe(401);
    expect(statusOf(await ask(kitchen, [...headOf('stranger'), `Cookie: ${own}`], 'GET /api/runs'))).toBe(200);
  });

  test('too often at once, and is held back, while the machine itself is not', async () => {
    const { kitchen, headOf } = await openNetwork();
    const statuses = [];
    for (let i = 0; i < 250; i++) statuses.push(statusOf(await ask(kitchen, headOf('stranger'), 'GET /api/health')));
    expect(statuses.filter((status) => status === 429)).toHaveLength(10);
    expect(statusOf(await ask(kitchen, headOf('host'), 'GET /api/health'))).toBe(200);
  });
});

describe('the socket', () => {
  const upgrade = async (kitchen: Kitchen, head: readonly string[]): Promise<number> =>
    statusOf(await rawRequest(kitchen.http.address, [`GET /live?bowl=${BOWL} HTTP/1.1`, ...head, ...HANDSHAKE]));

  test('is for those who are let in', async () => {
    const { kitchen, headOf } = await openNetwork();
    const answers = await Promise.all(EVERYBODY.map((who) => upgrade(kitchen, headOf(who))));
    expect(answers).toEqual([401, 101, 101, 101]);
  });

  test('tells who looks on that it does, and lets nobody be deaf for it: what sounds there is not heard at the bowl', async () => {
    const { kitchen, passes } = await openNetwork();
    for (const role of ['watch', 'control'] as const) {
      const page = new Page(kitchen.http.address, undefined, { cookie: cookie(kitchen, passes[role]) });
      await page.dial();
      const { watchesOnly } = await page.first('welcome');
      expect(watchesOnly).toBe(role === 'watch' ? true : undefined);
      page.socket.send(JSON.stringify({ kind: 'alive', audible: true }));
      await page.first('heartbeat');
      expect(kitchen.live.audible(BOWL)).toBe(role === 'watch' ? 0 : 1);
      page.leave();
    }
  });

  test('has room left for who takes part, however many look on', async () => {
    const { kitchen, passes } = await openNetwork();
    const pageOf = (role: 'watch' | 'control') =>
      new Page(kitchen.http.address, undefined, { cookie: cookie(kitchen, passes[role]) });
    const watching = Array.from({ length: MAX_WATCHING }, () => pageOf('watch'));
    await Promise.all(watching.map((page) => page.dial()));
    await expect.poll(() => kitchen.live.screens).toBe(MAX_WATCHING);
    const late = pageOf('watch');
    await late.dial();
    expect(await late.first('refused')).toEqual({ kind: 'refused', reason: 'too-many-screens' });
    const taking = pageOf('control');
    await taking.dial();
    expect(await taking.first('welcome')).not.toHaveProperty('watchesOnly');
  });

  test('is shut the moment its guest is shut out, and no other', async () => {
    const { kitchen, passes } = await openNetwork();
    const [watching, taking] = (['watch', 'control'] as const).map(
      (role) => new Page(kitchen.http.address, undefined, { cookie: cookie(kitchen, passes[role]) }),
    ) as [Page, Page];
    for (const page of [watching, taking]) {
      await page.dial();
      await page.first('now');
    }
    kitchen.guests.revoke(kitchen.guests.guestOf(passes.watch)!.id);
    expect(await watching.first('refused')).toEqual({ kind: 'refused', reason: 'shut-out' });
    await expect.poll(() => kitchen.live.screens).toBe(1);
    await expect(watching.dial()).rejects.toThrow();
    expect(taking.heard.some(({ kind }) => kind === 'refused')).toBe(false);
  });
});
