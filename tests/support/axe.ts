/** What axe objects to on a page as it stands, in words. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';

/** It goes to each page that is asked about: the short form is less than half as long. */
const SOURCE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** The rules that look at colours and boxes; all others say the same of a page's parts whatever their colours and sizes. */
const OF_PAINT = ['color-contrast', 'link-in-text-block', 'scrollable-region-focusable'];

/** Has it at hand after every load, for a test that asks at many: sending it each time takes longer than what it does. */
export function bringAxe(page: Page): Promise<unknown> {
  return page.addInitScript(SOURCE);
}

/** Each rule that is broken, with the elements that break it; none is right. */
export function axeFaults(page: Page): Promise<string[]> {
  return faultsBy(page, null);
}

/** Of a page that was looked at already, and has changed in its colours or its size alone. */
export function paintFaults(page: Page): Promise<string[]> {
  return faultsBy(page, OF_PAINT);
}

async function faultsBy(page: Page, rules: string[] | null): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(SOURCE);
  return page.evaluate(async (only) => {
    const { axe: judge } = globalThis as unknown as { axe: typeof axe };
    // No rule of these reads style sheets, and nobody reads selectors.
    const found = await judge.run({
      resultTypes: ['violations'],
      preload: { assets: ['media'] },
      selectors: false,
      ...(only === null ? {} : { runOnly: only }),
    });
    return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`);
  }, rules);
}
