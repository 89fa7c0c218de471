/** What a redraw of the road costs in headless Chromium, the processor slowed down: script and raster apart. */
import { join } from 'node:path';
import type { Browser, CDPSession, Page } from 'playwright-core';
import { buildRoadPage, openRoadPage, type RoadPage } from '../../support/road/build.ts';
import { percentile, ROOT } from '../figures.ts';
import type { Shift } from './shift-page.ts';

const HOURS = 12;
const TIMES = 40;
/** Redraws before those that count, so that code is compiled (ours). */
const WARM = 15;
const SIZE = { width: 1180, height: 620 };

/** 95th percentiles, ms of the page's own thread: what else runs on the machine hardly counts. */
export interface Redraw {
  readonly scriptMs: number;
  /** The frame after it: filling the pixels, and whatever else the browser does in one. */
  readonly rasterMs: number;
}

export function buildShiftPage(): Promise<RoadPage> {
  return buildRoadPage(join(ROOT, 'tests/bench/page/shift-page.ts'));
}

/** `slower`: the processor goes so many times slower. */
export async function measureRedraws(browser: Browser, built: RoadPage, kind: Shift, slower: number): Promise<Redraw> {
  const page = await openShift(browser, built, kind);
  const tools = await page.context().newCDPSession(page);
  await tools.send('Emulation.setCPUThrottlingRate', { rate: slower });
  await page.evaluate((times) => window.shiftPage.redraw(times), WARM);
  const marks = await marksOf(tools, () => page.evaluate((times) => window.shiftPage.redraw(times), TIMES));
  await page.close();
  return {
    scriptMs: percentile(between(marks, 'redraw', 'drawn'), 0.95),
    rasterMs: percentile(between(marks, 'drawn', 'filled'), 0.95),
  };
}

async function openShift(browser: Browser, built: RoadPage, kind: Shift): Promise<Page> {
  const page = await browser.newPage({ viewport: SIZE, locale: 'en-US' });
  await openRoadPage(page, built);
  await page.addStyleTag({ content: `#road{width:${SIZE.width}px;height:${SIZE.height}px;position:relative}` });
  await page.evaluate(() => document.fonts.load('800 20px "Overpass Variable"'));
  await page.evaluate((a) => window.shiftPage.open(a.kind, a.hours), { kind, hours: HOURS });
  return page;
}

/** A mark of the page: `tts` is the time its thread has worked, µs. */
interface Marked {
  readonly cat: string;
  readonly ph: string;
  readonly name: string;
  readonly tts: number;
}

async function marksOf(tools: CDPSession, work: () => Promise<void>): Promise<Marked[]> {
  const seen: Marked[] = [];
  tools.on('Tracing.dataCollected', ({ value }) => seen.push(...(value as unknown as Marked[])));
  const complete = new Promise((resolve) => tools.once('Tracing.tracingComplete', resolve));
  await tools.send('Tracing.start', {
    transferMode: 'ReportEvents',
    traceConfig: { includedCategories: ['blink.user_timing'] },
  });
  await work();
  await tools.send('Tracing.end');
  await complete;
  return seen.filter(({ cat, ph }) => cat === 'blink.user_timing' && ph === 'I').toSorted((a, b) => a.tts - b.tts);
}

/** ms from each mark of one name to the next of another. */
function between(marks: readonly Marked[], from: string, to: string): number[] {
  return marks.flatMap((mark, i) =>
    mark.name === from ? (marks.slice(i).find(({ name }) => name === to)!.tts - mark.tts) / 1000 : [],
  );
}
