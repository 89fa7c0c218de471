/**
 * What an hour of a run leaves in the page's memory: the built page, told of a bowl by a stand-in for the server, forty seconds of the
 * run in one, each of them drawn. The columns of the curve are typed arrays and lie outside the heap that is read here.
 */
import type { Browser, CDPSession } from 'playwright-core';
import { BOWL, greetingAt, infoOf, msAt, nowAt, readingsUpTo } from '../../support/scenes.ts';
import { ScriptedBowl } from '../../support/scripted-bowl.ts';

/** Run time between the two looks, minutes. */
export const HEAP_MIN = 60;
/** The run goes so many times faster than the page's clock. */
const FASTER = 40;
/** From here on the scene stays as it is, minutes into the afternoon. */
const AT_MIN = 80;
/** Before the first look, so that code is warm and caches are full, minutes of the run. */
const WARM_MIN = 15;

type SetTimer = (work: () => void, ms?: number) => number;

export interface HeapFigures {
  /** MB per hour of the run. */
  readonly heapPerHour: number;
  /** MB per hour of the run: the columns' room, which doubles now and then. */
  readonly columnsPerHour: number;
}

export async function measureHeap(browser: Browser, minutes: number): Promise<HeapFigures> {
  const bowl = new ScriptedBowl({ greeting: greetingAt({ min: AT_MIN }), answers: {} });
  const address = await bowl.open();
  const context = await browser.newContext({ viewport: { width: 1180, height: 820 }, locale: 'en-US' });
  await context.addInitScript(hurry, FASTER);
  const page = await context.newPage();
  const tools = await context.newCDPSession(page);
  await page.goto(address);
  await page.locator('canvas').waitFor();
  const told = teller(bowl);
  await told(WARM_MIN * 60);
  const came = bowl.arrivals.length;
  const before = await heapOf(tools);
  await told(minutes * 60);
  const after = await heapOf(tools);
  if (bowl.arrivals.length !== came) throw new Error('The page came anew in between: what it held was not of one run.');
  await context.close();
  await bowl.close();
  const perHour = (bytes: number): number => bytes / 1e6 / (minutes / 60);
  return {
    heapPerHour: perHour(after.heap - before.heap),
    columnsPerHour: perHour(after.buffers - before.buffers),
  };
}

/** Tells the page of so many further seconds, at its own faster pace. */
function teller(bowl: ScriptedBowl): (seconds: number) => Promise<void> {
  let readingCount = readingsUpTo(AT_MIN).length;
  let second = 0;
  return async (seconds) => {
    for (const until = second + seconds; second < until;) {
      second++;
      readingCount++;
      const atMs = msAt(AT_MIN) + second * 1000;
      const now = nowAt({ min: AT_MIN });
      const valueC = 31.5 + 0.2 * Math.sin(second / 700) + 0.05 * Math.sin(second * 12.9898);
      const estimate = now.estimate === null ? null : { ...now.estimate, atMs, tempC: valueC };
      bowl.say(
        {
          kind: 'news',
          bowl: BOWL,
          run: infoOf(false).run,
          events: [],
          readings: [[atMs, valueC, 0, valueC]],
          readingCount,
          recordedTo: 1,
        },
        { ...now, atMs, estimate, reading: { valueC, atMs, quality: 'good' } },
      );
      await new Promise((resolve) => setTimeout(resolve, 1000 / FASTER));
    }
  };
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
