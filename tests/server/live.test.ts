import { once } from 'node:events';
import { connect } from 'node:net';
import { describe, expect, onTestFinished, test } from 'vitest';
import type { ServerMessage } from '../../server/core/show/wire.ts';
import { MAX_SCREENS } from '../../server/live.ts';
import { HANDSHAKE, statusOf } from '../support/raw-request.ts';
import { type Bowl, BOWL, type Kitchen, openKitchen } from '../support/server.ts';
import { Page } from '../support/socket.ts';

/** Fast enough that no test waits, slow enough that a loaded machine keeps up. */
const QUICK = { nowMs: 10, heartbeatMs: 20 };

function kindsOf(messages: readonly ServerMessage[]): ServerMessage['kind'][] {
  return messages.map(({ kind }) => kind).filter((kind) => kind !== 'now' && kind !== 'heartbeat');
}

async function allTold(bowl: Bowl, page: Page): Promise<void> {
  await bowl.store.flush();
  const { run } = bowl.session.status().info!;
  const { events } = bowl.store.openRun(run)!;
  await page.until(() => page.recordedTo === events.length && page.events.length === events.length);
}

describe('a page that comes', () => {
  test('[W1] is welcomed, gets the picture so far, then the newest value and signs of life', async () => {
    const { bowl, http, epoch } = await openKitchen(QUICK);
    const run = bowl.begin();
    const page = new Page(http.address);
    await page.dial();
    await page.first('heartbeat');
    expect(page.heard[0]).toMatchObject({ kind: 'welcome', protocol: 1, epoch, bowl: BOWL, simulated: false });
    expect(page.heard[1]).toEqual({ kind: 'bowls', bowls: [{ bowl: BOWL, name: null }] });
    expect(page.heard[2]).toMatchObject({ kind: 'snapshot', info: { run } });
    expect(page.heard[3]).toMatchObject({ kind: 'now', run, screens: 1 });
  });

  test('while no run is going gets an empty picture, and the run when it begins', async () => {
    const { bowl, http } = await openKitchen(QUICK);
    const page = new Page(http.address);
    await page.dial();
    expect(await page.first('snapshot')).toMatchObject({ info: null, events: [], tiles: [] });
    const run = bowl.begin();
    await page.until(() => page.info?.run === run);
    await allTold(bowl, page);
    expect(page.faults).toEqual([]);
    expect(page.events.map(({ kind }) => kind)).toContain('run-started');
  });

  test('hears of a note once it is written, and how many pages look on', async () => {
    const { bowl, http } = await openKitchen(QUICK);
    const run = bowl.begin();
    const [first, second] = [new Page(http.address), new Page(http.address)];
    await first.dial();
    await second.dial();
    const note = { id: 'n1', atMs: 5000, text: 'Jo added 200 g', by: 'Jo', writtenAtWall: '2026-11-25T09:00:05.000Z' };
    bowl.session.annotate(run, note);
    await second.first('note');
    await first.until(() => first.heard.some((message) => message.kind === 'now' && message.screens === 2));
    expect([...first.notes.values(), ...second.notes.values()]).toEqual([note, note]);
  });

  test('has a value as soon as it is read, and of a thermometer that says ever so much no more than the timer brings', async () => {
    const { bowl, http, live } = await openKitchen({ nowMs: 60_000, apartMs: 60_000, heartbeatMs: 60_000 });
    const page = new Page(http.address);
    await page.dial();
    await page.first('now');
    const read = (): (number | undefined)[] =>
      page.heard.flatMap((message) => (message.kind === 'now' ? [message.reading?.valueC] : []));
    for (const valueC of [31.4, 31.5, 31.6]) {
      bowl.reads(valueC);
      live.showNow(bowl.session);
    }
    page.socket.send('{"kind":"alive"}');
    await page.first('heartbeat');
    expect(read()).toEqual([undefined, 31.4]);
  });

  test('gets an answer to its sign of life', async () => {
    const { http } = await openKitchen({ nowMs: 60_000, heartbeatMs: 60_000 });
    const page = new Page(http.address);
    await page.dial();
    page.socket.send('{"kind":"alive"}');
    expect(await page.first('heartbeat')).toMatchObject({ kind: 'heartbeat' });
  });
});

