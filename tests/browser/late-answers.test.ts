/** Second logs, files on their way in and sheets on their way out, while answers come late, out of turn or not at all: on a scripted server. */
import type { Page, Route } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { DARK, OPENED, RUN } from '../support/scenes.ts';
import { useScreens } from '../support/screens.ts';
import { pictures, show, START } from '../support/shown-page.ts';

useScreens();

const cut = (route: Route): Promise<void> => route.abort('connectionrefused');
const title = (page: Page): Promise<string> => page.getByRole('heading', { level: 1 }).innerText();
/** All that came is drawn. */
const drawn = (page: Page): Promise<unknown> =>
  page.evaluate(() => new Promise((done) => setTimeout(() => requestAnimationFrame(done))));

/** Keeps every such request until the test answers it. */
async function hold(page: Page, url: string | RegExp): Promise<Route[]> {
  const held: Route[] = [];
  await page.route(url, (route) => void held.push(route));
  return held;
}

async function answer(page: Page, route: Route, json: unknown): Promise<void> {
  const url = route.request().url();
  const came = page.waitForResponse((response) => response.url() === url);
  await route.fulfill({ json });
  await (await came).finished();
  await drawn(page);
}

describe('second logs', () => {
  const LIST = `/api/runs/${RUN}/judgements`;
  const header = { engine: 'engine-1', profile: DARK };
  const judgement = (id: string, name: string) => ({
    id,
    judgedAtWall: '2026-11-25T10:00:00.000Z',
    header: { ...header, profile: { ...DARK, id: name, title: name } },
    isOwnProfile: false,
    inputs: 1,
    events: OPENED.events.length,
    differsFromSeq: null,
    hasLostInputs: false,
    visits: [],
    standing: null,
    worstAlarm: null,
    worstOverC: null,
  });
  const MILK = judgement('m', 'Milk chocolate');
  const WHITE = judgement('w', 'White chocolate');
  const logOf = (of: object) => ({ judgement: of, events: OPENED.events, tiles: OPENED.tiles });
  const listOf = (more: object = {}) => ({ judgements: [MILK, WHITE], going: null, failed: null, ...more });
  const GOING = { id: 'x', run: 'another', profile: 'Dark chocolate', share: 0.4 };
  const answers = {
    [`/api/runs/${RUN}`]: { ...OPENED, header },
    [`${LIST}/m`]: logOf(MILK),
    [`${LIST}/w`]: logOf(WHITE),
  };
  const open = (list: object | null) =>
    show(START, undefined, `#/judged/${RUN}`, 'h1:has-text("log"), h1:has-text("As "), h1:has-text("Judg")', {
      ...answers,
      ...(list === null ? {} : { [LIST]: list }),
    });

  test('none is asked for before it is known whether there are any; where that cannot be told, it says so and asks again', async () => {
    const { page } = await show(START, undefined, '#/runs');
    const held = await hold(page, `**${LIST}`);
    await page.route(`**/api/runs/${RUN}`, (route) => route.fulfill({ json: answers[`/api/runs/${RUN}`] }));
    await page.evaluate((run) => void (location.hash = `#/judged/${run}`), RUN);
    await expect.poll(() => held.length).toBe(1);
    await expect.poll(() => title(page)).toBe('Fetching its second logs.');
    expect(await page.getByRole('button', { name: 'By today’s engine' }).isDisabled()).toBe(true);
    await cut(held[0]!);
    await page.getByRole('heading', { name: 'Its second logs aren’t here.' }).waitFor();
    await pictures(page, 'judged-not-fetched');
    await page.getByRole('button', { name: 'Try again' }).click();
    await expect.poll(() => held.length).toBe(2);
    await answer(page, held[1]!, { judgements: [], going: null, failed: null });
    await expect.poll(() => title(page)).toBe('Judge it again.');
  });

  test('the log that was chosen last stands, though the one chosen before it comes later', async () => {
    const { page } = await open(listOf());
    await page.getByRole('heading', { name: 'As White chocolate.' }).waitFor();
    const held = await hold(page, new RegExp(`${LIST}/[mw]$`));
    await page.getByRole('button', { name: /^Milk chocolate, / }).click();
    await expect.poll(() => held.length).toBe(1);
    await expect.poll(() => title(page)).toBe('Fetching this log.');
    await page.getByRole('button', { name: /^White chocolate, / }).click();
    await expect.poll(() => held.length).toBe(2);
    await answer(page, held[1]!, logOf(WHITE));
    await expect.poll(() => title(page)).toBe('As White chocolate.');
    await answer(page, held[0]!, logOf(MILK));
    expect(await title(page)).toBe('As White chocolate.');
  });

  test('another run that is being judged leaves this one’s in sight, and is not broken off from here', async () => {
    const { page } = await open(listOf({ going: GOING }));
    await page.getByRole('heading', { name: 'As White chocolate.' }).waitFor();
    expect(await page.getByRole('button', { name: 'Break it off' }).count()).toBe(0);
    expect(await page.getByRole('button', { name: 'By today’s engine' }).isDisabled()).toBe(true);
    await page.getByText('Another run is being judged. This one can be when that is done.').waitFor();
  });

  test('what is going is asked for one at a time, and a trouble goes when the next answer is here', async () => {
    const { page } = await open(listOf({ going: { ...GOING, run: RUN } }));
    await page.getByRole('button', { name: 'Break it off' }).waitFor();
    const held = await hold(page, `**${LIST}`);
    await expect.poll(() => held.length).toBe(1);
    // Three times as long as it takes to be asked for again.
    await page.waitForTimeout(1_500);
    expect(held).toHaveLength(1);
    await cut(held[0]!);
    await page.getByRole('alert').waitFor();
    await expect.poll(() => held.length).toBe(2);
    await answer(page, held[1]!, listOf());
    await expect.poll(() => page.getByRole('alert').count()).toBe(0);
    await expect.poll(() => title(page)).toBe('As White chocolate.');
  });
});

