/** From the byte in the port to the number painted, and to the alarm: the whole way through the server and a real browser, against the least that can do it. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import type { Browser } from 'playwright-core';
import { readConfig } from '../../../server/config.ts';
import { startServer } from '../../../server/main.ts';
import { launchBrowser } from '../../support/browser.ts';
import { openPty, type Pty } from '../../support/pty.ts';
import { type Figure, median, percentile } from '../figures.ts';
import { PLACES } from '../places.ts';
import { serveFloor, type Served } from './floor.ts';
import { nowMs, WatchedPage } from './watched-page.ts';

/** In each round, of either; even, so that a round ends with the other number than the next begins with. */
const SAMPLES = 24;
/** Between two lines, ms, and by how much it differs from one to the next, so that no timer is met at the same moment each time (ours). */
const EVERY_MS = 120;
const JITTER_MS = 150;
/** Lines before those that count: code is compiled, and the run has begun. */
const WARM = 12;
/** One picture of a screen, ms: 60 a second. */
const FRAME_MS = 1000 / 60;
const FLOORS = 1.5;

/** Two neighbours in the working band: the number changes with each line, and the bowl is stirred and no more. */
const SWING = ['31.4', '31.5'] as const;

export async function measureByte(rounds: number): Promise<readonly Figure[]> {
  const browser = await launchBrowser();
  try {
    const floor: number[][] = [];
    const ours: number[][] = [];
    await withFloor(browser, async (pty, page) => {
      await numbers(pty, page, WARM);
      await withOurs(browser, 'work', async (ownPty, ownPage) => {
        await numbers(ownPty, ownPage, WARM);
        for (let round = 0; round < rounds; round++) {
          floor.push(await numbers(pty, page, SAMPLES));
          ours.push(await numbers(ownPty, ownPage, SAMPLES));
        }
      });
    });
    const alarms: number[] = [];
    await withOurs(browser, 'melt', async (pty, page) => {
      alarms.push(...(await alarmsOf(pty, page, rounds * ALARMS)));
    });
    const goalMs = Math.max(FLOORS * median(floor.flat()), median(floor.flat()) + FRAME_MS);
    return [
      { name: 'byte to number painted', unit: 'ms', goal: goalMs, rounds: ours.map(median) },
      { name: '… 99th percentile', unit: 'ms', rounds: ours.map((all) => percentile(all, 0.99)) },
      { name: 'byte to alarm painted', unit: 'ms', goal: goalMs, rounds: [median(alarms)] },
      { name: '… 99th percentile', unit: 'ms', rounds: [percentile(alarms, 0.99)] },
      { name: '… the floor: a number', unit: 'ms', rounds: floor.map(median) },
      { name: '… its 99th percentile', unit: 'ms', rounds: floor.map((all) => percentile(all, 0.99)) },
      { name: '… of the floor', unit: '×', rounds: ours.map((all, round) => median(all) / median(floor[round]!)) },
    ];
  } finally {
    await browser.close();
  }
}

type Measure = (pty: Pty, page: WatchedPage) => Promise<void>;

async function withFloor(browser: Browser, measure: Measure): Promise<void> {
  const pty = openPty();
  await served(await serveFloor(pty.path), browser, pty, measure);
}

async function withOurs(browser: Browser, phase: string, measure: Measure): Promise<void> {
  const pty = openPty();
  const data = mkdtempSync(join(tmpdir(), 'bowlside-byte-'));
  const argv = [
    '--listen',
    '127.0.0.1:0',
    '--data',
    data,
    '--port',
    pty.path,
    '--profile',
    'dark',
    '--start-at',
    phase,
  ];
  const read = readConfig(argv, { env: {}, platform: process.platform });
  if (!read.ok) throw new Error(read.complaint);
  const started = await startServer(read.config, PLACES);
  if (!started.ok) throw new Error(started.complaints.join(' '));
  const { address, stop } = started.server;
  await served({ address, close: stop }, browser, pty, measure);
  rmSync(data, { recursive: true, force: true });
}

async function served({ address, close }: Served, browser: Browser, pty: Pty, measure: Measure): Promise<void> {
  const page = await WatchedPage.open(browser, address);
  try {
    await measure(pty, page);
  } finally {
    await page.page.close();
    await close();
    pty.unplug();
  }
}

/** Alarms in each round; a bowl goes over what burns and comes back, °C, by so much a line, every so many ms (dark.json: 52 °C). */
const ALARMS = 1;
const SAFE_C = 51;
const STEP_C = 0.1;
const LINE_MS = 200;
const MOST_LINES = 60;
/** After each alarm, so that it is over before the next. */
const LINES_BACK = 15;

/** ms from the line that made it an alarm, which is told at once, to the page that the alarm takes. */
async function alarmsOf(pty: Pty, page: WatchedPage, count: number): Promise<number[]> {
  const taken: number[] = [];
  let valueC = SAFE_C;
  const goOn = async (byC: number): Promise<number> => {
    valueC += byC;
    const saidMs = nowMs();
    await pty.write(`${valueC.toFixed(2)}\r\n`);
    await wait(LINE_MS);
    return saidMs;
  };
  for (let n = 0; n < WARM; n++) await goOn((n % 3) / 100 - 0.01);
  for (let line = 0; line < MOST_LINES && taken.length < count; line++) {
    const saidMs = await goOn(STEP_C);
    const paintedMs = await page.alarmAfter(saidMs);
    if (paintedMs === null) continue;
    taken.push(paintedMs - saidMs);
    await page.see();
    for (let back = 0; back < LINES_BACK; back++) await goOn(-STEP_C);
  }
  return taken;
}

/** ms from each line to its number on the page. */
async function numbers(pty: Pty, page: WatchedPage, count: number): Promise<number[]> {
  const taken: number[] = [];
  for (let n = 0; n < count; n++) {
    await wait(EVERY_MS + ((n * 67) % JITTER_MS));
    const number = SWING[n % 2]!;
    const saidMs = nowMs();
    await pty.write(`${number}\r\n`);
    const paintedMs = await page.paintedAfter(saidMs, number);
    if (paintedMs !== null) taken.push(paintedMs - saidMs);
  }
  if (count > WARM && taken.length < count)
    throw new Error(`${count - taken.length} of ${count} numbers were never painted`);
  return taken;
}
