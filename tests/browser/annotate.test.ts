/** Notes at a moment or over a span, in a run that goes and in one that is over: by a tap on the road, by buttons and by keys. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { axeFaults } from '../support/axe.ts';
import { PHONE, TABLET } from '../support/browser.ts';
import { BOWL, greetingAt, msAt, NOTES, OPENED, RUN } from '../support/scenes.ts';
import { useScreens } from '../support/screens.ts';
import { picture, pictures, SCENES, show, START } from '../support/shown-page.ts';

useScreens();

const PAST = `#/runs/${RUN}`;
/** Of an open sheet, where there is one. */
const press = (page: Page, name: string): Promise<void> =>
  page.getByRole('button', { name, exact: true }).last().click();
const bodies = (asked: readonly { readonly body: unknown }[]): unknown[] => asked.map(({ body }) => body);
const headOf = (page: Page): Promise<number> =>
  page.getByRole('slider', { name: 'Moment shown' }).evaluate((line) => Number((line as HTMLElement).dataset['atMs']));

/** The line moves in whole seconds; the head itself stands where it was tapped. */
const near = (atMs: number): unknown => expect.closeTo(atMs, -3.5);

/** Taps the road at this share of its width, once it is drawn, which is when it has a name. */
async function tapRoad(page: Page, share: number): Promise<void> {
  const road = page.locator('.road');
  await road.locator('canvas[aria-label]').waitFor();
  await road.scrollIntoViewIfNeeded();
  const box = (await road.boundingBox())!;
  await page.mouse.click(box.x + box.width * share, box.y + box.height * 0.5);
}

describe('in a run that is over', () => {
  test('a tap on the road chooses the moment, the sheet notes it with tags', async () => {
    const { page, bowl } = await show(START, TABLET, PAST);
    await tapRoad(page, 0.5);
    const atMs = await headOf(page);
    expect(atMs).toBeLessThan(msAt(118));
    await press(page, 'Note here');
    const sheet = page.getByRole('dialog', { name: 'What did you do?' });
    await sheet.getByLabel('In your own words').fill('new bath, warmer');
    await sheet.getByLabel('Tags, with commas between them').fill('bath, second tray');
    await picture(page, 'annotate-past-tablet-light');
    await press(page, 'Note it');
    await expect
      .poll(() => bowl.asked)
      .toEqual([
        {
          path: `/api/runs/${RUN}/notes`,
          body: { atMs: near(atMs), text: 'new bath, warmer', tags: ['bath', 'second tray'] },
        },
      ]);
    await sheet.waitFor({ state: 'detached' });
  });

  test('a span goes from one tap to another; an act is noted in words', async () => {
    const { page, bowl } = await show(START, TABLET, PAST);
    const tapped = async (share: number): Promise<number> => {
      await tapRoad(page, share);
      return headOf(page);
    };
    // Until what draws the whole run is there the road shows its end, and a tap is one of then.
    await expect.poll(() => tapped(0.6)).toBeLessThan(msAt(100));
    const fromMs = await headOf(page);
    await press(page, 'Span from here');
    const untilMs = await tapped(0.75);
    expect(untilMs).toBeGreaterThan(fromMs);
    await page.evaluate(() => scrollTo(0, 0));
    await pictures(page, 'span-begun');
    await press(page, 'Note up to here');
    await page.getByRole('dialog').getByRole('button', { name: 'on the heat' }).click();
    await expect
      .poll(() => bodies(bowl.asked))
      .toEqual([{ atMs: near(fromMs), untilMs: near(untilMs), text: 'on the heat' }]);
  });

  test('with keys alone: the head to its place, N, words, tags, a longer span, Enter', async () => {
    const { page, bowl } = await show(START, TABLET, PAST);
    for (let i = 0; i < 6; i++) await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('n');
    await page.getByRole('dialog').waitFor();
    for (const name of ['Over a span', 'Beginning: 1 min earlier', 'End: 10 s later']) {
      await page.getByRole('button', { name }).focus();
      await page.keyboard.press('Enter');
    }
    await page.getByLabel('In your own words').focus();
    await page.keyboard.type('waited for the trays');
    await page.keyboard.press('Enter');
    const untilMs = msAt(118) - 50_000;
    await expect
      .poll(() => bodies(bowl.asked))
      .toEqual([{ atMs: untilMs - 70_000, untilMs, text: 'waited for the trays' }]);
  });

  test('the focus goes along: into a form that opens, and back to its button when that closes', async () => {
    const { page } = await show(START, TABLET, PAST);
    const isFocused = (it: Locator): Promise<boolean> => it.evaluate((one) => one === document.activeElement);
    const card = page.locator('.card-part');
    const change = page
      .locator('.noted-list li')
      .first()
      .getByRole('button', { name: /^Change/ });
    for (const [part, opener] of [
      [card, card.getByRole('button', { name: 'Write on it' })],
      [page.locator('.noted-list li').first(), change],
    ] as const) {
      await opener.focus();
      await page.keyboard.press('Enter');
      await expect.poll(() => isFocused(part.locator('input').first())).toBe(true);
      await part.getByRole('button', { name: /^Leave it/ }).focus();
      await page.keyboard.press('Enter');
      await expect.poll(() => isFocused(opener)).toBe(true);
    }
  });

  test('one is changed in words, tags and time; what it said, and what was struck out, is still to be read', async () => {
    const over = { ...NOTES[1]!, untilMs: msAt(34), tags: ['bath'] };
    const written = { by: 'Jo', writtenAtWall: '2026-11-24T16:00:00' };
    const changed = { ...written, id: 'n4', atMs: msAt(92), text: 'warmed 40 s', replaces: 'note-n3' };
    const struck = { ...written, id: 'n5', atMs: msAt(13.9), text: '', replaces: 'note-n1' };
    const { page, bowl } = await show(START, TABLET, PAST, undefined, {
      [`/api/runs/${RUN}`]: { ...OPENED, notes: [NOTES[0]!, over, NOTES[2]!, changed, struck] },
    });
    const list = page.locator('.noted-list');
    expect(await list.innerText()).toMatch(/warmed 40\ss was warmed 25\ss, too long/);
    expect(await list.innerText()).toMatch(/no lumps left[^]*Struck out/);
    expect(await page.getByRole('row', { name: /new bath \(bath\)/ }).innerText()).toMatch(/^\d\d:\d\d\sto\s\d\d:\d\d/);
    await page.evaluate(() => scrollTo(0, 0));
    await pictures(page, 'spans');
    await page.getByRole('button', { name: /^Change: new bath/ }).click();
    await page.getByRole('button', { name: 'End: 1 min later' }).click();
    await page.getByLabel('Tags, with commas between them').fill('bath, hot');
    await list.scrollIntoViewIfNeeded();
    await pictures(page, 'note-change');
    await press(page, 'Keep it');
    await expect
      .poll(() => bodies(bowl.asked))
      .toEqual([{ atMs: msAt(30), untilMs: msAt(35), text: 'new bath', tags: ['bath', 'hot'], replaces: 'note-n2' }]);
  });

  test.each([
    ['phone', PHONE, 'light'],
    ['phone', PHONE, 'dark'],
  ] as const)('the sheet fits a %s', async (name, options, colorScheme) => {
    const { page } = await show(START, { ...options, colorScheme }, PAST);
    await tapRoad(page, 0.5);
    await press(page, 'Span from here');
    await tapRoad(page, 0.7);
    await press(page, 'Note up to here');
    await page.getByRole('dialog').waitFor();
    await picture(page, `annotate-past-${name}-${colorScheme}`);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
    expect(await axeFaults(page)).toEqual([]);
  });
});

