/** Real browsers' screens on a server that runs for itself. Whatever a screen complains of fails its test, but for a lost line. */
import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, expect, onTestFinished } from 'vitest';
import { sharedBrowser, TABLET } from './browser.ts';
import { takeScreen } from './taken-screens.ts';

let isAgain = true;

/** Has a browser for a test file. `again` false: nobody takes the screens of its tests again, for they leave more behind than they found. */
export function useScreens({ again = true }: { readonly again?: boolean } = {}): void {
  beforeAll(async () => {
    isAgain = again;
    await sharedBrowser();
  });
}

/** A screen that shares nothing with another one; left when the test is over. `isExpected`: what it may complain of. */
export async function openScreen(
  address: string,
  options: BrowserContextOptions = TABLET,
  isExpected = /WebSocket|ERR_CONNECTION|ERR_EMPTY_RESPONSE|409/,
): Promise<Page> {
  const { page, broken, leave } = await takeScreen(options, isAgain);
  onTestFinished(async () => {
    await leave();
    expect(broken.filter((text) => !isExpected.test(text))).toEqual([]);
  });
  await page.goto(address);
  return page;
}
