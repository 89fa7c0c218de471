/** Pictures of a page for eyes, in pictures/: taken by `npm run pictures` alone, for no test looks at one. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Page, PageScreenshotOptions } from 'playwright-core';
import { PHONE, TABLET } from './browser.ts';

const FOLDER = join(import.meta.dirname, '../../pictures');
export const ARE_WANTED = process.env['PICTURES'] === '1';
/** The road draws at most four times a second: only then does the picture show what the words say, ms. */
const DRAWN_AFTER_MS = 300;
/** However late it is drawn, ms: ours. */
const DRAWN_AT_LAST_MS = 3_000;

/** Waits until all is drawn, in its fonts. Does nothing where no pictures are wanted. */
export async function picture(page: Page, name: string, options: PageScreenshotOptions = {}): Promise<void> {
  if (!ARE_WANTED) return;
  // Behind another nothing is drawn.
  await page.bringToFront();
  await page.evaluate(() => document.fonts.ready);
  await page.waitForTimeout(DRAWN_AFTER_MS);
  // On a slow machine it is late even then. A page without scripts never says that it was drawn, and has nothing to draw.
  const drawn = page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  await Promise.race([drawn.catch(() => null), page.waitForTimeout(DRAWN_AT_LAST_MS)]);
  keepPicture(`${name}.png`, await page.screenshot(options));
}

/** Of a page as it stands, light and dark, on a phone and on a tablet; it has its own size again afterwards. */
export async function pictures(page: Page, name: string, options: PageScreenshotOptions = {}): Promise<void> {
  if (!ARE_WANTED) return;
  const size = page.viewportSize()!;
  for (const [screen, { viewport }] of [
    ['phone', PHONE],
    ['tablet', TABLET],
  ] as const) {
    await page.setViewportSize(viewport!);
    await lightAndDark(page, `${name}-${screen}`, options);
  }
  await page.setViewportSize(size);
}

/** They differ in colours alone: the page is brought to where it stands once. Leaves it light. */
export async function lightAndDark(page: Page, name: string, options: PageScreenshotOptions = {}): Promise<void> {
  if (!ARE_WANTED) return;
  for (const colorScheme of ['dark', 'light'] as const) {
    await page.emulateMedia({ colorScheme });
    await picture(page, `${name}-${colorScheme}`, options);
  }
}

/** A picture that the program itself made. */
export function keepPicture(file: string, bytes: Uint8Array): void {
  if (!ARE_WANTED) return;
  const path = join(FOLDER, file);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, bytes);
}