describe('in a run that goes', () => {
  test('from a minute ago to now, with buttons', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['work']!), TABLET);
    await page.keyboard.press('n');
    await press(page, 'Another time');
    await press(page, 'Over a span');
    await page.getByRole('button', { name: 'Beginning: 1 min earlier' }).click();
    await page.getByRole('button', { name: 'One moment only' }).waitFor();
    await page.getByText(/^From \d\d:\d\d\sto now\.$/).waitFor();
    await pictures(page, 'annotate-live');
    await page.getByLabel('In your own words').fill('stood by the window');
    await press(page, 'Note it');
    await expect.poll(() => bowl.asked.length).toBe(1);
    const { atMs, untilMs, text } = bowl.asked[0]!.body as { atMs: number; untilMs: number; text: string };
    expect(text).toBe('stood by the window');
    expect(untilMs).toBeGreaterThanOrEqual(msAt(80));
    expect(untilMs - atMs).toBeGreaterThanOrEqual(60_000);
    await page.getByText(/^Noted: stood by the window/).waitFor();
  });

  test('a tap on the road notes something of then; an act of then is a note, not a command', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['work']!), TABLET);
    await tapRoad(page, 0.5);
    await page.locator('.looks').waitFor();
    await tapRoad(page, 0.4);
    await page.getByRole('button', { name: /^Note at \d\d:\d\d$/ }).click();
    await pictures(page, 'annotate-live-tap');
    await page.getByRole('dialog').getByRole('button', { name: 'stirred', exact: true }).click();
    await expect.poll(() => bowl.asked.length).toBe(1);
    expect(bowl.asked[0]).toMatchObject({ path: `/api/runs/${RUN}/notes`, body: { text: 'stirred' } });
    expect((bowl.asked[0]!.body as { atMs: number }).atMs).toBeLessThan(msAt(80));
  });

  test('a span that somebody noted stands on every road', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['work']!), TABLET);
    const note = {
      id: 's1',
      atMs: msAt(72),
      untilMs: msAt(76),
      tags: ['bath'],
      text: 'too warm',
      by: null,
      writtenAtWall: '',
    };
    bowl.say({ kind: 'note', bowl: BOWL, run: RUN, note });
    await page.keyboard.press('n');
    const list = page.locator('.noted-list');
    await expect.poll(() => list.innerText()).toMatch(/\d\d:\d\d\sto\s\d\d:\d\d\s+too warm\s*bath/);
    await page.keyboard.press('Escape');
    await list.waitFor({ state: 'detached' });
    await pictures(page, 'span-live');
  });
});
