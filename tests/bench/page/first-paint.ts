/** How long a cold load of the built page takes to be seen, and to show a bowl at work and its road. */
import type { Browser } from 'playwright-core';
import { greetingAt } from '../../support/scenes.ts';
import { ScriptedBowl } from '../../support/scripted-bowl.ts';

/** Minutes into the afternoon: the work has begun. */
const AT_MIN = 80;

/** ms from the beginning of the navigation. */
export interface FirstPaint {
  readonly paintMs: number;
  /** It shows what the server told: the one moment's wait is over. */
  readonly toldMs: number;
  /** The road has come and is drawn. */
  readonly roadMs: number;
}

/** One load, nothing cached. */
export async function measureFirstPaint(browser: Browser): Promise<FirstPaint> {
  const bowl = new ScriptedBowl({ greeting: greetingAt({ min: AT_MIN }), answers: {} });
  const address = await bowl.open();
  const context = await browser.newContext({ viewport: { width: 1180, height: 820 }, locale: 'en-US' });
  const page = await context.newPage();
  await page.goto(address);
  await page.waitForFunction(() => !/^(One moment\.)?$/.test(document.querySelector('h1')?.textContent ?? ''));
  const toldMs = await page.evaluate(() => performance.now());
  await page.locator('canvas[aria-label]').waitFor();
  const roadMs = await page.evaluate(() => performance.now());
  await page.waitForFunction(() => performance.getEntriesByName('first-contentful-paint').length > 0);
  const paintMs = await page.evaluate(() => performance.getEntriesByName('first-contentful-paint')[0]!.startTime);
  await context.close();
  await bowl.close();
  return { paintMs, toldMs, roadMs };
}
