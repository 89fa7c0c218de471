/**
 * What an hour of a run leaves in the page's memory: the built page, told of a bowl by a stand-in for the server, reading by reading, as
 * fast as it takes them. The columns of the curve are typed arrays and lie outside the heap that is read here.
 */
import type { Browser, CDPSession, Page } from 'playwright-core';
import { BOWL, greetingAt, infoOf, msAt, nowAt, readingsUpTo } from '../../support/scenes.ts';
import { ScriptedBowl } from '../../support/scripted-bowl.ts';

/** The page's timers are so many times faster, so that it draws as often in a minute of the run as it otherwise would. */
const FASTER = 40;
/** From here on the scene stays as it is, minutes into the afternoon. */
const AT_MIN = 80;
/** Before the first look, so that code is warm and caches are full, minutes of the run. */
const WARM_MIN = 30;
/** Between two looks, minutes of the run, and how many looks there are at most. */
const LOOK_MIN = 30;
const MOST_LOOKS = 9;
/** After so long no further look is begun, ms: a slow machine sees fewer hours, and is not waited for. */
const LONGEST_MS = 40_000;
/** So many readings are on their way before the page is asked whether it has come so far. */
const AT_ONCE = 20;

type SetTimer = (work: () => void, ms?: number) => number;

export interface HeapFigures {
  /** MB per hour of the run: the slope of the line through all looks. */
  readonly heapPerHour: number;
  /** MB per hour of the run: the columns' room, which doubles now and then. */
  readonly columnsPerHour: number;
  /** Of the run, from the first look to the last. */
  readonly hours: number;
}

interface Look {
  /** Of the run. */
  readonly hour: number;
  /** Bytes. */
  readonly heap: number;
  readonly buffers: number;
}

export async function measureHeap(browser: Browser): Promise<HeapFigures> {
  const bowl = new ScriptedBowl({ greeting: greetingAt({ min: AT_MIN }), answers: {} });
  const address = await bowl.open();
  const context = await browser.newContext({ viewport: { width: 1180, height: 820 }, locale: 'en-US' });
  await context.addInitScript(hurry, FASTER);
  const page = await context.newPage();
  const tools = await context.newCDPSession(page);
  await page.goto(address);
  await page.locator('canvas').waitFor();
  const tell = teller(bowl, page);
  await tell(WARM_MIN * 60);
  const came = bowl.arrivals.length;
  const looks: Look[] = [{ hour: 0, ...(await heapOf(tools)) }];
  for (const untilMs = performance.now() + LONGEST_MS; looks.length < MOST_LOOKS && performance.now() < untilMs;) {
    await tell(LOOK_MIN * 60);
    looks.push({ hour: (looks.length * LOOK_MIN) / 60, ...(await heapOf(tools)) });
  }
  if (bowl.arrivals.length !== came) throw new Error('The page came anew in between: what it held was not of one run.');
  await context.close();
  await bowl.close();
  return {
    heapPerHour: slope(looks, ({ heap }) => heap) / 1e6,
    columnsPerHour: slope(looks, ({ buffers }) => buffers) / 1e6,
    hours: looks.at(-1)!.hour,
  };
}

/** Per hour, by least squares. */
function slope(looks: readonly Look[], of: (look: Look) => number): number {
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  const hour = mean(looks.map((look) => look.hour));
  const value = mean(looks.map(of));
  const rise = looks.reduce((sum, look) => sum + (look.hour - hour) * (of(look) - value), 0);
  return rise / looks.reduce((sum, look) => sum + (look.hour - hour) ** 2, 0);
}

/** Tells the page of so many further seconds, no faster than it takes them. */
function teller(bowl: ScriptedBowl, page: Page): (seconds: number) => Promise<void> {
  let readingCount = readingsUpTo(AT_MIN).length;
  let second = 0;
  return async (seconds) => {
    for (const until = second + seconds; second < until;) {
      second++;
      readingCount++;
      tellOf(bowl, second, readingCount);
      if (second % AT_ONCE === 0) await page.evaluate(() => new Promise((free) => setTimeout(free)));
    }
  };
}

function tellOf(bowl: ScriptedBowl, second: number, readingCount: number): void {
  const atMs = msAt(AT_MIN) + second * 1000;
  const now = nowAt({ min: AT_MIN });
  const valueC = 31.5 + 0.2 * Math.sin(second / 700) + 0.05 * Math.sin(second * 12.9898);
  const estimate = now.estimate === null ? null : { ...now.estimate, atMs, tempC: valueC };
  const news = { bowl: BOWL, run: infoOf(false).run, events: [], readingCount, recordedTo: 1 };
  bowl.say(
    { kind: 'news', ...news, readings: [[atMs, valueC, 0, valueC]] },
    { ...now, atMs, estimate, reading: { valueC, atMs, quality: 'good' } },
  );
}

async function heapOf(tools: CDPSession): Promise<{ heap: number; buffers: number }> {
  await tools.send('HeapProfiler.collectGarbage');
  await tools.send('HeapProfiler.collectGarbage');
  const { usedSize, backingStorageSize } = await tools.send('Runtime.getHeapUsage');
  return { heap: usedSize, buffers: backingStorageSize };
}

/** Runs in the page before anything else does. Only what is put off comes sooner: the page's clocks go on, and no silence is taken for a loss. */
function hurry(faster: number): void {
  const set: SetTimer = window.setTimeout.bind(window);
  window.setTimeout = ((work: () => void, ms = 0) => set(work, ms / faster)) as typeof window.setTimeout;
}
