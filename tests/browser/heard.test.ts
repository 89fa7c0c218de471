/** The page on which one sees what the thermometer says and how it is understood: three thermometers, a tablet and a telephone. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { axeFaults } from '../support/axe.ts';
import { PHONE, TABLET } from '../support/browser.ts';
import { pictures } from '../support/picture.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { openKitchenWithPage } from '../support/served-bowl.ts';

useScreens();

async function shown(page: Page, address: string): Promise<void> {
  await page.goto(`${address}/#/heard`);
  await page.locator('main.plain:not([aria-busy="true"])').waitFor();
}

async function isWell(page: Page, name: string): Promise<void> {
  await pictures(page, name, { fullPage: true });
  expect(await axeFaults(page)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
}

test('each line with what is understood of it, and a value chosen by hand', async () => {
  const { bowl, address } = await openKitchenWithPage();
  bowl.hears('** probe board, ready **');
  for (let n = 0; n < 9; n += 1) bowl.hears(`${n * 2 + 40}\t${(31 + 0.03 * (n % 7)).toFixed(2)}\t45.0\t${n % 2}`);
  bowl.hears('ERR 4');
  const page = await openScreen('about:blank', TABLET);
  await shown(page, address);
  await page.getByText('Four values between tabs; the second is the temperature.').waitFor();
  await page.getByText('56⇥31.03⇥45.0⇥0').waitFor();
  await page.getByText('Ignored: the thermometer tells of a fault').waitFor();
  await page.getByText('Ignored: no number in it').or(page.getByText('Ignored: there is no number in it')).waitFor();
  await isWell(page, 'heard');
  await page.getByLabel('What the third value is').selectOption('Bath');
  await page
    .getByText(/Chocolate 31\.03\s°C, Bath 45\.0\s°C|Chocolate 31\.0\s°C, Bath 45\.0\s°C/)
    .first()
    .waitFor();
  expect(bowl.session.heard().lines[1]?.values[2]).toMatchObject({ role: 'bath', valueC: 45 });
});

test('one number or two: asked, and answered by a tap', async () => {
  const { bowl, address } = await openKitchenWithPage();
  for (let n = 0; n < 25; n += 1) bowl.hears(`31,4${n % 2}`);
  const page = await openScreen('about:blank', PHONE);
  await shown(page, address);
  await page.getByRole('heading', { name: 'One number, or two?' }).waitFor();
  await isWell(page, 'heard-comma');
  await page.getByRole('button', { name: 'One number: 31.4' }).click();
  await page.getByText('With decimal commas.').waitFor();
  expect(bowl.session.now(1).reading?.valueC).toBe(31.4);
  await isWell(page, 'heard-answered');
});

test('which value is the chocolate: asked from the start page on, and answered below', async () => {
  const { bowl, address } = await openKitchenWithPage();
  for (let n = 0; n < 25; n += 1) bowl.hears(`${48 + ((n >> 1) % 2)},${(31 + 0.03 * (n % 7)).toFixed(2)}`);
  const page = await openScreen(address, PHONE);
  await page.getByRole('link', { name: 'What it says, and how it is understood' }).click();
  await page.getByRole('heading', { name: 'Which value is the chocolate?' }).waitFor();
  await isWell(page, 'heard-which');
  await page.getByLabel('What the second value is').selectOption('Chocolate');
  await page.getByText('This is understood.').waitFor();
  await expect.poll(() => bowl.session.now(1).reading?.valueC).toBeCloseTo(31, 0);
});
