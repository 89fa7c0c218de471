/** What axe objects to on a page as it stands, in words. */
import axe from 'axe-core';
import type { Page } from 'playwright-core';

/** Has it at hand after every load, for a test that asks at many: sending it each time takes longer than what it does. */
export function bringAxe(page: Page): Promise<unknown> {
  return page.addInitScript(axe.source);
}

/** Each rule that is broken, with the elements that break it; none is right. */
export async function axeFaults(page: Page): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(axe.source);
  return page.evaluate(async () => {
    const found = await (globalThis as unknown as { axe: typeof axe }).axe.run({ resultTypes: ['violations'] });
    return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`);
  });
}
