/** Parts of the built page that are fetched apart: what stands before they are there, and what is said where one does not come. */
import { expect, test } from 'vitest';
import type { Page } from 'playwright-core';
import { SCENES, show, useBrowser } from '../support/shown-page.ts';
import { greetingAt } from '../support/scenes.ts';

useBrowser();

const MISSING = 'This part of the page could not be fetched.';

/** The page loaded anew with these pieces of script held back until the answer is called, or refused. */
async function reloadWithout(page: Page, pieces: RegExp, how: 'refused' | 'held'): Promise<() => void> {
  let give = (): void => undefined;
  const given = new Promise<void>((resolve) => (give = resolve));
  await page.route(pieces, async (route) => {
    if (how === 'refused') return route.abort('connectionrefused');
    await given;
    return route.continue();
  });
  await page.reload();
  return give;
}

test('sentence, number and standing are there before the road is', async () => {
  const { page } = await show(greetingAt(SCENES['work']!));
  const give = await reloadWithout(page, /assets\/(?:road|chart)-/, 'held');
  await expect.poll(() => page.locator('.number').first().textContent()).toMatch(/3\d\.\d/);
  expect(await page.locator('h1').textContent()).not.toBe('One moment.');
  expect(await page.locator('canvas').count()).toBe(0);
  give();
  await page.locator('canvas').waitFor();
});

test('a road that cannot be fetched leaves the rest as it is, says so, and offers to load the page again', async () => {
  const { page } = await show(greetingAt(SCENES['work']!));
  await reloadWithout(page, /assets\/road-/, 'refused');
  await page.getByText(MISSING).waitFor();
  expect(await page.locator('.number').first().textContent()).toMatch(/3\d\.\d/);
  await page.unroute(/assets\/road-/);
  await page.getByRole('button', { name: 'Load the page again' }).click();
  await page.locator('canvas').waitFor();
  expect(await page.getByText(MISSING).count()).toBe(0);
});

test('the list of runs says that it is coming, or that it can’t', async () => {
  const { page } = await show(greetingAt(SCENES['work']!));
  const give = await reloadWithout(page, /assets\/runs-/, 'held');
  await page.evaluate(() => (location.hash = '#/runs'));
  await page.getByRole('heading', { name: 'One moment.' }).waitFor();
  give();
  // Here, or told that the list itself is not: the page has come either way.
  await page
    .getByRole('heading', { name: /runs|the list|look back/i })
    .first()
    .waitFor();
  await page.unroute(/assets\/runs-/);
  await page.goto(page.url().replace(/#.*/, ''));
  await reloadWithout(page, /assets\/runs-/, 'refused');
  await page.evaluate(() => (location.hash = '#/runs'));
  await page.getByText(MISSING).waitFor();
});
