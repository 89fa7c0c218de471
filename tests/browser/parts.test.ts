/** Parts of the built page that are fetched apart: what stands before they are there, and what is said where one does not come. */
import { expect, test } from 'vitest';
import type { Page } from 'playwright-core';
import { OVERSHOOT } from '../support/alarm.ts';
import { useScreens } from '../support/screens.ts';
import { news, picture, SCENES, show } from '../support/shown-page.ts';
import { greetingAt } from '../support/scenes.ts';

useScreens();

const MISSING = 'This part of the page could not be fetched.';
/** The piece itself, not one whose name begins as it does. */
const ROAD = /assets\/road-[\w-]{8}\.js/;
const OTHER_VIEWS = /assets\/other-views-/;
const AT_HAND = /assets\/at-hand-/;
/** By how much and for how long. */
const IN_FULL = /the 32\.5 ceiling for \d/;

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

test('a road that comes in the moment its page was left is drawn nowhere, and is there when the page is shown again', async () => {
  const { page } = await show(greetingAt(SCENES['work']!));
  const asked = page.waitForRequest(ROAD);
  const give = await reloadWithout(page, ROAD, 'held');
  await asked;
  // Busy: whatever waits for the next frame waits a second longer.
  await page.evaluate(() => {
    const [soon, frame] = [window.setTimeout, window.requestAnimationFrame];
    Object.assign(window, {
      setTimeout: (act: () => void, ms = 0) => soon(act, ms + 1_000),
      requestAnimationFrame: (act: FrameRequestCallback) => soon(() => frame(act), 1_000),
    });
    location.hash = '#/runs';
  });
  await page.locator('.road').waitFor({ state: 'detached' });
  const came = page.waitForEvent('requestfinished', (request) => ROAD.test(request.url()));
  give();
  await came;
  await page.evaluate(() => void (location.hash = ''));
  await page.locator('canvas').waitFor();
});

test('no piece is sent twice, though each is fetched as a file before it is taken for a script', async () => {
  const { page } = await show(greetingAt(SCENES['work']!));
  await (await page.context().newCDPSession(page)).send('Network.clearBrowserCache');
  await page.reload();
  await page.locator('canvas').waitFor();
  const asked = await page.evaluate(() =>
    performance.getEntriesByType('resource').flatMap((entry) => {
      const { name, transferSize } = entry as PerformanceResourceTiming;
      return name.endsWith('.js') ? [{ name, isSent: transferSize > 0 }] : [];
    }),
  );
  expect(asked.filter(({ name }) => ROAD.test(name)).map(({ isSent }) => isSent)).toEqual([true, false]);
  const sent = asked.filter(({ isSent }) => isSent).map(({ name }) => name);
  expect(sent).toEqual([...new Set(sent)]);
});

test('a road that cannot be fetched leaves the rest as it is, says so, offers to load the page again, and is taken when it comes after all', async () => {
  const { page } = await show(greetingAt(SCENES['work']!));
  await reloadWithout(page, ROAD, 'refused');
  await page.getByText(MISSING).waitFor();
  expect(await page.locator('.number').first().textContent()).toMatch(/3\d\.\d/);
  const isLoadedAgain = page.waitForEvent('domcontentloaded');
  await page.getByRole('button', { name: 'Load the page again' }).click();
  await isLoadedAgain;
  await page.getByText(MISSING).waitFor();
  await page.unroute(ROAD);
  await page.locator('canvas').waitFor();
  await page.getByText(MISSING).waitFor({ state: 'detached' });
});

test('a view of the road that does not come says so for as long as it is looked at, and is taken when it comes after all', async () => {
  const { page } = await show(greetingAt(SCENES['work']!));
  await reloadWithout(page, OTHER_VIEWS, 'refused');
  await page.locator('canvas').waitFor();
  await page.locator('.road').click();
  const all = page.getByRole('button', { name: 'All', exact: true });
  await all.click();
  await page.getByText(MISSING).waitFor();
  await page.getByRole('button', { name: 'Back to now' }).click();
  await page.getByText(MISSING).waitFor({ state: 'detached' });
  await page.locator('.road').click();
  await all.click();
  await page.getByText(MISSING).waitFor();
  await page.unroute(OTHER_VIEWS);
  await page.getByText(MISSING).waitFor({ state: 'detached' });
});

test('where what answers a hand cannot be fetched, that is said before a tap, and an alarm is answered all the same', async () => {
  const { page, bowl } = await show(greetingAt(SCENES['work']!));
  await reloadWithout(page, AT_HAND, 'refused');
  await page.getByText(MISSING).waitFor();
  bowl.script.greeting = greetingAt(SCENES['overshoot']!);
  await reloadWithout(page, AT_HAND, 'refused');
  await page.getByRole('button', { name: /^Seen/ }).click();
  await expect.poll(() => bowl.asked.map(({ body }) => body)).toEqual([{ name: 'acknowledge', alarm: 'overshoot' }]);
});

test('an alarm that stands at the load says what to do and which it is, before its words in full are here', async () => {
  const { page, bowl } = await show(greetingAt(SCENES['overshoot']!));
  const give = await reloadWithout(page, AT_HAND, 'held');
  await page.getByRole('heading', { name: 'Off the heat, and stir.' }).waitFor();
  await page.getByText('Over the 32.5 ceiling.', { exact: true }).waitFor();
  expect(await page.locator('.number').first().textContent()).toMatch(/3\d\.\d/);
  await picture(page, 'overshoot-first-words');
  await page.getByRole('button', { name: /^Seen/ }).click();
  await expect.poll(() => bowl.asked.map(({ body }) => body)).toEqual([{ name: 'acknowledge', alarm: 'overshoot' }]);
  give();
  await page.getByText(IN_FULL).waitFor();
  await page.getByText('No dipping until the strip test.').waitFor();
});

test('one that is raised right after the load does so too, and the words in full are asked for until they come', async () => {
  const { page, bowl } = await show(greetingAt(SCENES['work']!));
  await reloadWithout(page, AT_HAND, 'refused');
  await page.getByText(MISSING).waitFor();
  bowl.say(news(80, [OVERSHOOT]));
  await page.getByRole('heading', { name: 'Off the heat, and stir.' }).waitFor();
  await page.getByText('Over the 32.5 ceiling.', { exact: true }).waitFor();
  await page.unroute(AT_HAND);
  await page.getByText(IN_FULL).waitFor();
});

test('what answers a hand is taken when it comes after all, and the page need not be loaded again', async () => {
  const { page } = await show(greetingAt(SCENES['work']!));
  await reloadWithout(page, AT_HAND, 'refused');
  await page.getByText(MISSING).waitFor();
  await page.unroute(AT_HAND);
  await page.getByText(MISSING).waitFor({ state: 'detached' });
  await page.getByRole('button', { name: 'Note it' }).click();
  await page.getByRole('dialog').waitFor();
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
  // Its own styles came before it, and those of the bowl only once.
  const styles = await page.evaluate(() =>
    [...document.styleSheets].map(({ href }) => /\w+(?=-[\w-]{8}\.css)/.exec(href ?? '')?.[0]),
  );
  expect(styles).toContain('library');
  expect(styles.filter((name) => name === 'bowl')).toHaveLength(1);
  await page.unroute(/assets\/runs-/);
  await page.goto(page.url().replace(/#.*/, ''));
  await reloadWithout(page, /assets\/runs-/, 'refused');
  await page.evaluate(() => (location.hash = '#/runs'));
  await page.getByText(MISSING).waitFor();
});
