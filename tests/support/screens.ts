/** Real browsers' screens on a server that runs for itself. Whatever a screen complains of fails its test, but for a lost line. */
import type { BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, onTestFinished } from 'vitest';
import { sharedBrowser, TABLET } from './browser.ts';
import { Screens } from './taken-screens.ts';

let screens: Screens;

/** Of the real server: no page of ours. */
const NOTHING = '/api/health';

/**
 * Has a browser for a test file. `again`: a screen serves test after test; for files whose tests leave it as they found it, and whose server
 * is there until they are over.
 */
export function useScreens({ again = false }: { readonly again?: boolean } = {}): void {
  beforeAll(async () => {
    screens = new Screens(await sharedBrowser(), again);
  });
  afterAll(() => screens.close());
}

/** A screen that shares nothing with another one; left when the test is over. `isExpected`: what it may complain of. */
export async function openScreen(
  address: string,
  options: BrowserContextOptions = TABLET,
  isExpected = /WebSocket|ERR_CONNECTION|ERR_EMPTY_RESPONSE|409/,
): Promise<Page> {
  const { page, broken, leave } = await screens.take(options);
  onTestFinished(async () => {
    await leave(URL.canParse(NOTHING, address) ? new URL(NOTHING, address).href : address);
    expect(broken.filter((text) => !isExpected.test(text))).toEqual([]);
  });
  await page.goto(address);
  return page;
}
