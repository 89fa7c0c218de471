/** Pages whose connection is cut at any byte, and pages that take nothing: what each has in the end, and what it costs the others. */
import { setTimeout as wait } from 'node:timers/promises';
import { isDeepStrictEqual } from 'node:util';
import { chance } from '../../server/source/kitchen/chance.ts';
import { percentile } from '../bench/figures.ts';
import { memoryHeld } from '../support/memory.ts';
import { type Bowl, openKitchen } from '../support/server.ts';
import { CuttingProxy, Page } from '../support/socket.ts';
import { within, type Bounds, type Row } from './rows.ts';

/** After so many rounds page and server are held against each other, and a fresh bowl is begun. */
const ROUNDS_A_BOWL = 250;
/** At most so many bytes get through before a cut: a welcome and a snapshot are shorter. */
const MOST_BYTES = 3_000;

/** `count` rounds: cut, come back, and meanwhile readings and acts. */
export async function socketCuts(bounds: Bounds): Promise<Row[]> {
  const luck = chance(bounds.seed);
  const faults: string[] = [];
  let [rounds, cuts] = [0, 0];
  const turn = within(bounds);
  while (turn.next().done !== true) {
    const { bowl, http } = await openKitchen({ nowMs: 50, heartbeatMs: 50 });
    bowl.begin();
    const proxy = new CuttingProxy(http.address);
    const page = new Page(await proxy.open(), http.address);
    await page.dial();
    await page.first('snapshot');
    const missing = page.readingCount;
    for (let i = 0; i < ROUNDS_A_BOWL; i++) {
      proxy.cutAfterBytes = 1 + Math.floor(luck.between(0, MOST_BYTES));
      page.leave();
      await page.dial().catch(() => {});
      for (let k = 0; k < 5; k++) {
        bowl.reads(luck.between(30, 50));
        bowl.says({ name: 'act', act: 'stirred' });
      }
      await bowl.store.flush();
      await new Promise(setImmediate);
      rounds++;
      if (turn.next().done === true) break;
    }
    proxy.cutAfterBytes = Infinity;
    page.leave();
    await page.dial();
    faults.push(...(await differences(bowl, page, missing)));
    cuts += proxy.cuts;
    page.leave();
    await proxy.close();
  }
  for (const fault of faults.slice(0, 20)) console.log(fault);
  return [
    { name: 'times come back', unit: '', value: rounds },
    { name: 'cut in the middle of what came', unit: '', value: cuts, least: rounds / 3 },
    {
      name: 'faults: a hole, something twice, or another state than the server’s',
      unit: '',
      value: faults.length,
      most: 0,
    },
  ];
}

async function differences(bowl: Bowl, page: Page, missing: number): Promise<string[]> {
  const { run } = bowl.session.status().info!;
  const { events } = bowl.store.openRun(run)!;
  await page.until(() => page.recordedTo === events.length && page.events.length === events.length);
  const stored = bowl.store.readingsOf(run);
  const faults = [...page.faults];
  if (!isDeepStrictEqual(page.events, events)) faults.push('other events');
  if (page.readingCount !== stored.length) faults.push(`${page.readingCount} readings of ${stored.length}`);
  const [shown, kept] = [page.readings.map(([atMs]) => atMs), stored.slice(missing).map(({ atMs }) => atMs)];
  // A page that was given columns in between knows the later ones one by one.
  if (!isDeepStrictEqual(shown, kept.slice(kept.length - shown.length))) faults.push('other readings');
  return faults;
}

const STALLED = 50;
/** What is held for a page before it is dropped (`live.ts`), and what goes with it, MB. */
const HELD_MB = 1.2;
const SOON_MS = 250;
const NOTE = 'x'.repeat(2_000);

/** `count` seconds of fifty pages that take nothing beside one that does. */
export async function stalledPages(bounds: Bounds): Promise<Row[]> {
  const { bowl, http, live } = await openKitchen();
  const run = bowl.begin();
  const pages = Array.from({ length: STALLED }, () => new Page(http.address));
  const healthy = new Page(http.address);
  await Promise.all([healthy, ...pages].map((page) => page.dial()));
  await Promise.all(pages.map((page) => page.first('now')));
  for (const page of pages) page.socket.pause();
  const before = memoryHeld();
  const [lateMs, heldBytes]: [number[], number[]] = [[], []];
  let n = 0;
  for (const _ of within(bounds)) {
    for (let i = 0; i < 10; i++) {
      bowl.reads(30 + (n % 7) / 10);
      bowl.session.annotate(run, {
        id: `n${n++}`,
        atMs: n,
        text: NOTE,
        by: null,
        writtenAtWall: '2026-11-25T09:00:00.000Z',
      });
      const [startMs, events] = [performance.now(), healthy.events.length];
      bowl.says({ name: 'act', act: 'stirred' });
      await healthy.until(() => healthy.events.length > events);
      lateMs.push(performance.now() - startMs);
      await wait(Math.max(0, 100 - (performance.now() - startMs)));
    }
    healthy.heard.length = 0;
    heldBytes.push(memoryHeld() - before);
  }
  return [
    { name: 'seconds with fifty stalled pages', unit: '', value: bounds.count },
    { name: 'of them still connected', unit: '', value: live.screens - 1 },
    { name: 'held for all of them, most', unit: 'MB', value: Math.max(...heldBytes) / 1e6, most: STALLED * HELD_MB },
    { name: 'faults of the healthy page', unit: '', value: healthy.faults.length, most: 0 },
    { name: 'an act at the healthy page, median', unit: 'ms', value: percentile(lateMs, 0.5), timing: true },
    { name: 'the same, 99th percentile', unit: 'ms', value: percentile(lateMs, 0.99), most: SOON_MS, timing: true },
  ];
}
