/** The best runs behind the curve, in a real browser against the real server: turned on in More, drawn and told, kept after a reload. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import type { Outcome, Verdict } from '../../server/core/record/card.ts';
import { axeFaults } from '../support/axe.ts';
import { keepRuns } from '../support/kept-runs.ts';
import type { KeptRun } from '../support/kept-runs.ts';
import { looksRight, MANY_LOOKS_MS } from '../support/looks.ts';
import { NOT_LOOKED_AT } from '../support/outcomes.ts';
import { pictures } from '../support/picture.ts';
import { courseC } from '../support/scenes.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { openKitchenWithPage } from '../support/served-bowl.ts';

useScreens();

function judged(verdict: Verdict): { readonly outcome: Outcome } {
  return { outcome: { ...NOT_LOOKED_AT, verdict } };
}

/** Two good ones half a degree apart; the others, far warmer, are no forerunners. */
const RUNS: readonly KeptRun[] = [
  { run: 'good-24', startedAtWall: '2026-11-24T08:00:00.000Z', card: judged('good'), byC: 0.5 },
  { run: 'good-22', startedAtWall: '2026-11-22T08:00:00.000Z', card: judged('good') },
  { run: 'usable-21', startedAtWall: '2026-11-21T08:00:00.000Z', card: judged('usable'), byC: 4 },
  {
    run: 'simulated-20',
    startedAtWall: '2026-11-20T08:00:00.000Z',
    card: judged('good'),
    byC: 4,
    more: { simulated: true },
  },
];

const WISH = 'Show my best runs behind the curve';

/** A bowl that has been melting for some minutes, and these runs on record. */
async function openBeside(runs: readonly KeptRun[]) {
  const kitchen = await openKitchenWithPage();
  await keepRuns(kitchen.bowl.store, runs);
  kitchen.bowl.begin();
  kitchen.bowl.ramp(30, 33, 400);
  const page = await openScreen(kitchen.address);
  await page.locator('main.run').waitFor();
  return { ...kitchen, page };
}

const roadWords = async (page: Page): Promise<string> =>
  (await page.locator('.road canvas').getAttribute('aria-label')) ?? '';

async function turn(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'More' }).click();
  await page.getByRole('button', { name: WISH }).click();
}

test('is off at first, is drawn from the good runs of the profile once it is wanted, and is kept', async () => {
  const { page } = await openBeside(RUNS);
  await page.locator('.road canvas').waitFor();
  expect(await roadWords(page)).not.toContain('best runs');
  await turn(page);
  expect(await page.getByRole('button', { name: WISH }).getAttribute('aria-pressed')).toBe('true');
  await expect
    .poll(() => page.locator('.best-words').innerText())
    .toBe('The newest 2 runs judged good, from lowest to highest, counted from the entry of each phase.');
  expect(await axeFaults(page)).toEqual([]);
  await page.keyboard.press('Escape');
  for (const visit of ['at once', 'after a reload']) {
    await expect
      .poll(() => roadWords(page), { message: visit })
      .toMatch(/Your best runs, as long after entering: [\d.]+ to [\d.]+\./);
    const [, low, high] = /entering: ([\d.]+) to ([\d.]+)\./.exec(await roadWords(page))!;
    // The bowl was 7 min into the first phase, and a quarter of a minute of it is told.
    expect(Math.abs(Number(low) - courseC(7)), visit).toBeLessThan(0.6);
    expect(Number(high) - Number(low), visit).toBeGreaterThanOrEqual(0.5);
    expect(Number(high) - Number(low), visit).toBeLessThan(1.2);
    await page.reload();
    await page.locator('.road canvas').waitFor();
  }
  await turn(page);
  await page.keyboard.press('Escape');
  await expect.poll(() => roadWords(page)).not.toContain('best runs');
});

test('says so where no run was judged good yet', async () => {
  const { page } = await openBeside(RUNS.slice(2));
  await turn(page);
  await expect.poll(() => page.locator('.best-words').innerText()).toMatch(/^No other run of .* is judged good yet\./);
  await pictures(page, 'best-none');
  await page.keyboard.press('Escape');
  expect(await roadWords(page)).not.toContain('best runs');
});

test('stands behind the curve of a run played back too, which is not its own forerunner', async () => {
  const { page, address } = await openBeside(RUNS);
  await page.goto(`${address}/#/runs/good-24`);
  await page.getByRole('button', { name: WISH }).click();
  await expect.poll(() => page.locator('.best-words').innerText()).toMatch(/^The one run judged good, /);
  await page.getByRole('button', { name: 'Event before' }).click();
  await expect.poll(() => roadWords(page)).toMatch(/Your best runs, as long after entering: [\d.]+/);
  expect(await axeFaults(page)).toEqual([]);
});

test(
  'is to be seen on every screen in all its colours, and axe objects to nothing',
  { timeout: MANY_LOOKS_MS },
  async () => {
    const { page, address } = await openBeside(RUNS);
    await turn(page);
    await page.locator('.best-words', { hasText: 'judged good' }).waitFor();
    await looksRight(page, 'best-more');
    await page.keyboard.press('Escape');
    await expect.poll(() => roadWords(page)).toContain('Your best runs');
    await looksRight(page, 'best-road');
    await page.goto(`${address}/#/runs/usable-21`);
    await page.getByRole('button', { name: WISH }).scrollIntoViewIfNeeded();
    await page.locator('.best-words', { hasText: 'judged good' }).waitFor();
    await looksRight(page, 'best-playback');
  },
);
