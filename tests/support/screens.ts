/** Real browsers' screens on a server that runs for itself. Whatever a screen complains of fails its test, but for a lost line. */
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, expect, onTestFinished } from 'vitest';
import { sharedBrowser, TABLET } from './browser.ts';
import { PATIENCE_MS } from './patience.ts';

let browser: Browser;

/** Has a browser for a test file. */
export function useScreens(): void {
  beforeAll(async () => {
    browser = await sharedBrowser();
  });
}

/** A screen of its own, that shares nothing with another one; closed when the test is over. `isExpected`: what it may complain of. */
export async function openScreen(
  address: string,
  options: BrowserContextOptions = TABLET,
  isExpected = /WebSocket|ERR_CONNECTION|ERR_EMPTY_RESPONSE|409/,
): Promise<Page> {
  const context = await browser.newContext({ reducedMotion: 'reduce', ...options });
  context.setDefaultTimeout(PATIENCE_MS);
  const page = await context.newPage();
  const broken: string[] = [];
  page.on('pageerror', (error) => broken.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error' && !isExpected.test(message.text())) broken.push(message.text());
  });
  onTestFinished(async () => {
    await context.close();
    expect(broken).toEqual([]);
  });
  await page.goto(address);
  return page;
}
