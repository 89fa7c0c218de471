/** A run handed over and brought in again in a real browser: every file is saved by a press, and comes back the same to the byte. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import type { BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { PLAIN } from '../../server/handover/manner.ts';
import { PAPERS, type Paper } from '../../server/handover/paper-style.ts';
import { runSheet } from '../../server/handover/run-sheet.ts';
import { runLines } from '../../server/handover/run-file.ts';
import { axeFaults } from '../support/axe.ts';
import { PHONE, TABLET } from '../support/browser.ts';
import { readTrace } from '../support/fixtures.ts';
import { NOT_LOOKED_AT } from '../support/outcomes.ts';
import { keepPicture, picture, pictures } from '../support/picture.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { openKitchenWithPage } from '../support/served-bowl.ts';
import { freshFolder } from '../support/store.ts';
import { CARD, toldStory } from '../support/told.ts';

const NOTES = [
  [3, 'lumps on the left, stirred them under'],
  [20, '=tray 2; "like honey"'],
  [28, 'second batch of ginger in'],
] as const;

useScreens();

/** Keeps the printer that a test gives it: taken by no other. */
const WITH_A_PRINTER = { ...PHONE, locale: 'en-GB' };

/** A screen that may complain of what is refused, and of a run that is not there. */
const openPage = (options: BrowserContextOptions = TABLET): Promise<Page> =>
  openScreen('about:blank', options, /WebSocket|ERR_CONNECTION|40[049]/);

/** The file of a story as a run of a workshop, with notes and a card. */
function runFile(story = 'overshoot-in-rewarm'): { readonly run: string; readonly text: string } {
  const { stored } = toldStory(story, NOTES);
  return { run: stored.run, text: [...runLines(stored, readTrace(story).inputs)].join('') };
}

type Kitchen = Awaited<ReturnType<typeof openKitchenWithPage>>;

/** Through the page, as a person brings a file in. */
async function broughtIn({ address }: Kitchen, page: Page, name: string, text: string | Buffer): Promise<void> {
  await page.goto(`${address}/#/bring-in`);
  const buffer = typeof text === 'string' ? Buffer.from(text, 'utf8') : text;
  await page.getByLabel('Choose a file').setInputFiles({ name, mimeType: 'text/plain', buffer });
}

async function savedBy(page: Page, button: string): Promise<{ readonly name: string; readonly bytes: Buffer }> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByText(button, { exact: true }).click(),
  ]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

async function isPlainPage(page: Page): Promise<void> {
  expect(await axeFaults(page)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
  const small = await page.evaluate(() =>
    [...document.querySelectorAll('a.button, button, label.button, select, input[type=text]')]
      .filter((control) => control.getBoundingClientRect().height < 64)
      .map((control) => control.outerHTML),
  );
  expect(small).toEqual([]);
}

test('a run is brought in by the page, handed over by it, and is the same to the byte; all its files are saved', async () => {
  const kitchen = await openKitchenWithPage();
  const page = await openPage();
  const { text } = runFile();
  await broughtIn(kitchen, page, 'run.jsonl', text);
  await page.getByRole('heading', { name: 'A run: Dark chocolate.' }).waitFor();
  await isPlainPage(page);
  await pictures(page, 'bring-in-run');
  await page.getByRole('button', { name: 'Bring it in' }).click();
  await page.getByRole('link', { name: 'Open it' }).click();
  await page.getByRole('link', { name: 'Hand over' }).click();
  await page.getByRole('heading', { name: 'Hand it over.' }).waitFor();
  await page.getByText('Save the run').waitFor();
  await isPlainPage(page);
  await pictures(page, 'hand-over', { fullPage: true });

  const again = await savedBy(page, 'Save the run');
  expect(again.name).toMatch(/^2026-\d\d-\d\d-dark.*\.jsonl$/);
  expect(again.bytes.equals(Buffer.from(text, 'utf8'))).toBe(true);

  const curve = await savedBy(page, 'Save the curve');
  const rows: Record<string, string>[] = parse(curve.bytes, { columns: true });
  expect(rows.length).toBeGreaterThan(500);
  expect(Number(rows[0]!['t_s'])).toBeGreaterThanOrEqual(0);

  const table = await savedBy(page, 'Save the table');
  expect(parse(table.bytes, { bom: true }).some((row: string[]) => row.at(-1) === `'=tray 2; "like honey", Ana`)).toBe(
    true,
  );

  const lines = await savedBy(page, 'Save as lines, SVG');
  expect(lines.bytes.toString('utf8')).toContain('<title>Candied ginger, third batch');

  const points = await savedBy(page, 'Save as points, PNG');
  expect(points.bytes.subarray(1, 4).toString('latin1')).toBe('PNG');
  expect([points.bytes.readUInt32BE(16), points.bytes.readUInt32BE(20)]).toEqual([2_400, 1_240]);
  keepPicture('handed-over-points.png', points.bytes);

  const kept = await savedBy(page, 'Save the page');
  await opensAlone(kept.bytes, text);
});

/** From a folder, with no network and no script. */
async function opensAlone(html: Buffer, text: string): Promise<void> {
  const path = join(freshFolder(), 'kept.html');
  writeFileSync(path, html);
  const page = await openPage({ ...TABLET, javaScriptEnabled: false, offline: true });
  const asked: string[] = [];
  page.on('request', (request) => asked.push(request.url()));
  await page.goto(`file://${path}`);
  expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('Candied ginger, third batch');
  expect(await page.getByRole('img', { name: /Candied ginger/ }).boundingBox()).toMatchObject({
    width: expect.any(Number) as number,
  });
  await page.getByText('The curve, minute by minute').click();
  expect(await page.getByRole('row').count()).toBeGreaterThan(20);
  expect(asked).toEqual([`file://${path}`]);
  await pictures(page, 'kept-page', { fullPage: true });
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByText('Take the whole run out of this page').click(),
  ]);
  expect(readFileSync(await download.path(), 'utf8')).toBe(text);
}

