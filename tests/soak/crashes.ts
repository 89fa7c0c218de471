/** The built server killed outright while it records a thermometer: what it had called recorded is there, and the run goes on in its phase. */
import { isDeepStrictEqual } from 'node:util';
import { setTimeout as wait } from 'node:timers/promises';
import type { RunEvent } from '../../server/core/record/event.ts';
import { chance } from '../../server/source/kitchen/chance.ts';
import { damageOf, openForReading } from '../../server/store/database.ts';
import { Reader } from '../../server/store/reader.ts';
import { dataFileIn } from '../../server/store/store.ts';
import { percentile } from '../bench/figures.ts';
import { asks } from '../support/asks.ts';
import { BOWL } from '../support/server.ts';
import { serve, Thermometer } from '../support/serving.ts';
import { Page } from '../support/socket.ts';
import { freshFolder } from '../support/store.ts';
import { within, type Bounds, type Row } from './rows.ts';

/** A bowl this often killed is left for a fresh one: what is soaked is the kill, not a run of thousands of acts. */
const KILLS_PER_RUN = 20;
/** A hundred lines a second. */
const LINE_EVERY_MS = 10;
const BACK_S = 2;
/** Acted no longer than this once something is on disk, ms: the next entry is written within a quarter of a second, and a kill before, in or after that is looked for. */
const ACTED_MS = 300;
const ACT_EVERY_MS = 40;
/** A phase that is not there by then is another one, ms. */
const PATIENCE_MS = 15_000;

/** A run in a folder of its own, over all the servers that carried it. */
interface Carried {
  readonly folder: string;
  run: string | null;
  /** Called recorded, oldest first. */
  known: readonly RunEvent[];
  /** Told before the last of these: moments and values of the chocolate. */
  readings: readonly string[];
}

export async function crashes(bounds: Bounds): Promise<Row[]> {
  const luck = chance(bounds.seed);
  const thermometer = new Thermometer(31.4, { lineEveryMs: LINE_EVERY_MS });
  const [backMs, faults]: [number[], string[]] = [[], []];
  let [kills, events, readings] = [0, 0, 0];
  let carried = freshRun();
  for (const i of within(bounds)) {
    if (i % KILLS_PER_RUN === 0) carried = freshRun();
    const startedMs = performance.now();
    const words = ['--port', thermometer.path, '--profile', 'dark', '--start-at', 'rewarm'];
    const server = await serve(carried.folder, words);
    const page = new Page(server.address);
    await page.dial();
    const isBack = (): boolean => page.info !== null && phaseShown(page) !== null && phaseShown(page) === phaseOf(page);
    await Promise.race([page.until(isBack), wait(PATIENCE_MS)]);
    if (carried.run !== null) {
      backMs.push(performance.now() - startedMs);
      faults.push(...faultsOf(carried, page).map((fault) => `kill ${i}: ${fault}`));
    }
    await acted(page, server.address, luck.between(0, ACTED_MS), luck.happens(0.2));
    await server.kill();
    kills++;
    carried.run = page.info!.run;
    carried.known = page.events.slice(0, page.recordedTo);
    carried.readings = toldBefore(carried.known.at(-1)?.atMs ?? 0, page);
    events += carried.known.length;
    readings += carried.readings.length;
    faults.push(...page.faults);
    page.leave();
  }
  for (const fault of faults.slice(0, 20)) console.log(fault);
  return [
    { name: 'kills', unit: '', value: kills },
    { name: 'events called recorded that were looked for', unit: '', value: events },
    { name: 'readings told before them that were looked for', unit: '', value: readings },
    { name: 'faults: missing, another run or phase, or a damaged file', unit: '', value: faults.length, most: 0 },
    {
      name: 'back in its phase after the start, median',
      unit: 's',
      value: percentile(backMs, 0.5) / 1000,
      timing: true,
    },
    {
      name: 'the same, 99th percentile',
      unit: 's',
      value: percentile(backMs, 0.99) / 1000,
      most: BACK_S,
      timing: true,
    },
  ];
}

function freshRun(): Carried {
  return { folder: freshFolder(), run: null, known: [], readings: [] };
}

/** The phase by the events told. */
function phaseOf(page: Page): string | null {
  return page.events.findLast((event) => event.kind === 'phase-entered')?.phase ?? null;
}

/** The phase that the engine itself stands in, by the newest value told: ahead of events that wait for the disk. */
function phaseShown(page: Page): string | null {
  const now = page.heard.findLast((message) => message.kind === 'now');
  return now?.estimate?.phase ?? null;
}

/** A person at the page, until some of it is recorded and a while longer; then the server is as good as killed. */
async function acted(page: Page, address: string, whileMs: number, steps: boolean): Promise<void> {
  const { post } = asks(address);
  const recorded = page.recordedTo;
  let lastMs = performance.now() + PATIENCE_MS;
  void page.until(() => page.recordedTo > recorded).then(() => (lastMs = performance.now() + whileMs));
  if (steps) await post(`/api/bowls/${BOWL}/commands`, { name: 'next' });
  while (performance.now() < lastMs) {
    // The last one is still under way when the server is killed.
    void post(`/api/bowls/${BOWL}/commands`, { name: 'act', act: 'stirred' }).catch(() => {});
    await wait(ACT_EVERY_MS);
  }
}

/** What came before an event that is on disk is on disk, too. */
function toldBefore(atMs: number, page: Page): readonly string[] {
  return page.readings.flatMap(([at, valueC]) => (at < atMs ? [`${at} ${valueC}`] : []));
}

function faultsOf({ folder, run, known, readings }: Carried, page: Page): string[] {
  const faults: string[] = [];
  if (page.info!.run !== run) return [`another run, ${page.info!.run}`];
  if (!isDeepStrictEqual(page.events.slice(0, known.length), known)) faults.push('events called recorded are missing');
  if (phaseOf(page) !== phaseShown(page)) faults.push(`in ${phaseShown(page)} where the record says ${phaseOf(page)}`);
  const reader = new Reader(dataFileIn(folder));
  const kept = new Set(reader.readings(run!).map(({ atMs, valueC }) => `${atMs} ${valueC}`));
  reader.close();
  const missing = readings.filter((reading) => !kept.has(reading));
  if (missing.length > 0) faults.push(`${missing.length} readings are missing, ${missing[0]} the first`);
  const db = openForReading(dataFileIn(folder));
  const damage = damageOf(db, true);
  db.close();
  if (damage !== null) faults.push(damage);
  return faults;
}
