/** Screens for the tests of one file, in browser contexts that share nothing. Knows no page and no server. */
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { PATIENCE_MS } from './patience.ts';

/** One screen, while one test has it. */
export interface Taken {
  readonly page: Page;
  /** Where what it has fetched is at hand; 0: nothing is. */
  readonly port: number;
  /** What the page complained of. */
  readonly broken: readonly string[];
  /** When the test is over; `nothing`: the address of a page without a script, at the server it was on. */
  readonly leave: (nothing: string) => Promise<void>;
}

interface Screen {
  readonly page: Page;
  port: number;
  broken: string[];
}

/**
 * `again`: a screen that was left, and has forgotten what it kept, is taken again by the next test that wants one like it: with scripts and
 * fonts at hand a page comes at half the work. Size and colours are as asked for. What stays is a clock of the test's, scripts of its before the
 * page's own; and that somebody pressed something, which is what lets a page sound.
 */
export class Screens {
  readonly #browser: Browser;
  readonly #isAgain: boolean;
  readonly #left = new Map<string, Screen>();

  constructor(browser: Browser, again: boolean) {
    this.#browser = browser;
    this.#isAgain = again;
  }

  async take(options: BrowserContextOptions): Promise<Taken> {
    const kind = JSON.stringify(options);
    const screen = this.#left.get(kind) ?? (await this.#open(options));
    this.#left.delete(kind);
    await asIfNew(screen.page, options);
    screen.broken = [];
    const { page, port, broken } = screen;
    return { page, port, broken, leave: (nothing) => this.#leave(kind, screen, nothing) };
  }

  async close(): Promise<void> {
    await Promise.all([...this.#left.values()].map(({ page }) => page.context().close()));
  }

  async #open(options: BrowserContextOptions): Promise<Screen> {
    const context = await this.#browser.newContext({ reducedMotion: 'reduce', ...options });
    context.setDefaultTimeout(PATIENCE_MS);
    const screen: Screen = { page: await context.newPage(), port: 0, broken: [] };
    screen.page.on('pageerror', (error) => screen.broken.push(String(error)));
    screen.page.on('console', (message) => {
      if (message.type() === 'error') screen.broken.push(message.text());
    });
    return screen;
  }

  async #leave(kind: string, screen: Screen, nothing: string): Promise<void> {
    const { page } = screen;
    if (!this.#isAgain || this.#left.has(kind)) return page.context().close();
    screen.broken = [];
    await page.unrouteAll({ behavior: 'ignoreErrors' });
    await page.goto(nothing);
    await page.evaluate(() => [localStorage, sessionStorage].forEach((kept) => kept.clear()));
    await page.mouse.move(0, 0);
    screen.port = Number(new URL(nothing).port);
    this.#left.set(kind, screen);
  }
}

async function asIfNew(page: Page, options: BrowserContextOptions): Promise<void> {
  const { viewport, colorScheme = 'light', contrast = 'no-preference', forcedColors = 'none' } = options;
  if (viewport) await page.setViewportSize(viewport);
  await page.emulateMedia({ colorScheme, contrast, forcedColors });
}
