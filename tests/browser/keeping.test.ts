/** Profiles and backups in the built page on the real server: made from a bag, changed, deleted; kept, put back. */
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { TABLET } from '../support/browser.ts';
import { layoutFaults } from '../support/faults.ts';
import { looksRight } from '../support/looks.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { openKitchenWithPage } from '../support/served-bowl.ts';
import { shipped } from '../support/shipped.ts';
import { freshFolder } from '../support/store.ts';

useScreens();

/** Every control can be hit. */
const controls = (page: Page): Promise<string[]> => layoutFaults(page, 64, 12);

const saysAct = (page: Page, words: string) => page.locator('h1', { hasText: words }).waitFor();

async function openPage(hash: string) {
  const kitchen = await openKitchenWithPage();
  const page = await openScreen(`${kitchen.address}/#/${hash}`, TABLET, /WebSocket|status of 4(00|09)/);
  return { ...kitchen, page };
}

describe('profiles', () => {
  test('numbers from the bag: the road grows as they are typed, what cannot be is said at its field, and it can be chosen at once', async () => {
    const { page, shelf } = await openPage('');
    await page.getByRole('link', { name: 'Numbers from the bag' }).click();
    await saysAct(page, 'What does the bag say?');
    await page.getByLabel('Melt to').fill('48');
    await page.getByLabel('Cool to').fill('27');
    await page.getByLabel('Work at').fill('31,5');
    const road = page.locator('.profile-road');
    await expect.poll(() => road.getAttribute('aria-label')).toContain('Melt 48–50, ceiling 51. Cool 26–27, floor 25.');
    await expect.poll(() => road.getAttribute('aria-label')).toContain('Work 31–32, ceiling 32.5, lost 34, floor 30.5');
    await page.getByText('From the bag: work at 31.5 °C').first().waitFor();
    await looksRight(page, 'keeping-bag', controls);
    await page.getByLabel('Cool to').fill('35');
    await expect.poll(() => page.getByLabel('Cool to').getAttribute('aria-invalid')).toBe('true');
    expect(await page.getByRole('alert').innerText()).toMatch(/begins at 31\s°C/);
    expect(await road.isVisible()).toBe(false);
    await looksRight(page, 'keeping-bag-wrong', controls);
    await page.getByLabel('Cool to').fill('26–27');
    await road.waitFor();
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByLabel('Name').and(page.locator('[aria-invalid=true]')).fill('House dark');
    await page.getByLabel('Kind of chocolate').fill('dark');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await saysAct(page, 'House dark');
    expect(shelf.find('house-dark')?.phases[1]?.bandC).toEqual([26, 27]);
    await page.getByRole('link', { name: 'To the bowl' }).click();
    await page.getByRole('button', { name: /House dark/ }).click();
    await page.getByText('How does it stand?').first().waitFor();
  });

  test('the name of one that is there already is complained of at the name', async () => {
    const { page, shelf } = await openPage('bag');
    shelf.add({ ...shipped('dark'), id: 'mine', title: 'Mine' });
    for (const [label, text] of [
      ['Name', 'MINE'],
      ['Kind of chocolate', 'dark'],
      ['Melt to', '45–50'],
      ['Cool to', '27–28'],
      ['Work at', '31–32'],
    ] as const)
      await page.getByLabel(label).fill(text);
    await page.getByRole('button', { name: 'Keep it' }).click();
    await expect.poll(() => page.getByLabel('Name').getAttribute('aria-invalid')).toBe('true');
    expect(await page.getByRole('alert').innerText()).toContain('There is a profile mine already');
  });

  test('a shipped one is shown with its sources and can only be duplicated; the copy is changed, with the road going along, and kept', async () => {
    const { page, shelf } = await openPage('profiles');
    await saysAct(page, 'Your chocolates.');
    await looksRight(page, 'keeping-profiles', controls);
    await page.getByRole('link', { name: /Dark chocolate/ }).click();
    await saysAct(page, 'Dark chocolate');
    await page.getByText('It came with Bowlside and stays as it is.').waitFor();
    await page.getByText('Ours, 2 °C over the band.').first().waitFor();
    expect(await page.getByRole('button', { name: 'Delete it' }).count()).toBe(0);
    await looksRight(page, 'keeping-shipped', controls);
    await page.getByRole('button', { name: 'Duplicate it' }).click();
    await page.getByLabel('What is the copy called?').fill('Ginger dark');
    await page.getByRole('button', { name: 'Keep the copy' }).click();
    await saysAct(page, 'Ginger dark');

    const work = page.getByRole('group', { name: /^Work/ });
    await work.getByLabel('Ceiling').fill('31');
    await page.getByText('One number can’t be right yet.').waitFor();
    expect(await work.getByRole('alert').innerText()).toContain("Must not be below the band's high edge, 32");
    expect(await page.getByRole('button', { name: 'Keep it' }).isDisabled()).toBe(true);
    await looksRight(page, 'keeping-own-wrong', controls);
    await work.getByLabel('Ceiling').fill('33');
    await expect
      .poll(() => page.locator('.profile-road').getAttribute('aria-label'))
      .toContain('Work 31–32, ceiling 33, lost 34');
    await work.getByText('Changed by hand.').waitFor();
    await page.getByRole('group', { name: /^Cool/ }).getByLabel('Hold, minutes').fill('4.5');
    await page.getByRole('group', { name: /^Melt/ }).getByLabel('Ceiling').fill('');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('Kept. It can be chosen at once.').waitFor();
    const kept = shelf.find('ginger-dark')!;
    expect(kept.phases[3]).toMatchObject({ ceilingC: 33 });
    expect(kept.phases[1]).toMatchObject({ holdS: 270 });
    expect(kept.phases[0]).not.toHaveProperty('ceilingC');
    expect(kept.sources).toMatchObject({ 'phases.work.ceilingC': 'Changed by hand.' });
    expect(kept.sources).not.toHaveProperty('phases.melt.ceilingC');
    expect(shelf.find('dark')).toEqual(shipped('dark'));

    await page.getByRole('button', { name: 'Leave out Rewarm' }).click();
    await page.getByRole('button', { name: 'As it was' }).click();
    await page.getByRole('button', { name: 'Leave out Rewarm' }).waitFor();
  });

  test('one’s own is deleted in two steps in two places', async () => {
    const { page, shelf } = await openPage('profiles');
    shelf.add({ ...shipped('dark'), id: 'mine', title: 'Mine' });
    await page.goto(`${page.url().split('#')[0]}#/profiles/mine`);
    await saysAct(page, 'Mine');
    const first = page.getByRole('button', { name: 'Delete it' });
    await first.click();
    await page.getByText('Delete it for good?').waitFor();
    expect(shelf.find('mine')).not.toBeNull();
    await looksRight(page, 'keeping-own-deleting', controls);
    await page
      .getByRole('group', { name: /Delete it for good/ })
      .getByRole('button', { name: 'Keep it' })
      .click();
    await first.click();
    await page.getByRole('button', { name: 'Delete', exact: true }).click();
    await saysAct(page, 'Your chocolates.');
    expect(shelf.find('mine')).toBeNull();
  });

  test('in °F numbers are typed and shown as such, and what nobody touched stays as it was', async () => {
    const { page, shelf } = await openPage('profiles/mine');
    shelf.add({ ...shipped('dark'), id: 'mine', title: 'Mine' });
    await page.evaluate(() =>
      localStorage.setItem(
        'bowlside.viewer',
        JSON.stringify({ unit: 'F', look: 'auto', isFar: false, knowsSleep: true }),
      ),
    );
    await page.reload();
    const work = page.getByRole('group', { name: /^Work, kept there, °F/ });
    expect(await work.getByLabel('Ceiling').inputValue()).toBe('90.5');
    await work.getByLabel('Ceiling').fill('91.4');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('Kept. It can be chosen at once.').waitFor();
    expect(shelf.find('mine')?.phases).toEqual(
      shipped('dark').phases.map((phase) => (phase.id === 'work' ? { ...phase, ceilingC: 33 } : phase)),
    );
  });

  test('files that are no profiles are named', async () => {
    const folder = freshFolder();
    mkdirSync(join(folder, 'profiles'));
    writeFileSync(join(folder, 'profiles', 'half.json'), '{"id":');
    const { address } = await openKitchenWithPage(folder);
    const page = await openScreen(`${address}/#/profiles`);
    await page.getByText('half.json: line 1').waitFor();
    await looksRight(page, 'keeping-profiles-left-out', controls);
  });
});

