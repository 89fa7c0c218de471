/** A run judged again, on the built page and the real server: a second log beside the first, which stays as it was. */
import { expect, test } from 'vitest';
import { axeFaults } from '../support/axe.ts';
import { PHONE } from '../support/browser.ts';
import { picture, pictures } from '../support/picture.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { openKitchenWithPage } from '../support/served-bowl.ts';
import type { Bowl } from '../support/server.ts';

useScreens();

/** Melted, cooled, rewarmed too far, worked with for a while, and ended. */
async function afternoon(bowl: Bowl): Promise<string> {
  const run = bowl.begin();
  bowl.ramp(30, 47, 400);
  bowl.ramp(47, 47, 120);
  bowl.ramp(47, 27.3, 900);
  bowl.ramp(27.3, 27.3, 300);
  bowl.ramp(27.3, 33, 300);
  bowl.ramp(33, 31.5, 200);
  bowl.ramp(31.5, 31.4, 600);
  bowl.says({ name: 'end' });
  await bowl.store.flush();
  return run;
}

test('by today’s engine it is the same log; as another chocolate it is not; one is looked at, and taken away', async () => {
  const { bowl, address } = await openKitchenWithPage();
  const run = await afternoon(bowl);
  const first = bowl.store.openRun(run);
  const page = await openScreen(`${address}/#/runs/${run}`);
  await page.getByRole('link', { name: 'Judge again' }).click();
  await page.getByRole('heading', { level: 1, name: 'Judge it again.' }).waitFor();
  await pictures(page, 'judge');
  await page.getByRole('button', { name: 'By today’s engine' }).click();
  await page.getByRole('heading', { level: 1, name: 'The same log.' }).waitFor();
  expect(await page.getByText('As it should be: same engine, same numbers.').count()).toBe(1);
  expect(await page.getByText('None worth a word.').count()).toBe(1);
  expect(await page.locator('.compared .differs').count()).toBe(0);
  await page.getByRole('button', { name: 'As Milk chocolate' }).click();
  await page.getByRole('heading', { level: 1, name: 'As Milk chocolate.' }).waitFor();
  const differing = page.locator('.compared .differs');
  expect(await differing.filter({ hasText: 'Engine' }).innerText()).toContain('Milk chocolate');
  expect(await page.getByRole('img', { name: /^Two curves of what the chocolate was/ }).count()).toBe(1);
  await page.evaluate(() => scrollTo(0, 0));
  await pictures(page, 'judged');
  expect(await axeFaults(page)).toEqual([]);
  await page.getByRole('button', { name: /^Dark chocolate, / }).click();
  await page.getByRole('heading', { level: 1, name: 'The same log.' }).waitFor();
  await page.getByRole('button', { name: 'Take this log away' }).click();
  await page.getByRole('heading', { level: 1, name: 'As Milk chocolate.' }).waitFor();
  await page.getByRole('button', { name: /^Dark chocolate, / }).waitFor({ state: 'detached' });
  expect(bowl.store.judgements.of(run)).toHaveLength(1);
  expect(bowl.store.openRun(run)).toEqual(first);
});

test('fits a phone in the dark, and a refusal is said in words', async () => {
  const { bowl, address } = await openKitchenWithPage();
  const run = await afternoon(bowl);
  const page = await openScreen(`${address}/#/judged/${run}`, { ...PHONE, colorScheme: 'dark' });
  await page.getByRole('button', { name: 'As Milk chocolate' }).click();
  await page.getByRole('heading', { level: 1, name: 'As Milk chocolate.' }).waitFor();
  await page.locator('.compared').scrollIntoViewIfNeeded();
  await picture(page, 'judged-table-phone-dark');
  expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
  expect(await axeFaults(page)).toEqual([]);
  await page.route('**/judgements', (route) =>
    route.request().method() === 'POST'
      ? route.fulfill({ status: 409, json: { detail: 'Another run is being judged; try again in a moment.' } })
      : route.continue(),
  );
  await page.getByRole('button', { name: 'By today’s engine' }).click();
  await page.getByRole('alert').waitFor();
  expect(await page.getByRole('alert').innerText()).toBe('Another run is being judged; try again in a moment.');
});
