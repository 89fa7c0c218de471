/** Screens for the tests of this process, in browser contexts that share nothing. Knows no page and no server. */
import type { BrowserContextOptions, Page } from 'playwright-core';
import { sharedBrowser } from './browser.ts';
import { PATIENCE_MS } from './patience.ts';

/** One screen, while one test has it. */
export interface Taken {
  readonly page: Page;
  /** What the page complained of. */
  readonly broken: readonly string[];
  /** When the test is over. */
  readonly leave: () => Promise<void>;
}

interface Screen {
  readonly page: Page;
  /** What can't be changed of it. */
  readonly kind: string;
  /** It was on a page of a server's since it was taken, which may have kept something. */
  wasServed: boolean;
  broken: string[];
}

/** What is set anew for each test. */
const CHANGING: ReadonlySet<string> = new Set(['viewport', 'colorScheme', 'contrast', 'forcedColors']);

/** Those that nobody has now. */
const left: Screen[] = [];

/**
 * `again`: a screen that was left, and has forgotten what it kept, is taken again by the next test that wants one like it, of whatever file: with
 * scripts and fonts at hand a page comes at half the work. Size and colours are as asked for. What stays is a clock of the test's, scripts of its
 * before the page's own; and that somebody pressed something, which is what lets a page sound.
 */
export async function takeScreen(options: BrowserContextOptions, again: boolean): Promise<Taken> {
  const kind = kindOf(options);
  const at = again ? left.findLastIndex((each) => each.kind === kind) : -1;
  const screen = (at < 0 ? null : left.splice(at, 1)[0]) ?? (await openScreen(options, kind));
  await asIfNew(screen.page, options);
  const broken: string[] = [];
  screen.broken = broken;
  screen.wasServed = false;
  return { page: screen.page, broken, leave: () => leave(screen, again) };
}

function kindOf(options: BrowserContextOptions): string {
  return JSON.stringify(Object.entries(options).filter(([name]) => !CHANGING.has(name)));
}

async function openScreen(options: BrowserContextOptions, kind: string): Promise<Screen> {
  const browser = await sharedBrowser();
  const context = await browser.newContext({ reducedMotion: 'reduce', ...options });
  context.setDefaultTimeout(PATIENCE_MS);
  const screen: Screen = { page: await context.newPage(), kind, wasServed: false, broken: [] };
  screen.page.on('pageerror', (error) => screen.broken.push(String(error)));
  screen.page.on('console', (message) => {
    if (message.type() === 'error') screen.broken.push(message.text());
  });
  screen.page.on('framenavigated', (frame) => {
    if (isServed(frame)) screen.wasServed = true;
  });
  return screen;
}

async function asIfNew(page: Page, options: BrowserContextOptions): Promise<void> {
  const { viewport, colorScheme = 'light', contrast = 'no-preference', forcedColors = 'none' } = options;
  if (viewport) await page.setViewportSize(viewport);
  await page.emulateMedia({ media: null, colorScheme, contrast, forcedColors });
}

/** One that was on a page of a server's, and is no more, can't be told to forget: it is not taken again. */
async function leave(screen: Screen, again: boolean): Promise<void> {
  const { page, wasServed } = screen;
  const context = page.context();
  if (!again || page.isClosed() || (wasServed && !isServed(page))) return context.close();
  screen.broken = [];
  await page.unrouteAll({ behavior: 'ignoreErrors' });
  if (wasServed && !(await hasForgotten(page))) return context.close();
  await page.goto('about:blank');
  await Promise.all(context.pages().flatMap((other) => (other === page ? [] : [other.close()])));
  await context.clearCookies();
  await page.mouse.move(0, 0);
  left.push(screen);
}

const isServed = (place: { url(): string }): boolean => place.url().startsWith('http');

/** Its server may be gone by now. What the page would keep while it goes is kept no more; one that is just being loaded can't be asked. */
function hasForgotten(page: Page): Promise<boolean> {
  const forgetting = page.evaluate(() => {
    for (const kept of [localStorage, sessionStorage]) kept.clear();
    Storage.prototype.setItem = () => undefined;
  });
  return forgetting.then(
    () => true,
    () => false,
  );
}