describe('[W2] a page that comes back has one of three answers', () => {
  async function visited(): Promise<Kitchen & { page: Page }> {
    const kitchen = await openKitchen(QUICK);
    kitchen.bowl.begin();
    const page = new Page(kitchen.http.address);
    await page.dial();
    await allTold(kitchen.bowl, page);
    page.leave();
    page.heard.length = 0;
    return { ...kitchen, page };
  }

  test('nothing was missed', async () => {
    const { page } = await visited();
    await page.dial();
    await page.first('now');
    expect(kindsOf(page.heard)).toEqual(['welcome', 'bowls', 'nothing-missed']);
  });

  test('the tail', async () => {
    const { bowl, page } = await visited();
    bowl.ramp(30, 46, 40);
    bowl.says({ name: 'act', act: 'stirred' });
    await bowl.store.flush();
    await page.dial();
    const tail = await page.first('tail');
    expect(tail.readings).toHaveLength(40);
    expect(kindsOf(page.heard)).toEqual(['welcome', 'bowls', 'tail']);
    await allTold(bowl, page);
    expect(page.faults).toEqual([]);
  });

  test('all of it, where it knows another run, another start of the server, or more than there is', async () => {
    const { bowl, http, page, epoch } = await visited();
    const { run } = bowl.session.status().info!;
    for (const query of [
      { epoch: 'another', run, seq: '1', n: '1' },
      { epoch, run: 'another', seq: '1', n: '1' },
      { epoch, run, seq: '9999', n: '1' },
      { epoch, run, seq: '1', n: '9999' },
      { epoch, run, seq: '-1', n: '1' },
      { epoch, run, seq: '1e3', n: 'x' },
    ]) {
      const stranger = new Page(http.address);
      await stranger.dial(query);
      await stranger.first('now');
      expect(kindsOf(stranger.heard)).toEqual(['welcome', 'bowls', 'snapshot']);
      stranger.leave();
    }
    expect(page.faults).toEqual([]);
  });

  test('notes written meanwhile come along with each', async () => {
    const { bowl, page } = await visited();
    const { run } = bowl.session.status().info!;
    bowl.session.annotate(run, {
      id: 'n1',
      atMs: 1,
      text: 'strip test',
      by: null,
      writtenAtWall: '2026-11-25T09:00:00.000Z',
    });
    await page.dial();
    await page.first('note');
    expect(kindsOf(page.heard)).toEqual(['welcome', 'bowls', 'nothing-missed', 'note']);
  });

  test('a page that was away at the end of the run still hears the end', async () => {
    const { bowl, page } = await visited();
    bowl.says({ name: 'end' });
    await bowl.store.flush();
    await page.dial();
    expect((await page.first('tail')).events.at(-1)).toMatchObject({ kind: 'run-ended' });
  });
});

describe('bounds', () => {
  test('[W4] a page that takes nothing is dropped and holds nobody up', async () => {
    const { bowl, http, live } = await openKitchen(QUICK);
    const run = bowl.begin();
    const [stalled, healthy] = [new Page(http.address), new Page(http.address)];
    await stalled.dial();
    await healthy.dial();
    stalled.socket.pause();
    const text = 'x'.repeat(2000);
    for (let i = 0; i < 20_000 && live.screens === 2; i++) {
      bowl.session.annotate(run, { id: `n${i}`, atMs: i, text, by: null, writtenAtWall: '2026-11-25T09:00:00.000Z' });
      if (i % 50 === 0) await new Promise(setImmediate);
    }
    expect(live.screens).toBe(1);
    bowl.says({ name: 'act', act: 'stirred' });
    await healthy.until(() => healthy.events.some(({ kind }) => kind === 'act'));
    expect(healthy.faults).toEqual([]);
  });

  test('[W4] a page without a sign of life is dropped', async () => {
    const { http, live } = await openKitchen({ pingMs: 20, goneMs: 60 });
    const page = new Page(http.address);
    await page.dial();
    await page.first('now');
    // A page that is there answers pings by itself; this one no longer reads them.
    page.socket.pause();
    await expect.poll(() => live.screens).toBe(0);
  });

  test(`the ${MAX_SCREENS + 1}th page is refused and told why`, async () => {
    const { http, live } = await openKitchen({ nowMs: 60_000 });
    const pages = Array.from({ length: MAX_SCREENS }, () => new Page(http.address));
    await Promise.all(pages.map((page) => page.dial()));
    await pages.at(-1)!.first('now');
    const late = new Page(http.address);
    await late.dial();
    expect(await late.first('refused')).toEqual({ kind: 'refused', reason: 'too-many-screens' });
    expect(live.screens).toBe(MAX_SCREENS);
  });

  test('another bowl is refused', async () => {
    const { http } = await openKitchen();
    const page = new Page(http.address);
    await page.dial({ bowl: 'bowl-2' });
    expect(await page.first('refused')).toEqual({ kind: 'refused', reason: 'no-such-bowl' });
  });

  test.each([
    ['something else than a sign of life', '{"kind":"end"}'],
    ['no JSON', 'hello'],
    ['bytes', Buffer.from([1, 2, 3])],
  ])('a page that says %s is refused', async (_, said) => {
    const { http } = await openKitchen();
    const page = new Page(http.address);
    await page.dial();
    page.socket.send(said);
    expect(await page.first('refused')).toEqual({ kind: 'refused', reason: 'protocol' });
  });

  test('[W6] a page that says more than 16 KB at once is cut off', async () => {
    const { http } = await openKitchen();
    const page = new Page(http.address);
    await page.dial();
    const code = new Promise((resolve) => page.socket.once('close', resolve));
    page.socket.send('x'.repeat(16 * 1024 + 1));
    expect(await code).toBe(1009);
  });

  test('who is turned away and keeps its half of the line open holds up no stop', async () => {
    const { http, live } = await openKitchen();
    const { hostname, port, host } = new URL(http.address);
    const half = connect({ host: hostname, port: Number(port), allowHalfOpen: true });
    onTestFinished(() => void half.destroy());
    half.on('error', () => {});
    half.write(['GET /live HTTP/1.1', `Host: ${host}`, ...HANDSHAKE, '', ''].join('\r\n'));
    const [answer] = (await once(half, 'data')) as [Buffer];
    expect(statusOf(answer.toString())).toBe(403);
    await live.close();
    await http.close();
  });

  test('when the server stops every page is told, and nothing is left open', async () => {
    const { http, live } = await openKitchen();
    const page = new Page(http.address);
    await page.dial();
    await page.first('now');
    await live.close();
    expect(await page.first('refused')).toEqual({ kind: 'refused', reason: 'shutting-down' });
    expect(live.screens).toBe(0);
  });
});
