/** From the end of the work to the verdict, in a real browser against the real server: timer, rest, form, the run in words, causes. */
import type { BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import type { Card } from '../../server/core/record/card.ts';
import { axeFaults } from '../support/axe.ts';
import { PHONE, TABLET } from '../support/browser.ts';
import { keepRuns } from '../support/kept-runs.ts';
import { looksRight, MANY_LOOKS_MS } from '../support/looks.ts';
import { lightAndDark } from '../support/picture.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { NOT_LOOKED_AT } from '../support/outcomes.ts';
import { openKitchenWithPage } from '../support/served-bowl.ts';
import { WALL_START_MS } from '../support/server.ts';

useScreens();

const RUN = 'ginger-24';
const H = 3_600_000;
/** The afternoon of the scenes lasts 118 min. */
const LASTS_MS = 118 * 60_000;

/** Keeps the clock that a test gives it: taken by no other. */
const WITH_A_CLOCK = { ...TABLET, locale: 'en-GB' };

/** The page of a run that ended so long ago. */
async function openPast(endedAgoMs: number, options: BrowserContextOptions = TABLET, card?: Partial<Card>) {
  const kitchen = await openKitchenWithPage();
  const startedAtWall = new Date(Date.now() - endedAgoMs - LASTS_MS).toISOString();
  await keepRuns(kitchen.bowl.store, [{ run: RUN, startedAtWall, ...(card === undefined ? {} : { card }) }]);
  const address = `${kitchen.address}/#/runs/${RUN}`;
  const page = await openScreen(address, options);
  await page.locator('.outcome-part').waitFor();
  return { ...kitchen, address, page };
}

const press = (page: Page, name: string): Promise<void> => page.getByRole('button', { name, exact: true }).click();
const tick = (page: Page, group: string, choice: string): Promise<void> =>
  page.getByRole('group', { name: group, exact: true }).getByRole('radio', { name: choice, exact: true }).click();
const minutesLeft = async (page: Page): Promise<number> => {
  const [, min] = /Setting, (\d+):\d\d left/.exec(await page.locator('.setting-words').innerText()) ?? [];
  return Number(min);
};

describe('setting', () => {
  test('is timed on every screen alike, after a reload too, and by a screen whose clock is wrong', async () => {
    const { page, address, bowl } = await openPast(60_000);
    await press(page, 'Set a timer');
    await page.getByRole('region', { name: 'In cool moving air' }).getByRole('button', { name: '20 min' }).click();
    await expect.poll(() => minutesLeft(page)).toBe(19);
    expect(bowl.store.openRun(RUN)!.card.at(-1)!.change.setting).toMatchObject({ place: 'cool-air', minutes: 20 });
    const other = await openScreen(address, WITH_A_CLOCK);
    await other.clock.setFixedTime(Date.now() + 5 * H);
    await other.reload();
    await expect.poll(() => minutesLeft(other)).toBe(19);
    await page.reload();
    await expect.poll(() => minutesLeft(page)).toBe(19);
    await press(page, 'Another timer');
    await press(page, 'No timer');
    await expect.poll(() => other.locator('.setting-words').innerText()).toContain('Leave it to set.');
  });

  test('goes on though the pieces are judged meanwhile, and is not asked of a bowl that never came to the work', async () => {
    // Ten seconds past the whole minute: the count stands well within one while the page comes.
    const startedAtWall = new Date(Date.now() - 5 * 60_000 - 10_000).toISOString();
    const outcome = { ...NOT_LOOKED_AT, verdict: 'good' } as const;
    const { page } = await openPast(6 * 60_000, TABLET, {
      setting: { place: 'cool-air', minutes: 20, startedAtWall },
      outcome,
    });
    expect(await minutesLeft(page)).toBe(14);
    const { bowl, address } = await openKitchenWithPage();
    await keepRuns(bowl.store, [{ run: RUN, startedAtWall, min: 20 }]);
    const cold = await openScreen(`${address}/#/runs/${RUN}`);
    await cold.locator('.outcome-part').waitFor();
    expect(await cold.locator('.setting-part').count()).toBe(0);
  });

  test('says when it is over, and until when it rests', async () => {
    const startedAtWall = new Date(Date.now() - 10 * 60_000 + 4_000).toISOString();
    const { page } = await openPast(15 * 60_000, TABLET, {
      setting: { place: 'cool-air', minutes: 10, startedAtWall },
    });
    await page.getByRole('status').filter({ hasText: 'Set, by the timer.' }).waitFor();
    expect(await page.locator('.setting-words').innerText()).toContain('let it rest a day, until');
    await page.getByRole('button', { name: 'Judge it now all the same' }).waitFor();
  });
});

test.each([
  ['tablet', TABLET],
  ['phone', PHONE],
  ['narrow', { ...PHONE, viewport: { width: 320, height: 568 } }],
] as const)(
  'the page that says the run is over offers the timer, and goes on to the rest: %s',
  async (look, options) => {
    const soonAfterMs = WALL_START_MS + 60_000;
    const { bowl, address } = await openKitchenWithPage(undefined, () => soonAfterMs);
    bowl.choose('tempered');
    bowl.ramp(31, 31.5, 20);
    const { run } = bowl.session.status().info!;
    const page = await openScreen(address, options);
    bowl.says({ name: 'end' });
    await page.locator('.setting-bar').waitFor();
    expect(await page.innerText('.age')).toMatch(/^Read\s.*\sago$/);
    await lightAndDark(page, `outcome-over-${look}`);
    await press(page, 'Set a timer');
    await lightAndDark(page, `outcome-over-timer-${look}`);
    await page
      .getByRole('region', { name: /^In a room of 18\sto\s20/ })
      .getByRole('button', { name: '45 min' })
      .click();
    await expect.poll(() => page.locator('.setting-bar').innerText()).toMatch(/Setting, (?:45:00|44:\d\d) left/);
    await lightAndDark(page, `outcome-over-setting-${look}`);
    expect(await axeFaults(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
    const startedAtWall = new Date(soonAfterMs - 46 * 60_000).toISOString();
    bowl.store.changeCard(run, {
      writtenAtWall: new Date(soonAfterMs).toISOString(),
      by: null,
      change: { setting: { place: 'room', minutes: 45, startedAtWall } },
    });
    await bowl.store.flush();
    bowl.session.runChanged(run);
    await page.getByRole('status').filter({ hasText: 'Set, by the timer.' }).waitFor();
    await lightAndDark(page, `outcome-over-set-${look}`);
    await page.getByRole('link', { name: 'Judge it' }).click();
    await page.locator('.outcome-part').waitFor();
  },
);

describe('judging', () => {
  test('is offered after a night, wants a verdict, and keeps what was said before', async () => {
    const { page, bowl } = await openPast(25 * H);
    await press(page, 'Judge it');
    await tick(page, 'Gloss', 'dull');
    await press(page, 'Keep it');
    expect(await page.getByRole('alert').innerText()).toBe('Say how it came out, all in all.');
    await tick(page, 'All in all', 'failed');
    await tick(page, 'Streaks', 'seen');
    await page.getByLabel('In your own words').fill('thin feet');
    await page.getByLabel('Who judged it').fill('Ana');
    await press(page, 'Keep it');
    await page.locator('.outcome-verdict', { hasText: 'Judged failed.' }).waitFor();
    const said = await page.locator('.outcome-part').innerText();
    for (const part of ['Gloss: dull; Streaks: seen', 'thin feet', 'Ana, ']) expect(said).toContain(part);
    expect(said).not.toContain('Snap');
    expect(bowl.store.runs({ most: 1, after: 0 }).runs[0]!.verdict).toBe('failed');
    await press(page, 'Change it');
    expect(await page.getByRole('radio', { name: 'dull' }).isChecked()).toBe(true);
    await tick(page, 'All in all', 'usable');
    await press(page, 'Keep it');
    await page.locator('.outcome-verdict', { hasText: 'Judged usable.' }).waitFor();
    await page.getByText('Judged before').click();
    expect(await page.locator('.outcome-before').innerText()).toContain('Judged failed.');
    expect(bowl.store.openRun(RUN)!.card).toHaveLength(2);
  });

  test('can be done by keys alone', async () => {
    const { page, bowl } = await openPast(25 * H);
    await page.getByRole('button', { name: 'Judge it', exact: true }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('radio', { name: 'good' }).focus();
    await page.keyboard.press('Space');
    await page.keyboard.press('Tab');
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('Enter');
    await page.locator('.outcome-verdict').waitFor();
    expect(bowl.store.openRun(RUN)!.card.at(-1)!.change.outcome).toMatchObject({ verdict: 'good', gloss: 'satin' });
  });
});

describe('looking back', () => {
  test('tells the run in words, each of which leads to its moment on the curve', async () => {
    const { page } = await openPast(25 * H);
    const over = page.getByRole('button', { name: /over the working ceiling, 32.9 at most\. Show it on the curve/ });
    await over.click();
    await expect.poll(() => page.locator('.head-number').innerText()).toMatch(/32\.[89]/);
  });

  test('names the usual causes of what was found: those the curve speaks for first, each with its source, none as certain', async () => {
    const { page } = await openPast(25 * H, TABLET, {
      outcome: { ...NOT_LOOKED_AT, verdict: 'usable', gloss: 'glossy', fatBloom: true },
    });
    const causes = page.locator('.wrong-part li');
    expect(await causes.first().innerText()).toMatch(
      /over the working ceiling[^]*speaks for it[^]*Lonchampt and Hartel/,
    );
    expect(await page.locator('.wrong-part').innerText()).toContain(
      'None is certain: the strip test and the pieces decide.',
    );
    const unnamed = (await causes.allInnerTexts()).filter((cause) => !cause.includes('2006'));
    expect(unnamed.length).toBeGreaterThan(0);
    const told = await page.locator('.wrong-part').innerText();
    expect(told.match(/common practice, no source/g)).toHaveLength(1);
  });
});

test(
  'every state stands on every screen in all its colours, and axe objects to nothing',
  { timeout: MANY_LOOKS_MS },
  async () => {
    const { page } = await openPast(60_000);
    const check = async (state: string, at: string): Promise<void> => {
      await page
        .locator(at)
        .first()
        .evaluate((part) => part.scrollIntoView({ block: 'start' }));
      await looksRight(page, `outcome-${state}`);
    };
    await check('words', '.went-part');
    await press(page, 'Set a timer');
    await check('timer', 'dialog');
    await page.getByRole('button', { name: '20 min' }).first().click();
    await page.locator('.setting-part progress').waitFor();
    await check('setting', '.setting-part');
    await press(page, 'Judge it now all the same');
    await check('form', '.outcome-part');
    await tick(page, 'All in all', 'failed');
    await tick(page, 'Fat bloom', 'seen');
    await tick(page, 'Soft or tacky', 'seen');
    await press(page, 'Keep it');
    await page.locator('.wrong-part').waitFor();
    await check('causes', '.outcome-part');
  },
);