describe('what is kept', () => {
  test('one is made now and checked; it is put back in two steps, and what was there is kept', async () => {
    const { page, bowl } = await openPage('kept');
    bowl.begin();
    bowl.says({ name: 'end' });
    await bowl.store.flush();
    await page.getByText('No backup yet.').waitFor();
    await looksRight(page, 'keeping-kept-none', controls);
    await page.getByRole('button', { name: 'Make one now' }).click();
    await page.getByText('Made and checked.').waitFor();
    await page.getByText('checked, whole').waitFor();
    await page.getByText(join(bowl.store.folder, 'backups')).waitFor();
    await page.getByText(/free on that disk/).waitFor();
    const fetched = page.waitForEvent('download');
    await page.getByRole('link', { name: 'Fetch the file' }).click();
    expect((await fetched).suggestedFilename()).toMatch(/^by-hand-.*\.sqlite$/);

    bowl.begin();
    bowl.says({ name: 'end' });
    await bowl.store.flush();
    const runs = (): number => bowl.store.runs({ most: 1, after: 0 }).total;
    expect(runs()).toBe(2);
    await page.getByRole('button', { name: 'Put it back' }).click();
    await page.getByText('All runs will be those of this backup.').waitFor();
    await looksRight(page, 'keeping-kept-asking', controls);
    await page.getByRole('button', { name: 'Leave it' }).click();
    expect(runs()).toBe(2);
    await page.getByRole('button', { name: 'Put it back' }).click();
    await page
      .getByRole('group', { name: /All runs/ })
      .getByRole('button', { name: 'Put it back' })
      .click();
    await page.getByText('what was there before one was put back').waitFor();
    expect(runs()).toBe(1);
    expect(await page.locator('.backup-row').count()).toBe(2);
    await looksRight(page, 'keeping-kept', controls);
    await page.getByRole('button', { name: 'Delete' }).last().click();
    await page.getByRole('button', { name: 'Delete it' }).click();
    await expect.poll(() => page.locator('.backup-row').count()).toBe(1);
    expect(readdirSync(join(bowl.store.folder, 'backups'))).toHaveLength(1);
  });

  test('while a run is going none is put back, and it says why', async () => {
    const { page, bowl } = await openPage('kept');
    await page.getByRole('button', { name: 'Make one now' }).click();
    await page.getByText('Made and checked.').waitFor();
    bowl.begin();
    await page.getByRole('button', { name: 'Put it back' }).click();
    await page
      .getByRole('group', { name: /All runs/ })
      .getByRole('button', { name: 'Put it back' })
      .click();
    await page.getByText('A run is going. End it, and put the backup back then.').waitFor();
  });

  test('a damaged one is named with its damage, and cannot be put back', async () => {
    const { page, bowl } = await openPage('');
    const bad = join(bowl.store.folder, 'backups', 'bad');
    mkdirSync(bad, { recursive: true });
    writeFileSync(join(bad, 'nightly-2026-11-24T03-30-00Z.sqlite'), 'torn');
    writeFileSync(join(bad, 'nightly-2026-11-24T03-30-00Z.sqlite.txt'), 'page 7 is torn\n');
    await page.goto(`${page.url().split('#')[0]}#/kept`);
    await page.getByText('Damaged: page 7 is torn. It doesn’t count.').waitFor();
    expect(await page.getByRole('button', { name: 'Put it back' }).count()).toBe(0);
    await looksRight(page, 'keeping-kept-damaged', controls);
  });
});