test('a file that is here already, one that is spoiled and one that is none are told of in a sentence', async () => {
  const kitchen = await openKitchenWithPage();
  const page = await openPage(PHONE);
  const { text } = runFile();
  await broughtIn(kitchen, page, 'run.jsonl', text.replace('lumps', 'bumps'));
  await page.getByRole('heading', { name: 'Not brought in.' }).waitFor();
  await page.getByText(/^run\.jsonl: Line \d+: the checksum does not fit/).waitFor();
  await pictures(page, 'bring-in-spoiled');
  await broughtIn(kitchen, page, 'photo.jpg', Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0, 1, 2, 3]));
  await page.getByText('The file is empty, or no text.').waitFor();
  await broughtIn(kitchen, page, 'run.jsonl', text);
  await page.getByRole('button', { name: 'Bring it in' }).click();
  await page.getByRole('heading', { name: 'It is here.' }).waitFor();
  await page.reload();
  await broughtIn(kitchen, page, 'run.jsonl', text);
  await page.getByRole('heading', { name: 'It is here already.' }).waitFor();
  expect(await page.getByRole('button', { name: 'Bring it in' }).count()).toBe(0);
});

test('a table from elsewhere is read as a person says, shown before it is taken, and judged', async () => {
  const kitchen = await openKitchenWithPage();
  const page = await openPage(PHONE);
  const rows = Array.from(
    { length: 400 },
    (_, at) => `${String(at / 6).replace('.', ',')};${String(22 + at / 10).replace('.', ',')}`,
  );
  await broughtIn(
    kitchen,
    page,
    'Ginger in May.csv',
    Buffer.from(`Zeit;Wärme °C\r\n${rows.join('\r\n')}\r\n`, 'latin1'),
  );
  await page.getByRole('heading', { name: 'A table. Is this how it is meant?' }).waitFor();
  await page.getByRole('columnheader', { name: /Wärme °C/ }).waitFor();
  await isPlainPage(page);
  await page.getByText('400 readings over 67 s.').waitFor();
  await page.getByLabel('Time is in').selectOption('minutes');
  await page.getByText('400 readings over 1 h 7 min.').waitFor();
  await pictures(page, 'bring-in-table', { fullPage: true });
  await page.getByLabel('Decimal mark').selectOption('point');
  await page.getByText(/^Ginger in May\.csv: Line \d+: the t/).waitFor();
  expect(await page.getByRole('button', { name: 'Bring it in' }).isDisabled()).toBe(true);
  await page.getByLabel('Decimal mark').selectOption('comma');
  await page.getByText('400 readings over 1 h 7 min.').waitFor();
  await page.getByLabel('It began').fill('2026-05-03T14:02');
  await page.getByRole('button', { name: 'Bring it in' }).click();
  await page.getByRole('link', { name: 'Open it' }).click();
  await page.getByRole('link', { name: 'Hand over' }).waitFor();
  await page.getByText(/^Brought in from a file on /).waitFor();
  const [listed] = kitchen.bowl.store.runs({ most: 2, after: 0 }).runs;
  expect(listed).toMatchObject({ name: 'Ginger in May', profile: 'dark', durationMs: 3_990_000 });
  expect(listed!.visits[0]!.phase).toBe('melt');
});

