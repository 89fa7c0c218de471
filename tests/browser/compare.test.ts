/** Runs laid over one another, in a real browser against the real server: ticked in the list, drawn, aligned, told in figures and words. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import type { Outcome } from '../../server/core/record/card.ts';
import { keepRuns } from '../support/kept-runs.ts';
import { looksRight, MANY_LOOKS_MS } from '../support/looks.ts';
import { NOT_LOOKED_AT } from '../support/outcomes.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { openKitchenWithPage } from '../support/served-bowl.ts';

useScreens();

const GOOD: Outcome = { ...NOT_LOOKED_AT, verdict: 'good', gloss: 'glossy' };
const RUNS = [
  {
    run: 'ginger-24',
    startedAtWall: '2026-11-24T12:40:00.000Z',
    card: { name: 'Ginger for Saturday', outcome: GOOD },
  },
  {
    run: 'caramel-22',
    startedAtWall: '2026-11-22T08:15:00.000Z',
    card: { outcome: { ...GOOD, verdict: 'usable' } },
    byC: 0.6,
  },
  { run: 'plain-20', startedAtWall: '2026-11-20T09:02:00.000Z', byC: -0.5, min: 100 },
] as const;
/** Told along the time by as many marks as there ever are: every 15 min up to 90. */
const OF_MOST_MARKS = RUNS.map((each) => ({ ...each, min: 100 }));

async function openList(runs: Parameters<typeof keepRuns>[1] = RUNS): Promise<{ page: Page; address: string }> {
  const kitchen = await openKitchenWithPage();
  await keepRuns(kitchen.bowl.store, runs);
  const page = await openScreen(`${kitchen.address}/#/runs`);
  await page.locator('.run-row').first().waitFor();
  return { page, address: kitchen.address };
}

const ticks = (page: Page) => page.getByRole('button', { name: /^Tick / });

test('runs are ticked in the list, laid over, and brought together at a phase', async () => {
  const { page } = await openList();
  await page.getByRole('button', { name: 'Lay over' }).click();
  expect(await page.getByRole('link', { name: /^Lay \d over/ }).count()).toBe(0);
  for (const at of [0, 1]) await ticks(page).nth(at).click();
  expect(await ticks(page).nth(0).getAttribute('aria-pressed')).toBe('true');
  expect(await page.locator('.lay-over-bar').innerText()).toContain('2 ticked');
  await page.getByRole('link', { name: 'Lay 2 over' }).click();
  await page.locator('.laid-over').waitFor();
  expect(await page.locator('h1').innerText()).toBe('Two runs, laid over.');
  expect((await page.locator('.laid-letter').allInnerTexts()).toSorted()).toEqual(['A', 'B']);
  const patterns = await page
    .locator('.laid-over .laid-line')
    .evaluateAll((lines) => lines.map((line) => getComputedStyle(line).strokeDasharray));
  expect(new Set(patterns).size).toBe(2);
  const before = await page.locator('.laid-A').first().getAttribute('d');
  await page.getByRole('button', { name: 'Work', exact: true }).click();
  expect(await page.locator('.detail').innerText()).toBe('Each from where it entered: Work.');
  expect(await page.locator('.laid-A').first().getAttribute('d')).not.toBe(before);
  expect(await page.getByRole('row', { name: /^Judged/ }).innerText()).toMatch(/good\s+usable/);
  expect(await page.locator('.compare-differences').innerText()).toMatch(
    /^B: cooled 0\.6 less deep; peak 0\.6 higher; .* more over the working ceiling; judged usable, not good\.$/,
  );
});

test('on a narrow screen no two marks of the time stand in one another', async () => {
  const { page, address } = await openList(OF_MOST_MARKS);
  await page.setViewportSize({ width: 320, height: 568 });
  await page.goto(`${address}/#/compare/ginger-24,plain-20`);
  await page.locator('.laid-over').waitFor();
  const marks = await page.locator('.laid-time').evaluateAll((all) =>
    all.map((mark) => {
      const { left, right } = mark.getBoundingClientRect();
      return { min: Number.parseInt(mark.textContent, 10), left, right };
    }),
  );
  expect(marks.map(({ min }) => min)).toEqual([0, 15, 30, 45, 60, 75, 90]);
  expect(marks.slice(1).filter(({ left }, i) => left < marks[i]!.right)).toEqual([]);
  expect(marks.at(-1)!.right).toBeLessThanOrEqual(320);
});

test('is walked by keys, and read out without the drawing', async () => {
  const { page, address } = await openList();
  await page.goto(`${address}/#/compare/ginger-24,caramel-22,plain-20`);
  await page.getByRole('button', { name: 'Cool', exact: true }).focus();
  await page.keyboard.press('Enter');
  expect(await page.getByRole('button', { name: 'Cool', exact: true }).getAttribute('aria-pressed')).toBe('true');
  const drawn = page.getByRole('img', {
    name: /Curves of A: Ginger for Saturday, B: .*The table below has the figures/,
  });
  expect(await drawn.count()).toBe(1);
  expect(await page.getByRole('columnheader').allInnerTexts()).toEqual(['Figure', 'A', 'B', 'C']);
  expect(await page.getByRole('rowheader').allInnerTexts()).toContain('Coolest');
});

test('what is not there is said, and fewer than two are not compared', async () => {
  const { page, address } = await openList();
  // The browser itself complains of an answer that there is no such run; here it is what is asked for.
  await page.route('**/api/runs/gone*', (route) => route.fulfill({ status: 200, body: '{}' }));
  await page.route('**/api/runs/gone/card', (route) => route.fulfill({ status: 200, body: '{}' }));
  await page.goto(`${address}/#/compare/ginger-24,gone`);
  await expect.poll(() => page.locator('h1').innerText()).toBe('Two runs are wanted.');
  expect(await page.locator('.detail').innerText()).toBe('One of them isn’t here.');
  await page.goto(`${address}/#/compare/ginger-24`);
  await expect.poll(() => page.locator('.detail').innerText()).toBe('Tick two to six of them in the list.');
});

test(
  'every state stands on every screen in all its colours, and axe objects to nothing',
  { timeout: MANY_LOOKS_MS },
  async () => {
    const { page, address } = await openList();
    await page.getByRole('button', { name: 'Lay over' }).click();
    for (const at of [0, 2]) await ticks(page).nth(at).click();
    await looksRight(page, 'compare-ticking');
    await page.goto(`${address}/#/compare/ginger-24,caramel-22,plain-20`);
    await page.locator('.laid-over').waitFor();
    await looksRight(page, 'compare-start');
    await page.getByRole('button', { name: 'Work', exact: true }).click();
    await looksRight(page, 'compare-work');
    await page.locator('.compare-part').last().scrollIntoViewIfNeeded();
    await looksRight(page, 'compare-figures');
  },
);
