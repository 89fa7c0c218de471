/** A page that writes down what it says and how it is touched, for a test that walks it by keys. Knows no bowl and no server. */
import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';

interface Watched {
  /** Every sentence shown, act and detail, each once in a row. */
  readonly said: string[];
  /** Kinds of pointer events that came. */
  readonly touched: string[];
}

const POINTERS = ['pointerdown', 'pointermove', 'mousedown', 'mousemove', 'touchstart', 'wheel'] as const;
/** More stops than any page has, the browser's own among them. */
const MOST_TABS = 60;

/** From now on, over no reload. */
export async function watchPage(page: Page): Promise<void> {
  await page.evaluate((pointers) => {
    const watched: Watched = { said: [], touched: [] };
    Object.assign(window, { watched });
    const look = (): void => {
      const words = ['h1', '.detail'].map((name) => document.querySelector<HTMLElement>(name)?.innerText ?? '');
      const sentence = words.join(' ').replaceAll('\u00a0', ' ');
      if (sentence !== watched.said.at(-1)) watched.said.push(sentence);
    };
    new MutationObserver(look).observe(document.body, { subtree: true, childList: true, characterData: true });
    for (const kind of pointers) addEventListener(kind, () => void watched.touched.push(kind), { capture: true });
  }, POINTERS);
}

export function watched(page: Page): Promise<Watched> {
  return page.evaluate(() => (window as unknown as { watched: Watched }).watched);
}

/** Waits until a sentence like this was shown, be it gone by now. */
export async function hasSaid(page: Page, sentence: RegExp): Promise<void> {
  const likest = async (): Promise<string | undefined> => {
    const { said } = await watched(page);
    return said.find((each) => sentence.test(each)) ?? said.at(-1);
  };
  await expect.poll(likest).toMatch(sentence);
}

/** Walks there with Tab, as anybody would. What is focused has to show it. */
export async function tabTo(page: Page, place: Locator): Promise<void> {
  await place.first().waitFor();
  const isThere = (): Promise<boolean> => place.first().evaluate((one) => one === document.activeElement);
  for (let i = 0; i < MOST_TABS && !(await isThere()); i++) await page.keyboard.press('Tab');
  expect(await isThere(), `Tab comes to ${String(place)}`).toBe(true);
  const outline = await place.first().evaluate((one) => getComputedStyle(one).outlineStyle);
  expect(outline, `${String(place)} shows that it is focused`).not.toBe('none');
}

export async function pressByKeys(page: Page, name: string | RegExp): Promise<void> {
  await tabTo(page, page.getByRole('button', typeof name === 'string' ? { name, exact: true } : { name }));
  await page.keyboard.press('Enter');
}
