/** A page that notes when what it shows was painted, by a clock that can be held against this process's. */
import type { Browser, Page } from 'playwright-core';

declare global {
  interface Window {
    /** What was painted, and when, ms since 1970 by the page's monotonic clock. */
    painted: { readonly number: string; readonly isAlarm: boolean; readonly atMs: number }[];
  }
}

/** Tries of which the quickest tells best how the two clocks differ. */
const TRIES = 20;
/** How often it is looked whether something has been painted, and for how long, ms. */
const LOOK_MS = 4;
const LONGEST_MS = 3_000;

export class WatchedPage {
  readonly page: Page;
  /** To be added to a moment of the page to have one of this process, ms. */
  readonly #offsetMs: number;

  private constructor(page: Page, offsetMs: number) {
    this.page = page;
    this.#offsetMs = offsetMs;
  }

  static async open(browser: Browser, address: string): Promise<WatchedPage> {
    const page = await browser.newPage({ viewport: { width: 1180, height: 820 }, locale: 'en-US' });
    await page.addInitScript(notePaints);
    await page.goto(address);
    return new WatchedPage(page, await offsetTo(page));
  }

  /** Of this process: when an alarm was painted since then; null: none yet. */
  async alarmAfter(sinceMs: number): Promise<number | null> {
    const found = await this.page.evaluate(foundIn, { sinceMs: sinceMs - this.#offsetMs, isAlarm: true as const });
    return found === null ? null : found + this.#offsetMs;
  }

  /** The alarm is seen, as by a person. */
  async see(): Promise<void> {
    await this.page.getByRole('button', { name: /^Seen/ }).press('Enter');
    await this.page.locator('main.alarm').waitFor({ state: 'detached' });
  }

  /** Of this process: when this number was first painted after `sinceMs`; null: not for long. */
  async paintedAfter(sinceMs: number, number: string): Promise<number | null> {
    const asked = { sinceMs: sinceMs - this.#offsetMs, number };
    const found = await this.page
      .waitForFunction(foundIn, asked, { polling: LOOK_MS, timeout: LONGEST_MS })
      .then((handle) => handle.jsonValue())
      .catch(() => null);
    return found === null ? null : found + this.#offsetMs;
  }
}

interface Asked {
  readonly sinceMs: number;
  readonly number?: string;
  readonly isAlarm?: true;
}

/** Runs in the page. */
function foundIn({ sinceMs, number, isAlarm }: Asked): number | null {
  const found = window.painted.find(
    (each) =>
      each.atMs >= sinceMs &&
      (number === undefined || each.number === number) &&
      (isAlarm === undefined || each.isAlarm),
  );
  return found?.atMs ?? null;
}

/** ms since 1970 by this process's monotonic clock. */
export function nowMs(): number {
  return performance.timeOrigin + performance.now();
}

async function offsetTo(page: Page): Promise<number> {
  let best = { tookMs: Infinity, offsetMs: 0 };
  for (let i = 0; i < TRIES; i++) {
    const before = nowMs();
    const there = await page.evaluate(() => performance.timeOrigin + performance.now());
    const after = nowMs();
    if (after - before < best.tookMs) best = { tookMs: after - before, offsetMs: (before + after) / 2 - there };
  }
  return best.offsetMs;
}

/** Runs in the page before anything else does: after a change, the frame that shows it, and then the first task after that frame. */
function notePaints(): void {
  window.painted = [];
  let last = '';
  const note = (): void => {
    const number =
      (document.querySelector('.figures [aria-hidden]') ?? document.querySelector('.number'))?.textContent ?? '';
    const isAlarm = document.querySelector('main.alarm') !== null;
    if (`${number} ${isAlarm}` === last) return;
    last = `${number} ${isAlarm}`;
    const channel = new MessageChannel();
    channel.port1.onmessage = () =>
      window.painted.push({ number, isAlarm, atMs: performance.timeOrigin + performance.now() });
    requestAnimationFrame(() => channel.port2.postMessage(null));
  };
  new MutationObserver(note).observe(document, {
    subtree: true,
    childList: true,
    characterData: true,
    attributes: true,
  });
}
