/** The run library in a real browser: finding runs, writing their cards, the bin; against the real server. */
import type { BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import type { Outcome } from '../../server/core/record/card.ts';
import { TABLET } from '../support/browser.ts';
import { keepRuns, type KeptRun } from '../support/kept-runs.ts';
import { looksRight, MANY_LOOKS_MS } from '../support/looks.ts';
import { NOT_LOOKED_AT } from '../support/outcomes.ts';
import { pictures } from '../support/picture.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { openKitchenWithPage } from '../support/served-bowl.ts';
import { shipped } from '../support/shipped.ts';

useScreens();

const OUTCOME: Outcome = {
  ...NOT_LOOKED_AT,
  verdict: 'good',
  gloss: 'glossy',
  snap: 'clean',
  streaks: false,
  soft: false,
};
const KEPT: readonly KeptRun[] = [
  {
    run: 'ginger-24',
    startedAtWall: '2026-11-24T12:40:00.000Z',
    card: {
      name: 'Ginger for Saturday',
      centre: 'candied ginger',
      lot: 'G-7',
      kg: 2.5,
      tags: ['gift'],
      outcome: OUTCOME,
    },
  },
  { run: 'caramel-22', startedAtWall: '2026-11-22T08:15:00.000Z', card: { centre: 'caramels', lot: 'C-3', kg: 1.2 } },
  { run: 'plain-20', startedAtWall: '2026-11-20T09:02:00.000Z' },
  { run: 'tried-19', startedAtWall: '2025-03-19T09:02:00.000Z', more: { simulated: true } },
];

async function openLibrary(options: BrowserContextOptions = TABLET, runs: readonly KeptRun[] = KEPT) {
  const kitchen = await openKitchenWithPage();
  await keepRuns(kitchen.bowl.store, runs);
  const page = await openScreen(`${kitchen.address}/#/runs`, options);
  await page.locator('.run-row').first().waitFor();
  return { ...kitchen, page };
}

const names = (page: Page): Promise<string[]> => page.locator('.run-title b').allInnerTexts();
const press = (page: Page, name: string | RegExp): Promise<void> =>
  page.getByRole('button', { name, exact: true }).click();
const detail = (page: Page): Promise<string> => page.locator('.detail').innerText();

describe('the list', () => {
  test('tells each run by its folds, its name, its card and how it stood', async () => {
    const { page } = await openLibrary();
    expect(await names(page)).toEqual([
      'Ginger for Saturday',
      shipped('dark').title,
      shipped('dark').title,
      shipped('dark').title,
    ]);
    const row = page.locator('.run-line').first();
    expect(await row.locator('.fold-a, .fold-b').count()).toBe(4);
    expect(await row.locator('.folded-lane').count()).toBe(4);
    const words = (await row.innerText()).replaceAll('\u00a0', ' ');
    for (const part of ['1 h 58 min', '2.5 kg', 'lot G-7', 'candied ginger', 'gift', 'over the ceiling', 'judged good'])
      expect(words).toContain(part);
    expect(await page.locator('.run-line').last().innerText()).toContain('2025');
    expect(await page.locator('.run-line').last().innerText()).toContain('simulated');
  });

  test('is searched as one types, narrowed by what is asked for, and left as it was by whoever comes back', async () => {
    const { page } = await openLibrary();
    await page.getByLabel('Find a name, lot or tag').fill('ginger');
    await expect.poll(() => names(page)).toEqual(['Ginger for Saturday']);
    expect(await detail(page)).toBe('One run fits.');
    await page.getByLabel('Find a name, lot or tag').fill('ginger nougat');
    await expect.poll(() => page.locator('.act').innerText()).toBe('None is like that.');
    await page.getByLabel('Find a name, lot or tag').fill('');
    await expect.poll(() => page.locator('.run-row').count()).toBe(4);
    expect(await page.getByLabel('Judged').count()).toBe(0);
    await press(page, 'Narrow it');
    // In the words of the rows it finds.
    expect(await page.getByLabel('Standing at the end').innerText()).toContain('Temper was never made');
    await page.getByLabel('Judged').selectOption('not judged yet');
    await expect.poll(() => page.locator('.run-row').count()).toBe(3);
    await page.getByLabel('Bowl').selectOption('real bowls');
    await page.getByLabel('In order').selectOption('oldest first');
    await expect.poll(() => page.locator('.run-row').count()).toBe(2);
    // As many fitted before the order was asked for.
    await expect.poll(() => page.locator('.run-line').last().innerText()).toContain('lot C-3');
    await page.locator('.run-row').first().click();
    await page.locator('.past').waitFor();
    await page.goBack();
    await expect.poll(() => page.locator('.run-row').count()).toBe(2);
    await press(page, 'Narrowed, 2');
    await press(page, 'Show all again');
    await expect.poll(() => page.locator('.run-row').count()).toBe(4);
  });

  test('comes a page at a time', async () => {
    const { bowl, page } = await openLibrary(TABLET, KEPT.slice(0, 1));
    for (let i = 0; i < 60; i++) {
      const header = { ...bowl.store.openRun('ginger-24')!.header };
      const startedAtWall = `2026-10-${String(1 + (i % 30)).padStart(2, '0')}T0${i % 10}:00:00.000Z`;
      const run = { run: `r${i}`, bowl: 'bowl-1', header, simulated: false, startedAtMs: 0, source: 'made up' };
      bowl.store.beginRun({ ...run, startedAtWall });
      bowl.store.endRun(`r${i}`, 60_000);
    }
    await bowl.store.flush();
    await page.reload();
    await expect.poll(() => page.locator('.run-row').count()).toBe(50);
    await press(page, 'Show more');
    await expect.poll(() => page.locator('.run-row').count()).toBe(61);
    expect(await page.getByRole('button', { name: 'Show more' }).count()).toBe(0);
  });
});

describe('a card', () => {
  test('is written from the list, with who wrote what kept, and every open page follows', async () => {
    const { address, page } = await openLibrary();
    const other = await openScreen(`${address}/#/runs/caramel-22`, TABLET);
    await other.locator('.card-fields').waitFor();
    await page.locator('.run-card').nth(1).click();
    const sheet = page.locator('dialog[open]');
    await sheet.getByRole('button', { name: 'Write on it' }).click();
    await sheet.getByLabel('What this run is called').fill('Caramels, tray 2');
    await sheet.getByLabel('Chocolate, kg').fill('lots');
    await sheet.getByLabel('Tags').fill('shop, winter ,shop');
    await sheet.getByLabel('Room, degrees').fill('19,5');
    await sheet.getByLabel('Who writes this').fill('Jo');
    await sheet.getByRole('button', { name: 'Keep it' }).click();
    expect(await sheet.getByRole('alert').innerText()).toMatch(
      /Chocolate, kg: a number from 0\.001\sto\s1000 is wanted\./,
    );
    await sheet.getByLabel('Chocolate, kg').fill('1,4');
    await sheet.getByRole('button', { name: 'Keep it' }).click();
    await sheet.locator('.card-fields').waitFor();
    const read = (await sheet.locator('.card-fields').innerText()).replaceAll('\u00a0', ' ');
    for (const part of ['Caramels, tray 2', '1.4 kg', 'shop, winter', '19.5 °C', 'C-3']) expect(read).toContain(part);
    await sheet.getByText('Who changed what').click();
    const history = await sheet.locator('.card-history li').allInnerTexts();
    expect(history).toHaveLength(2);
    expect(history[0]).toContain('Jo');
    expect(history[0]).toContain('Called: Caramels, tray 2');
    expect(history[0]).not.toContain('Lot');
    await sheet.getByRole('button', { name: 'Close' }).click();
    await expect.poll(() => names(page)).toContain('Caramels, tray 2');
    await expect.poll(() => other.locator('.card-fields').innerText()).toContain('shop, winter');
  });

  test('is emptied field by field, and a change of nothing leaves no trace', async () => {
    const { bowl, page } = await openLibrary();
    await page.locator('.run-card').first().click();
    const sheet = page.locator('dialog[open]');
    await sheet.getByRole('button', { name: 'Write on it' }).click();
    await sheet.getByRole('button', { name: 'Keep it' }).click();
    await sheet.locator('.card-fields').waitFor();
    expect(bowl.store.openRun('ginger-24')!.card).toHaveLength(1);
    await sheet.getByRole('button', { name: 'Write on it' }).click();
    await sheet.getByLabel('Lot number').fill('');
    await sheet.getByRole('button', { name: 'Keep it' }).click();
    await sheet.locator('.card-fields').waitFor();
    expect(bowl.store.openRun('ginger-24')!.card.at(-1)).toMatchObject({ by: null, change: { lot: null } });
  });
});

describe('the bin', () => {
  test('takes a run from the list, gives it back at once, and says by its address where it lies', async () => {
    const { address, page } = await openLibrary();
    await page.locator('.run-card').first().click();
    await press(page, 'Put it in the bin');
    await expect.poll(() => page.locator('.run-row').count()).toBe(3);
    expect(await page.locator('.strip').innerText()).toContain('In the bin: Ginger for Saturday.');
    const lying = await openScreen(`${address}/#/runs/ginger-24`, TABLET);
    await lying.getByText('This run lies in the bin since').waitFor();
    await pictures(lying, 'past-binned');
    await press(page, 'Take it out');
    await expect.poll(() => page.locator('.run-row').count()).toBe(4);
    await expect.poll(() => lying.getByText('This run lies in the bin since').count()).toBe(0);
  });

  test('is emptied in two steps, of which a double tap takes only the first', async () => {
    const { address, bowl, page } = await openLibrary();
    bowl.store.bin('ginger-24', new Date().toISOString());
    bowl.store.bin('plain-20', new Date(Date.now() - 29.5 * 86_400_000).toISOString());
    await bowl.store.flush();
    await page.getByRole('link', { name: 'Bin' }).click();
    await page.locator('.bin-row').first().waitFor();
    expect(await page.locator('.bin-row').allInnerTexts()).toEqual([
      expect.stringMatching(/30\sdays left/),
      expect.stringMatching(/1\sday left/),
    ]);
    await page.getByRole('button', { name: 'Delete Ginger for Saturday for good' }).dblclick();
    await page.getByRole('button', { name: 'Delete Ginger for Saturday for good' }).waitFor();
    expect(bowl.store.openRun('ginger-24')).not.toBeNull();
    await page.getByRole('button', { name: 'Delete Ginger for Saturday for good' }).click();
    await pictures(page, 'bin-asking');
    await press(page, 'Delete it');
    await expect.poll(() => page.locator('.bin-row').count()).toBe(1);
    await page.getByRole('button', { name: /^Take .* out$/ }).click();
    await page.getByText('The bin is empty.').waitFor();
    expect((await fetch(`${address}/api/runs/ginger-24`)).status).toBe(404);
    await page.goto(`${address}/#/runs`);
    await expect.poll(() => page.locator('.run-row').count()).toBe(3);
  });
});

/** Whatever is pressed or typed into is as tall as a finger needs, and in the page. */
function layoutFaults(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const { clientWidth: width } = document.documentElement;
    const above = document.querySelector('dialog[open]') ?? document;
    const all = [
      ...above.querySelectorAll<HTMLElement>('.runs button, .card-part button, .controls a, input, select, summary'),
    ];
    return all
      .filter((each) => each.checkVisibility())
      .map((each) => [each.innerText || each.tagName, each.getBoundingClientRect()] as const)
      .filter(([, box]) => box.height < 63.5 || box.left < 0 || box.right > width + 0.5)
      .map(([name, box]) => `${name} is ${box.height} high from ${box.left} to ${box.right} of ${width}`);
  });
}

test(
  'every state stands on every screen in all its colours, and axe objects to nothing',
  { timeout: MANY_LOOKS_MS },
  async () => {
    const { bowl, address, page } = await openLibrary();
    const check = (state: string): Promise<void> => looksRight(page, `library-${state}`, layoutFaults);
    await check('list');
    await press(page, 'Narrow it');
    await check('narrowing');
    await page.locator('.run-card').first().click();
    await page.locator('dialog .card-fields').waitFor();
    await page.getByText('Who changed what').click();
    await check('card');
    await page.locator('dialog').getByRole('button', { name: 'Write on it' }).click();
    await check('card-form');
    bowl.store.bin('ginger-24', new Date().toISOString());
    await bowl.store.flush();
    await page.goto(`${address}/#/bin`);
    await page.locator('.bin-row').waitFor();
    await page.getByRole('button', { name: /for good$/ }).click();
    await check('bin');
    await page.goto(`${address}/#/runs/caramel-22`);
    await page.locator('.card-fields').waitFor();
    await page.locator('.card-part').first().scrollIntoViewIfNeeded();
    await looksRight(page, 'library-past');
  },
);