test('one press opens the sheet for the paper that lies in the printer, and asks for the printer; at 320 px and in the dark all can be hit', async () => {
  const kitchen = await openKitchenWithPage();
  const page = await openPage({ ...WITH_A_PRINTER, viewport: { width: 320, height: 640 }, colorScheme: 'dark' });
  const { run, text } = runFile();
  await broughtIn(kitchen, page, 'run.jsonl', text);
  await page.getByRole('button', { name: 'Bring it in' }).click();
  await page.getByRole('heading', { name: 'It is here.' }).waitFor();
  await page.goto(`${kitchen.address}/#/hand-over/${run}`);
  await page.getByText('Save the run').waitFor();
  await isPlainPage(page);
  await picture(page, 'hand-over-320-dark', { fullPage: true });
  await page.context().addInitScript(() => {
    window.print = () => void (document.documentElement.dataset['printed'] = 'yes');
  });
  const [sheet] = await Promise.all([page.waitForEvent('popup'), page.getByText('Print on Letter').click()]);
  await sheet.locator('html[data-printed=yes]').waitFor({ state: 'attached' });
  expect(sheet.url()).toBe(`${kitchen.address}/api/runs/${run}/sheet.html?unit=c&decimal=point&paper=letter`);
  await page.goto(`${kitchen.address}/#/hand-over/nobody-knows-it`);
  await page.getByText('There is no run nobody-knows-it.').waitFor();
});

/** A story with as much said of it as anybody may say. */
function longTold() {
  const long =
    'A note that somebody dictated while stirring, about lumps, the left side, the second tray, and the weather. '.repeat(
      18,
    );
  const notes = Array.from(
    { length: 60 },
    (_, at) => [1 + at * 0.7, at % 3 === 0 ? long.slice(0, 1_900) : `tray ${at}`] as const,
  );
  const change = {
    ...CARD.change,
    name: long.slice(0, 120),
    centre: long.slice(0, 120),
    lot: long.slice(0, 120),
    allergens: long.slice(0, 1_900),
    signedBy: long.slice(0, 120),
    outcome: { ...NOT_LOOKED_AT, verdict: 'usable', words: long.slice(0, 400) } as const,
  };
  return toldStory('temper-lost-and-recovered', notes, [{ ...CARD, change }]);
}

/** The same with short notes by the dozen, and nobody wrote on its card. */
function notedTold() {
  return toldStory(
    'temper-lost-and-recovered',
    Array.from({ length: 40 }, (_, at) => [1 + at * 0.7, `tray ${at}`] as const),
    [],
  );
}

describe('the run sheet on paper', () => {
  test.each(
    (Object.keys(PAPERS) as Paper[]).flatMap((paper) => [
      [paper, 'as usual', () => toldStory('overshoot-in-rewarm', NOTES)] as const,
      [paper, 'with far too much', longTold] as const,
      [paper, 'with much noted and an empty card', notedTold] as const,
    ]),
  )('is one page of %s, %s, with nothing cut off', async (paper, name, told) => {
    const page = await openPage();
    await page.setContent(runSheet(told(), PLAIN, paper).html);
    const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true });
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
    const [, width, height] = /\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf.toString('latin1'))!;
    expect(Number(width)).toBeCloseTo((PAPERS[paper].widthMm / 25.4) * 72, -0.5);
    expect(Number(height)).toBeCloseTo((PAPERS[paper].heightMm / 25.4) * 72, -0.5);
    await page.emulateMedia({ media: 'print' });
    await page.setViewportSize({
      width: Math.round((PAPERS[paper].widthMm - 24) * 3.7795),
      height: Math.round((PAPERS[paper].heightMm - 24) * 3.7795),
    });
    await picture(page, `sheet-${paper}-${name.replaceAll(' ', '-')}`);
    const cut = await page.evaluate(() => {
      const main = document.querySelector('main')!.getBoundingClientRect();
      const parts = [...document.querySelectorAll('main > *')];
      const happenings = document.querySelector('.happenings')!;
      return {
        outside: parts.filter((part) => part.getBoundingClientRect().bottom > main.bottom + 1).length,
        hidden: happenings.scrollHeight - happenings.clientHeight,
        lines: happenings.querySelectorAll('li').length,
      };
    });
    expect(cut).toMatchObject({ outside: 0, hidden: 0 });
    expect(cut.lines).toBeGreaterThanOrEqual(3);
  });

  test('is served with its own look, and nothing else of the page’s rules given up', async () => {
    const kitchen = await openKitchenWithPage();
    const page = await openPage();
    const { run, text } = runFile();
    await broughtIn(kitchen, page, 'run.jsonl', text);
    await page.getByRole('button', { name: 'Bring it in' }).click();
    await page.getByRole('heading', { name: 'It is here.' }).waitFor();
    const response = await page.goto(`${kitchen.address}/api/runs/${run}/sheet.html?paper=letter`);
    expect(response!.headers()['content-security-policy']).not.toContain('unsafe');
    expect(await page.evaluate(() => getComputedStyle(document.querySelector('main')!).display)).toBe('flex');
    await page.setViewportSize(PHONE.viewport!);
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBe(0);
    expect(await axeFaults(page)).toEqual([]);
  });
});
