/** What somebody has open on the page of a past run, or has typed, is still there when the line fails: on a scripted server. */
import type { Page, Route } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { BOWL, greetingAt, OPENED, RUN } from '../support/scenes.ts';
import { useScreens } from '../support/screens.ts';
import { pictures, SCENES, show, START } from '../support/shown-page.ts';

useScreens();

const PAST = `#/runs/${RUN}`;
const CHANGED = { kind: 'run-changed', bowl: BOWL, run: RUN } as const;
const cut = (route: Route): Promise<void> => route.abort('connectionrefused');
const press = (page: Page, name: string): Promise<void> =>
  page.getByRole('button', { name, exact: true }).last().click();

describe('while a run is looked back at', () => {
  test('a fetch that fails takes away nothing: head, begun span, open sheet and its words; it says so, and asks again', async () => {
    const { page, bowl } = await show(START, undefined, PAST);
    const head = page.getByRole('slider', { name: 'Moment shown' });
    await press(page, 'Back 1 min');
    const atMs = await head.inputValue();
    await page.getByRole('button', { name: 'Span from here' }).click();
    await press(page, 'Note up to here');
    const words = page.getByRole('dialog').getByLabel('In your own words');
    await words.fill('waited for the trays');
    await page.route(`**/api/runs/${RUN}`, cut);
    bowl.say(CHANGED);
    const again = page.locator('main > .strip', { hasText: 'Try again' });
    await again.waitFor();
    expect(await words.inputValue()).toBe('waited for the trays');
    expect(await head.inputValue()).toBe(atMs);
    await press(page, 'Note it');
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    await page.evaluate(() => scrollTo(0, 0));
    await pictures(page, 'past-not-fetched');
    await page.unroute(`**/api/runs/${RUN}`);
    await again.getByRole('button', { name: 'Try again' }).click();
    await again.waitFor({ state: 'detached' });
    expect(await head.inputValue()).toBe(atMs);
  });

  test('of two fetches the answer to the later one stands, whichever comes first', async () => {
    const { page, bowl } = await show(START, undefined, PAST);
    const held: Route[] = [];
    await page.route(`**/api/runs/${RUN}`, (route) => void held.push(route));
    bowl.say(CHANGED);
    await expect.poll(() => held.length).toBe(1);
    bowl.say(CHANGED);
    await expect.poll(() => held.length).toBe(2);
    const binned = { ...OPENED, binnedAtWall: '2026-11-25T10:00:00.000Z' };
    await held[1]!.fulfill({ json: binned });
    const strip = page.getByRole('button', { name: 'Take it out' });
    await strip.waitFor();
    const late = page.waitForResponse((response) => response.url().endsWith(`/api/runs/${RUN}`));
    await held[0]!.fulfill({ json: OPENED });
    await (await late).finished();
    await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))));
    expect(await strip.count()).toBe(1);
  });

  test('a card that cannot be fetched again keeps what is typed on it', async () => {
    const { page, bowl } = await show(START, undefined, PAST);
    await press(page, 'Write on it');
    const lot = page.locator('.card-form [name=lot]');
    await lot.fill('G-7');
    await page.route(`**/api/runs/${RUN}/card`, cut);
    bowl.say(CHANGED);
    await page.locator('.card-part').getByRole('button', { name: 'Try again' }).waitFor();
    expect(await lot.inputValue()).toBe('G-7');
  });

  test('a note that is not kept stays in its sheet with its words, tags and span, and says why', async () => {
    const { page, bowl } = await show(START, undefined, PAST);
    await press(page, 'Back 1 min');
    await press(page, 'Note here');
    const sheet = page.getByRole('dialog');
    await sheet.getByLabel('In your own words').fill('new bath');
    await sheet.getByLabel('Tags, with commas between them').fill('bath');
    await page.route('**/notes', cut);
    await press(page, 'Note it');
    await sheet.getByRole('alert').waitFor();
    await pictures(page, 'note-not-kept');
    expect(await sheet.getByLabel('In your own words').inputValue()).toBe('new bath');
    expect(await sheet.getByLabel('Tags, with commas between them').inputValue()).toBe('bath');
    expect(bowl.asked).toEqual([]);
    await page.unroute('**/notes');
    await press(page, 'Note it');
    await sheet.waitFor({ state: 'detached' });
    expect(bowl.asked.map(({ body }) => body)).toMatchObject([{ text: 'new bath', tags: ['bath'] }]);
  });

  test('a change of a note that is not kept stays in its form, and says why', async () => {
    const { page, bowl } = await show(START, undefined, PAST);
    await page.getByRole('button', { name: /^Change: new bath/ }).click();
    await page.getByLabel('Change', { exact: true }).fill('new bath, 40 degrees');
    await page.route('**/notes', cut);
    await press(page, 'Keep it');
    await page.locator('.note-change').getByRole('alert').waitFor();
    expect(await page.getByLabel('Change', { exact: true }).inputValue()).toBe('new bath, 40 degrees');
    await page.unroute('**/notes');
    await press(page, 'Keep it');
    await page.locator('.note-change').waitFor({ state: 'detached' });
    expect(bowl.asked.map(({ body }) => body)).toMatchObject([{ text: 'new bath, 40 degrees' }]);
  });

  test('a tag that is too long is told of, and nothing is sent or cut', async () => {
    const { page, bowl } = await show(START, undefined, PAST);
    await press(page, 'Note here');
    const sheet = page.getByRole('dialog');
    await sheet.getByLabel('In your own words').fill('new bath');
    await sheet.getByLabel('Tags, with commas between them').fill('x'.repeat(41));
    await press(page, 'Note it');
    expect(await sheet.getByRole('alert').innerText()).toBe('A tag has at most 40 characters.');
    await sheet.getByLabel('Tags, with commas between them').fill('x'.repeat(40));
    await press(page, 'Note it');
    await expect.poll(() => bowl.asked.map(({ body }) => body)).toMatchObject([{ tags: ['x'.repeat(40)] }]);
  });
});

test('in a run that goes, too, a note that is not kept stays in its sheet', async () => {
  const { page, bowl } = await show(greetingAt(SCENES['work']!));
  await page.keyboard.press('n');
  const sheet = page.getByRole('dialog');
  await sheet.getByLabel('In your own words').fill('stood by the window');
  await page.route('**/notes', cut);
  await press(page, 'Note it');
  await sheet.getByRole('alert').waitFor();
  expect(await sheet.getByLabel('In your own words').inputValue()).toBe('stood by the window');
  await page.unroute('**/notes');
  await press(page, 'Note it');
  await sheet.waitFor({ state: 'detached' });
  expect(bowl.asked).toHaveLength(1);
});
