/** The list of runs when asking fails, and when somebody comes back to it: what was had of it stays, and stays as it was left. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { TABLET } from '../support/browser.ts';
import { keepRuns } from '../support/kept-runs.ts';
import { pictures } from '../support/picture.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { openKitchenWithPage } from '../support/served-bowl.ts';

useScreens();

const FAILS = /ERR_FAILED|WebSocket|ERR_CONNECTION/;

/** 61 runs, the newest with a name. */
async function openLongList() {
  const kitchen = await openKitchenWithPage();
  const { store } = kitchen.bowl;
  await keepRuns(store, [{ run: 'ginger', startedAtWall: '2026-11-24T12:40:00.000Z', card: { name: 'Ginger' } }]);
  const { header } = store.openRun('ginger')!;
  for (let i = 0; i < 60; i++) {
    const startedAtWall = `2026-10-${String(1 + (i % 30)).padStart(2, '0')}T0${i % 10}:00:00.000Z`;
    const run = { run: `r${i}`, bowl: 'bowl-1', header, simulated: false, startedAtMs: 0, source: 'made up' };
    store.beginRun({ ...run, startedAtWall });
    store.endRun(`r${i}`, 60_000);
  }
  await store.flush();
  const page = await openScreen(`${kitchen.address}/#/runs`, TABLET, FAILS);
  await hasRows(page, 50);
  return { ...kitchen, page };
}

const hasRows = (page: Page, count: number): Promise<void> =>
  expect.poll(() => page.locator('.run-row').count()).toBe(count);
const press = (page: Page, name: string): Promise<void> => page.getByRole('button', { name, exact: true }).click();

describe('the list', () => {
  test('that can’t be had further, or anew, stays; one press tries again', async () => {
    const { page, bowl } = await openLongList();
    await page.route('**/api/runs?*', (route) => route.abort());
    await press(page, 'Show more');
    await page.locator('.strip', { hasText: 'This is the list as it was.' }).waitFor();
    await hasRows(page, 50);
    const again = page.waitForEvent('requestfailed');
    bowl.session.runChanged('ginger');
    await again;
    await hasRows(page, 50);
    await pictures(page, 'list-not-new');
    await page.unroute('**/api/runs?*');
    await press(page, 'Try again');
    await page.locator('.strip').waitFor({ state: 'detached' });
    await press(page, 'Show more');
    await hasRows(page, 61);
  });

  test('that fits another wish is not taken for an answer', async () => {
    const { page } = await openLongList();
    await page.route('**/api/runs?*', (route) => route.abort());
    await page.getByLabel('Find a name, lot or tag').fill('ginger');
    await page.getByRole('heading', { name: 'The list isn’t here.' }).waitFor();
    await hasRows(page, 0);
    await page.unroute('**/api/runs?*');
    await press(page, 'Try again');
    await hasRows(page, 1);
  });

  test('is as long, as far down and as narrow as it was left, also after a reload', async () => {
    const { page } = await openLongList();
    await press(page, 'Show more');
    await hasRows(page, 61);
    await page.locator('.run-row').nth(58).scrollIntoViewIfNeeded();
    const top = await page.evaluate(() => window.scrollY);
    expect(top).toBeGreaterThan(1_000);
    await page.locator('.run-row').nth(58).click();
    await page.locator('.past').waitFor();
    expect(await page.evaluate(() => window.scrollY)).toBe(0);
    await expect.poll(() => page.title()).toBe('A run, Bowlside');
    await expect.poll(() => page.evaluate(() => document.activeElement?.tagName)).toBe('H1');
    await page.goBack();
    await hasRows(page, 61);
    await expect.poll(() => page.evaluate(() => window.scrollY)).toBe(top);
    await page.getByLabel('Find a name, lot or tag').fill('ginger');
    await hasRows(page, 1);
    await page.reload();
    await hasRows(page, 1);
    expect(await page.getByLabel('Find a name, lot or tag').inputValue()).toBe('ginger');
  });

  test('says so when a run can’t be taken out of the bin, and offers it again', async () => {
    const { page } = await openLongList();
    await page.locator('.run-card').first().click();
    await press(page, 'Put it in the bin');
    await page.locator('.strip', { hasText: 'In the bin: Ginger.' }).waitFor();
    await page.route('**/bin', (route) => route.abort());
    await press(page, 'Take it out');
    await page.locator('.strip', { hasText: 'In the bin: Ginger.' }).waitFor({ state: 'detached' });
    await page.unroute('**/bin');
    await press(page, 'Take it out');
    await page.locator('.run-title b', { hasText: 'Ginger' }).waitFor();
    await page.locator('.strip').waitFor({ state: 'detached' });
  });
});