describe('a file on its way in', () => {
  const CHOICE = { separator: 'comma', decimal: 'point', time: 0, temperature: 1, form: 's', unit: 'c' };
  const preview = (choice: object, lastedS: number) => ({
    kind: 'table',
    choice,
    names: ['time', 'bowl'],
    cells: [['0', '31']],
    trouble: null,
    curve: [
      [0, 31],
      [lastedS, 32],
    ],
    lastedS,
    readings: 2,
    startedAtWall: null,
  });
  const began = (page: Page): Promise<string> => page.getByLabel('It began').inputValue();
  const take = (page: Page) => page.getByRole('button', { name: 'Bring it in' });

  /** Chosen, and looked at once. */
  async function chosen(page: Page): Promise<Route[]> {
    const held = await hold(page, '**/api/imports/preview*');
    await page
      .getByLabel('Choose a file')
      .setInputFiles({ name: 'ginger.csv', mimeType: 'text/csv', buffer: Buffer.from('time,bowl\n0,31\n') });
    await expect.poll(() => held.length).toBe(1);
    await answer(page, held[0]!, preview(CHOICE, 600));
    await page.getByRole('heading', { name: 'A table. Is this how it is meant?' }).waitFor();
    return held;
  }

  test('is looked at once at a time, at last as it was chosen last, and not taken meanwhile', async () => {
    const { page } = await show(START, undefined, '#/bring-in');
    const held = await chosen(page);
    await page.getByLabel('Call it').fill('Ginger in May');
    await page.getByLabel('Time is in').selectOption('min');
    await expect.poll(() => held.length).toBe(2);
    await page.getByLabel('Temperature is in').selectOption('f');
    await page.getByLabel('Cells apart by').selectOption('semicolon');
    expect(await take(page).isDisabled()).toBe(true);
    await drawn(page);
    expect(held).toHaveLength(2);
    await answer(page, held[1]!, preview({ ...CHOICE, form: 'min' }, 36_000));
    await expect.poll(() => held.length).toBe(3);
    expect(new URL(held[2]!.request().url()).searchParams.toString()).toBe(
      'separator=semicolon&decimal=point&time=0&temperature=1&form=min&unit=f',
    );
    expect(await page.getByLabel('Temperature is in').inputValue()).toBe('f');
    expect(await take(page).isDisabled()).toBe(true);
    await answer(page, held[2]!, preview({ ...CHOICE, form: 'min', unit: 'f', separator: 'semicolon' }, 36_000));
    await expect.poll(() => take(page).isDisabled()).toBe(false);
    expect(await page.getByLabel('Call it').inputValue()).toBe('Ginger in May');
  });

  test('that cannot be looked at again, or not be taken, stays with all that was chosen and typed', async () => {
    const { page } = await show(START, undefined, '#/bring-in');
    const held = await chosen(page);
    await page.getByLabel('Call it').fill('Ginger in May');
    await page.getByLabel('Judge it under').selectOption('Milk chocolate');
    await page.getByLabel('Time is in').selectOption('min');
    await expect.poll(() => held.length).toBe(2);
    await cut(held[1]!);
    await page.getByRole('alert').waitFor();
    await pictures(page, 'bring-in-not-looked-at');
    expect(await take(page).isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Look again' }).click();
    await expect.poll(() => held.length).toBe(3);
    await answer(page, held[2]!, preview({ ...CHOICE, form: 'min' }, 36_000));
    await page.route(/imports\?/, cut);
    await take(page).click();
    await page.getByRole('alert').waitFor();
    expect(await page.getByLabel('Call it').inputValue()).toBe('Ginger in May');
    expect(await page.getByLabel('Judge it under').inputValue()).toBe('milk');
    expect(await page.getByLabel('Time is in').inputValue()).toBe('min');
    await page.unroute(/imports\?/);
    const taken = await hold(page, /imports\?/);
    await take(page).click();
    await expect.poll(() => taken.length).toBe(1);
    expect(Object.fromEntries(new URL(taken[0]!.request().url()).searchParams)).toMatchObject({
      form: 'min',
      name: 'Ginger in May',
      profile: 'milk',
    });
    await answer(page, taken[0]!, { run: 'new' });
    await page.getByRole('heading', { name: 'It is here.' }).waitFor();
  });

  test('began as long before its end as it lasts as read now, until somebody says when', async () => {
    const { page } = await show(START, undefined, '#/bring-in');
    const held = await chosen(page);
    const first = await began(page);
    await page.getByLabel('Time is in').selectOption('min');
    await expect.poll(() => held.length).toBe(2);
    await answer(page, held[1]!, preview({ ...CHOICE, form: 'min' }, 36_000));
    await expect.poll(async () => Date.parse(first) - Date.parse(await began(page))).toBe(35_400_000);
    await page.getByLabel('It began').fill('2026-05-02T09:30');
    await page.getByLabel('Time is in').selectOption('s');
    await expect.poll(() => held.length).toBe(3);
    await answer(page, held[2]!, preview(CHOICE, 600));
    expect(await began(page)).toBe('2026-05-02T09:30');
  });

  test('says so where the profiles are not to be had, and asks for them again', async () => {
    const { page } = await show(START, undefined, '#/bring-in');
    await page.route('**/api/profiles', cut);
    await chosen(page);
    await page.getByText(/^The profiles aren’t here\./).waitFor();
    expect(await take(page).isDisabled()).toBe(true);
    await page.unroute('**/api/profiles');
    await page.getByRole('button', { name: 'Try again' }).click();
    await expect.poll(() => take(page).isDisabled()).toBe(false);
  });

  test('that is gone from its place when it is to be read is told of', async () => {
    const { page } = await show(START, undefined, '#/bring-in');
    await page.evaluate(() => {
      Blob.prototype.arrayBuffer = () => Promise.reject(new DOMException('gone', 'NotFoundError'));
    });
    await page
      .getByLabel('Choose a file')
      .setInputFiles({ name: 'ginger.csv', mimeType: 'text/csv', buffer: Buffer.from('0,31\n') });
    await page.getByText('The file can’t be read any more. Choose it again.').waitFor();
  });
});

test('a sheet for which the browser opens no window is told of', async () => {
  const { page } = await show(START, undefined, `#/hand-over/${RUN}`);
  await page.evaluate(() => void (window.open = () => null));
  await page.getByRole('button', { name: 'Print on A4' }).click();
  await page.getByText(/^This browser opens no window for it\./).waitFor();
});
