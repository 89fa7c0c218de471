/**
 * Words that would be script or markup, put wherever a person can put words: they are shown as words, in the page and in what is handed over,
 * nothing of them runs, and no page asks anything of anybody else.
 */
import { expect, test } from 'vitest';
import { asks } from '../support/asks.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { openKitchenWithPage } from '../support/served-bowl.ts';

useScreens();

const EVIL = [
  '<img src=x onerror="window.evil=1">',
  '<script>window.evil=1</script>',
  '"><svg onload=window.evil=1>',
  "javascript:window.evil=1//'",
  '</style></title></textarea><script>window.evil=1</script>',
  '{{constructor.constructor("window.evil=1")()}}',
  '=HYPERLINK("http://evil.example","x")',
].join(' ');
/** Where it fits in one line of a card. */
const SHORT = '"><img src=x onerror=window.evil=1>';

test('hostile notes, names and tags stay words on every page and in every file, and nothing is fetched from elsewhere', async () => {
  const { bowl, address } = await openKitchenWithPage();
  const run = bowl.begin();
  bowl.ramp(30, 46, 200);
  await bowl.store.flush();
  const door = asks(address);
  const note = { atMs: bowl.clock.nowMs() - 60_000, text: EVIL.slice(0, 280), tags: ['<b>t</b>'] };
  expect((await door.post(`/api/runs/${run}/notes`, note)).status).toBe(201);
  const change = { name: SHORT, lot: SHORT, centre: SHORT, tags: ['<i>x</i>'] };
  expect((await door.post(`/api/runs/${run}/card`, { change, by: SHORT })).status).toBeLessThan(300);
  const page = await openScreen(address);
  const elsewhere: string[] = [];
  page.on('request', (request) => {
    const { protocol, host } = new URL(request.url());
    if (!['data:', 'blob:'].includes(protocol) && host !== new URL(address).host) elsewhere.push(request.url());
  });
  await page.reload();
  await page.locator('main.run').waitFor();
  bowl.says({ name: 'end' });
  await bowl.store.flush();

  for (const place of [
    `#/runs/${run}`,
    '#/runs',
    `#/judged/${run}`,
    `#/hand-over/${run}`,
    '#/kept',
    '#/bin',
    '#/screens',
    '#/',
  ]) {
    await page.goto(`${address}/${place}`);
    await page.locator('main:not([aria-busy="true"]) h1').waitFor();
    expect(await page.evaluate(() => 'evil' in window), place).toBe(false);
    expect(await page.locator('img[src="x"], svg[onload]').count(), place).toBe(0);
  }
  await page.goto(`${address}/#/runs/${run}`);
  await page.getByText('onerror="window.evil=1"', { exact: false }).first().waitFor();

  // What is handed over opens on its own, where our headers don't reach.
  for (const file of ['sheet.html', 'page.html', 'curve.svg']) {
    const { body } = await door.get(`/api/runs/${run}/${file}`);
    const text = String(body);
    expect(text.includes('&lt;img src=x'), file).toBe(true);
    expect(/<script|<img|<svg onload|<b>t|<i>x/i.exec(text)?.[0], file).toBeUndefined();
    await page.goto('about:blank');
    await page.setContent(text, { waitUntil: 'load' });
    expect(await page.evaluate(() => 'evil' in window), file).toBe(false);
  }
  const sheet = String((await door.get(`/api/runs/${run}/spreadsheet.csv`)).body);
  expect(sheet).not.toMatch(/(?:^|[;,\t\n"])[=+@]/m);
  expect(elsewhere).toEqual([]);
});
