/**
 * The whole built service by a hurried clock, a fault every half minute from the list below: what it holds may not grow, whatever befell it.
 * One seed says which fault comes when, to the byte.
 */
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { chance, type Chance } from '../../server/source/kitchen/chance.ts';
import { dataFileIn } from '../../server/store/store.ts';
import { asks } from '../support/asks.ts';
import { deedsOf } from '../support/fake/deeds.ts';
import { PtyWire } from '../support/fake/pty-wire.ts';
import { PLAIN, type Script, type SwitchName, type SwitchOn } from '../support/fake/script.ts';
import { played } from '../support/fake/wire.ts';
import { BOWL } from '../support/server.ts';
import { serve, type Serving } from '../support/serving.ts';
import { Page } from '../support/socket.ts';
import { freshFolder } from '../support/store.ts';
import type { Bounds, Row } from './rows.ts';

/** The service's time runs so many times as fast. */
const HURRIED = 30;
/** In the service's time, ms. */
const FAULT_EVERY_MS = 30_000;
/** A run is begun, worked and ended in each; then what is held is compared. */
const ROUND_MS = 720_000;
/** Until then caches fill and code is compiled, rounds. */
const WARM_ROUNDS = 3;
/** So many warm rounds at the beginning are held against so many at the end; with fewer of both what grew is told and not judged. */
const COMPARED_ROUNDS = 3;
const SLOPE_MB = 0.2;
const INSIDE = join(import.meta.dirname, '..', 'support', 'soak-inside.mjs');

/** What befalls the thermometer, for how many seconds of the service's time; the switches of the fake one. */
const OF_THERMOMETER: readonly (readonly [SwitchName, number])[] = [
  ['unplug', 12],
  ['unplug-in-read', 12],
  ['mute', 20],
  ['busy', 12],
  ['drip', 10],
  ['burst', 6],
  ['torn', 10],
  ['doubled', 10],
  ['endless', 8],
  ['cr', 10],
  ['lfcr', 10],
  ['nul', 10],
  ['ff', 10],
  ['speed', 10],
  ['banner', 1],
  ['reset', 1],
  ['appear', 10],
  ['unit', 10],
  ['comma', 10],
  ['sentinel', 8],
  ['stuck', 20],
  ['spike', 1],
  ['theft', 10],
];
/** What befalls the disk, for so long; and what pages and strangers do. */
const OF_DISK = ['full', 'read-only', 'stalled 20'] as const;
const DISK_MS = 15_000;
const OF_PAGES = ['page cut off', 'page that takes nothing', 'no request', 'page after page'] as const;
export const FAULTS: readonly string[] = [...OF_THERMOMETER.map(([name]) => name), ...OF_DISK, ...OF_PAGES];

interface Held {
  readonly bytes: number;
  readonly timers: number;
  readonly emitters: number;
  /** Of the serial library: one for every opening, about 1 kB. */
  readonly pollers: number;
  readonly warnings: number;
  readonly descriptors: number;
}

/** `count`: hours of the service's time, a fifth of one at least. */
export async function hours({ count, seed }: Bounds): Promise<Row[]> {
  const [folder, wire] = [freshFolder(), new PtyWire()];
  const heldFile = join(freshFolder(), 'held.json');
  process.env['SOAK_HELD'] = heldFile;
  await wire.obey({ atMs: 0, kind: 'plug', device: 'own', socket: 1, path: 0 });
  const server = await serve(folder, ['--port', wire.path], { hurried: HURRIED, preload: INSIDE });
  const page = new Page(server.address);
  const luck = chance(seed);
  const rounds: Held[] = [];
  let [faults, unended] = [0, 0];
  try {
    for (let round = 0; round < (count * 3_600_000) / ROUND_MS; round++) {
      const script = scriptOf(seed + round, luck);
      const pages = pagesOf(luck);
      faults += script.switches.length + pages.length;
      await begun(server, page);
      await Promise.all([
        played(deedsOf(script).slice(1), wire, untilOf(performance.now())),
        befallen(pages, server, dataFileIn(folder)),
      ]);
      if (!(await ended(server))) unended++;
      page.heard.length = 0;
      rounds.push(await heldBy(server, heldFile));
    }
  } finally {
    page.leave();
    await server.stop();
    await wire.close();
  }
  return rowsOf(count, faults, unended, page, rounds);
}

function rowsOf(count: number, faults: number, unended: number, page: Page, rounds: readonly Held[]): Row[] {
  const warm = rounds.slice(Math.min(WARM_ROUNDS, rounds.length - 1));
  const isJudged = warm.length >= 2 * COMPARED_ROUNDS;
  for (const [i, held] of rounds.entries()) console.log(`round ${i}: ${JSON.stringify(held)}`);
  for (const fault of page.faults.slice(0, 5)) console.log(fault);
  const grown = (name: string, unit: string, value: number, most: number): Row =>
    isJudged ? { name, unit, value, most } : { name, unit, value };
  const more = (what: 'descriptors' | 'timers' | 'emitters'): Row => grown(`${what} more`, '', grownBy(warm, what), 0);
  return [
    { name: 'hours of the service', unit: '', value: count },
    { name: 'warm rounds', unit: '', value: warm.length },
    { name: 'faults', unit: '', value: faults },
    { name: 'runs that could not be ended', unit: '', value: unended, most: 0 },
    { name: 'what a page cannot have been told', unit: '', value: page.faults.length, most: 0 },
    grown('memory, slope', 'MB/h', (slopeOf(warm.map(({ bytes }) => bytes / 1e6)) * 3_600_000) / ROUND_MS, SLOPE_MB),
    more('descriptors'),
    more('timers'),
    more('emitters'),
    { name: 'pollers more, kept by the serial library', unit: '', value: grownBy(warm, 'pollers') },
    { name: 'emitters with too many listeners', unit: '', value: rounds.at(-1)!.warnings, most: 0 },
  ];
}

