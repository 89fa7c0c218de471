/** What years of runs cost: the list of ten thousand, and the opening of one of eight hours at ten readings of four channels a second. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { readConfig } from '../../server/config.ts';
import { startServer } from '../../server/main.ts';
import { openStore } from '../../server/store/store.ts';
import type { Store } from '../../server/store/store.ts';
import { launchBrowser } from '../support/browser.ts';
import type { Figure } from './figures.ts';
import { fillFolder, LONG_RUN } from './made-runs.ts';
import { PLACES } from './places.ts';

const RUNS = 10_000;
const PAGE = { most: 50, after: 0 } as const;
const LIST_GOAL_MS = 50;
const OPEN_GOAL_MS = 300;
/** As many as the page asks for (`server/routes/runs.ts`). */
const COLUMNS = 2_400;
/** Each round asks a few times and takes the middle: the first is the slowest. */
const ASKED = 9;

export async function measureLibrary(rounds: number): Promise<readonly Figure[]> {
  const folder = mkdtempSync(join(tmpdir(), 'bowlside-runs-'));
  const browser = await launchBrowser();
  try {
    fillFolder(folder, PLACES.profilesFolder, RUNS);
    return [...(await onServer(folder, rounds)), ...(await inBrowser(folder, browser, rounds))];
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

async function onServer(folder: string, rounds: number): Promise<readonly Figure[]> {
  const opened = openStore(folder, { writerScript: PLACES.writerScript });
  if (!opened.ok) throw new Error(opened.message);
  const { store } = opened;
  const figures = [...lists(store, rounds), ...openings(store, rounds)];
  await store.close();
  return figures;
}

function lists(store: Store, rounds: number): Figure[] {
  const asked = {
    newest: PAGE,
    'page 100': { ...PAGE, after: 5_000 },
    longest: { ...PAGE, order: 'longest' },
    worst: { ...PAGE, order: 'worst' },
    'by name': { ...PAGE, order: 'name' },
    'two words': { ...PAGE, words: 'ginger tray' },
    'a word found nowhere': { ...PAGE, words: 'nougat' },
    'a tag': { ...PAGE, tag: 'gift' },
    'standing and coating': { ...PAGE, standing: 'lost', coating: 'milk' },
  } as const;
  return Object.entries(asked).flatMap(([what, query]) =>
    timed(`list of ${RUNS}, ${what}`, rounds, LIST_GOAL_MS, () => store.runs(query)),
  );
}

function openings(store: Store, rounds: number): Figure[] {
  const stretch = { fromMs: 14_000_000, toMs: 14_600_000 };
  return [
    ...timed('open 8 h, server', rounds, OPEN_GOAL_MS, () => {
      return { ...store.openRun(LONG_RUN), tiles: store.tilesOf(LONG_RUN, COLUMNS) };
    }),
    ...timed('ten minutes of its readings, server', rounds, undefined, () => store.readingsOf(LONG_RUN, stretch)),
  ];
}

/** Wall time, and the time of this process alone, which a busy machine lengthens less; JSON included. */
function timed(name: string, rounds: number, goal: number | undefined, work: () => unknown): Figure[] {
  const taken = Array.from({ length: rounds }, () => {
    const all = Array.from({ length: ASKED }, () => once(work));
    return { wallMs: middle(all.map(({ wallMs }) => wallMs)), cpuMs: middle(all.map(({ cpuMs }) => cpuMs)) };
  });
  const wall = { name, unit: 'ms', rounds: taken.map(({ wallMs }) => wallMs) };
  return [
    goal === undefined ? wall : { ...wall, goal },
    { name: `… of it processor`, unit: 'ms', rounds: taken.map(({ cpuMs }) => cpuMs) },
  ];
}

function once(work: () => unknown): { readonly wallMs: number; readonly cpuMs: number } {
  const before = process.cpuUsage();
  const beganMs = performance.now();
  JSON.stringify(work());
  const wallMs = performance.now() - beganMs;
  const { user, system } = process.cpuUsage(before);
  return { wallMs, cpuMs: (user + system) / 1_000 };
}

function middle(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 1]!;
}

/** From the tap on a row of the list to the chart drawn, on a page that has just been loaded, and again when its parts are there. */
async function inBrowser(folder: string, browser: Browser, rounds: number): Promise<readonly Figure[]> {
  const read = readConfig(['--listen', '127.0.0.1:0', '--data', folder, '--simulate'], { env: {}, platform: 'linux' });
  if (!read.ok) throw new Error(read.complaint);
  const started = await startServer(read.config, PLACES);
  if (!started.ok) throw new Error(started.complaints.join(' '));
  const { address, stop } = started.server;
  const first: number[] = [];
  const again: number[] = [];
  for (let i = 0; i < rounds; i++) {
    const page = await browser.newPage({ viewport: { width: 1180, height: 820 }, locale: 'en-US' });
    await page.goto(`${address}/#/runs`);
    for (const times of [first, again]) {
      await page.getByRole('searchbox').fill('dark');
      await page.locator(`a[href="#/runs/${LONG_RUN}"]`).waitFor();
      times.push(await page.evaluate(openAndWait, LONG_RUN));
      await page.goBack();
    }
    await page.close();
  }
  await stop();
  return [
    { name: 'open 8 h, tap to chart, first', unit: 'ms', goal: OPEN_GOAL_MS, rounds: first },
    { name: 'open 8 h, tap to chart, again', unit: 'ms', goal: OPEN_GOAL_MS, rounds: again },
  ];
}

/** Runs in the page. The canvas has its words once it has been drawn on. */
function openAndWait(run: string): Promise<number> {
  return new Promise((resolve) => {
    const beganMs = performance.now();
    const drawn = new MutationObserver(() => {
      if (document.querySelector('.past canvas[aria-label]') === null) return;
      drawn.disconnect();
      resolve(performance.now() - beganMs);
    });
    drawn.observe(document.body, { subtree: true, childList: true, attributes: true });
    document.querySelector<HTMLElement>(`a[href="#/runs/${run}"]`)!.click();
  });
}
