/** A disk that is full, may not be written to, or stalls: number, phases and alarms go on, said to be unrecorded, and all is written afterwards. */
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { setTimeout as wait } from 'node:timers/promises';
import { writeFileSync } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import { onTestFinished } from 'vitest';
import type { ServerMessage } from '../../server/core/show/wire.ts';
import { chance } from '../../server/source/kitchen/chance.ts';
import { dataFileIn, openStore, type Store } from '../../server/store/store.ts';
import { Bowl } from '../support/server.ts';
import { freshFolder } from '../support/store.ts';
import { within, type Bounds, type Row } from './rows.ts';

const FAULTY_WRITER = new URL('../support/faulty-writer.mjs', import.meta.url);
/** Of a bowl that is read ten times a second. */
const READ_EVERY_MS = 100;
const STALL_MS = 500;
const DELAY_MS = 20;
/** Long enough for every disk that is sound again, ms. */
const PATIENCE_MS = 20_000;

interface Faulty {
  readonly store: Store;
  readonly bowl: Bowl;
  /** `full`, `read-only`, `stalled 500`; empty: sound. */
  readonly become: (fault: string) => void;
}

function onFaultyDisk(): Faulty {
  const folder = freshFolder();
  const opened = openStore(folder, { writerScript: FAULTY_WRITER });
  if (!opened.ok) throw new Error(opened.message);
  onTestFinished(() => opened.store.close());
  return {
    store: opened.store,
    bowl: new Bowl(opened.store),
    become: (fault) => writeFileSync(`${dataFileIn(folder)}.fault`, fault),
  };
}

/** So often the disk fails at a random point of a run, and is sound again. */
export async function disks(bounds: Bounds): Promise<Row[]> {
  const luck = chance(bounds.seed);
  const { store, bowl, become } = onFaultyDisk();
  const run = bowl.begin();
  const faults: string[] = [];
  let failures = 0;
  for (const i of within(bounds)) {
    bowl.ramp(31, 33, Math.floor(luck.between(5, 40)));
    await wait(luck.between(0, 150));
    const what = luck.pick(['full', 'read-only']);
    become(what);
    faults.push(...(await refused(bowl, store)).map((fault) => `${what} ${i}: ${fault}`));
    become('');
    await written(store);
    if (bowl.session.now(0).unrecordedSinceMs !== null) faults.push(`${i}: unrecorded though the disk is sound`);
    failures++;
  }
  const told = toldOf(bowl.told);
  if (!isDeepStrictEqual(store.openRun(run)?.events, told.events)) faults.push('the record is not what was told');
  if (store.readingsOf(run).length !== told.readings) faults.push('readings told and kept differ in number');
  for (const fault of faults.slice(0, 20)) console.log(fault);
  return [
    { name: 'disks that failed, full or not to be written to', unit: '', value: failures },
    { name: 'readings told and on disk', unit: '', value: told.readings },
    { name: 'faults: not told, not unrecorded, not written afterwards', unit: '', value: faults.length, most: 0 },
  ];
}

/** While the disk refuses: what is read is told all the same, an alarm at once, and since when nothing is recorded. */
async function refused(bowl: Bowl, store: Store): Promise<string[]> {
  const faults: string[] = [];
  const before = toldOf(bowl.told);
  bowl.ramp(33, 34, 20);
  // A silence, so that an alarm falls into it.
  bowl.waits(15);
  bowl.says({ name: 'acknowledge', alarm: 'probe-silent' });
  const alarm = toldOf(bowl.told).events.slice(before.events.length);
  if (!alarm.some((event) => event.kind === 'alarm-raised')) faults.push('no alarm was told');
  const lastMs = performance.now() + PATIENCE_MS;
  // What little room is left is used up by what is read.
  while (store.health().recording && performance.now() < lastMs) {
    bowl.reads(34);
    await wait(10);
  }
  if (store.health().recording) faults.push('it was not said to be unrecorded');
  const { unrecordedSinceMs, reading } = bowl.session.now(0);
  if (unrecordedSinceMs === null) faults.push('it was not said since when');
  if (reading === null) faults.push('there was no number');
  bowl.ramp(34, 31, 40);
  return faults;
}

async function written(store: Store): Promise<void> {
  const lastMs = performance.now() + PATIENCE_MS;
  const isWritten = (): Promise<boolean> =>
    store.flush().then(
      () => true,
      () => false,
    );
  while (!(await isWritten()) && performance.now() < lastMs) await wait(20);
}

function toldOf(messages: readonly ServerMessage[]) {
  const news = messages.flatMap((message) => (message.kind === 'news' ? [message] : []));
  return { events: news.flatMap(({ events }) => events), readings: news.at(-1)?.readingCount ?? 0 };
}

/** `count` seconds of a bowl on a disk that stalls for half a second at every batch: how late the loop is meanwhile. */
export async function stalledDisk(bounds: Bounds): Promise<Row[]> {
  const { store, bowl, become } = onFaultyDisk();
  const run = bowl.begin();
  await store.flush();
  become(`stalled ${STALL_MS}`);
  const delay = monitorEventLoopDelay({ resolution: 1 });
  await wait(1_000);
  delay.enable();
  for (const _ of within(bounds)) {
    for (let i = 0; i < 1000 / READ_EVERY_MS; i++) {
      bowl.reads(40 + (i % 5) / 10);
      await wait(READ_EVERY_MS);
    }
  }
  delay.disable();
  become('');
  await written(store);
  const told = toldOf(bowl.told).readings;
  return [
    { name: 'seconds on a disk that stalls for half a second at every batch', unit: '', value: bounds.count },
    { name: 'readings told, and not on disk', unit: '', value: told - store.readingsOf(run).length, most: 0, least: 0 },
    {
      name: 'delay of the loop, 99th percentile',
      unit: 'ms',
      value: delay.percentile(99) / 1e6,
      most: DELAY_MS,
      timing: true,
    },
  ];
}