/**
 * The least of the last rounds over the most of the first: what happens to be open at the end of a round, a link, a socket, goes up and down
 * by ten emitters, and is no growth.
 */
function grownBy(warm: readonly Held[], what: keyof Held): number {
  const all = warm.map((held) => held[what]);
  return Math.min(...all.slice(-COMPARED_ROUNDS)) - Math.max(...all.slice(0, COMPARED_ROUNDS));
}

/** The median of the slopes between all pairs: one odd round moves it by nothing. 0 for one value. */
function slopeOf(values: readonly number[]): number {
  if (values.length < 2) return 0;
  const slopes = values.flatMap((later, j) => values.slice(0, j).map((earlier, i) => (later - earlier) / (j - i)));
  return slopes.toSorted((a, b) => a - b)[slopes.length >> 1]!;
}

/** Of the thermometer: one in two of all faults, each at its half minute. */
function scriptOf(seed: number, luck: Chance): Script {
  const switches: SwitchOn[] = [];
  for (let fromMs = FAULT_EVERY_MS; fromMs < ROUND_MS - FAULT_EVERY_MS; fromMs += 2 * FAULT_EVERY_MS) {
    const [what, s] = luck.pick(OF_THERMOMETER);
    switches.push({ what, fromMs, forMs: s * 1000, amount: null });
  }
  return { ...PLAIN, seed, forMs: ROUND_MS, switches };
}

interface Befalling {
  readonly atMs: number;
  readonly what: (typeof OF_DISK)[number] | (typeof OF_PAGES)[number];
}

function pagesOf(luck: Chance): Befalling[] {
  const all: Befalling[] = [];
  for (let atMs = 2 * FAULT_EVERY_MS; atMs < ROUND_MS - FAULT_EVERY_MS; atMs += 2 * FAULT_EVERY_MS) {
    all.push({ atMs, what: luck.pick([...OF_DISK, ...OF_PAGES]) });
  }
  return all;
}

function untilOf(startMs: number): (atMs: number) => Promise<void> {
  return (atMs) => wait(Math.max(0, startMs + atMs / HURRIED - performance.now()));
}

async function befallen(all: readonly Befalling[], server: Serving, dataFile: string): Promise<void> {
  const until = untilOf(performance.now());
  for (const { atMs, what } of all) {
    await until(atMs);
    switch (what) {
      case 'page cut off':
      case 'page that takes nothing': {
        const page = new Page(server.address);
        await page.dial().catch(() => {});
        if (what === 'page cut off') page.leave();
        else page.socket.pause();
        await until(atMs + FAULT_EVERY_MS / 2);
        page.leave();
        break;
      }
      case 'no request':
        await fetch(new URL(`/api/bowls/${BOWL}/commands`, server.address), { method: 'POST', body: '{"name":' });
        break;
      case 'page after page':
        for (let i = 0; i < 20; i++) {
          const page = new Page(server.address);
          await page.dial().catch(() => {});
          page.leave();
        }
        break;
      default:
        writeFileSync(`${dataFile}.fault`, what);
        await until(atMs + DISK_MS);
        writeFileSync(`${dataFile}.fault`, '');
    }
  }
}

async function begun(server: Serving, page: Page): Promise<void> {
  const { post } = asks(server.address);
  page.leave();
  await page.dial();
  const answer = await post(`/api/bowls/${BOWL}/commands`, {
    name: 'choose-profile',
    profile: 'dark',
    condition: 'tempered',
  });
  if (answer.status !== 200) throw new Error(JSON.stringify(answer.body));
}

/** With the page that looks on gone, so that it holds nothing for it. */
async function ended(server: Serving): Promise<boolean> {
  const answer = await asks(server.address).post(`/api/bowls/${BOWL}/commands`, { name: 'end' });
  return answer.status === 200;
}

async function heldBy({ pid }: Serving, file: string): Promise<Held> {
  // What is on its way to the disk gets there first.
  await wait(500);
  rmSync(file, { force: true });
  process.kill(pid, 'SIGUSR2');
  for (let tries = 0; tries < 1_000; tries++) {
    try {
      const held = JSON.parse(readFileSync(file, 'utf8')) as Omit<Held, 'descriptors'>;
      return { ...held, descriptors: readdirSync(`/proc/${pid}/fd`).length };
    } catch {
      await wait(20);
    }
  }
  throw new Error('the server does not say what it holds');
}
