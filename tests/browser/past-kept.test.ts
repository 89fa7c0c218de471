/** A past run on the built page and the real server: played back from its columns and readings, noted on, and all of it still there later. */
import { expect, test } from 'vitest';
import { axeFaults } from '../support/axe.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { openKitchenWithPage } from '../support/served-bowl.ts';

useScreens();

test('a span is noted, changed and struck out, in the file too; the head plays what was read', async () => {
  const { bowl, address } = await openKitchenWithPage();
  const run = bowl.begin();
  bowl.ramp(30, 47, 400);
  bowl.ramp(47, 30, 800);
  bowl.says({ name: 'end' });
  await bowl.store.flush();
  const page = await openScreen(`${address}/#/runs/${run}`);
  const press = (name: string): Promise<void> => page.getByRole('button', { name, exact: true }).last().click();
  const figure = page.locator('.head-number .figures');
  await page.getByRole('slider', { name: 'Moment shown' }).waitFor();
  for (let i = 0; i < 8; i++) await press('Back 1 min');
  await press('Span from here');
  for (let i = 0; i < 3; i++) await press('On 1 min');
  await press('Note up to here');
  await page.getByLabel('In your own words').fill('cold bath, stirred');
  await page.getByLabel('Tags, with commas between them').fill('bath');
  await press('Note it');
  await page.getByRole('row', { name: /cold bath, stirred \(bath\)/ }).waitFor();
  await bowl.store.flush();
  const [note] = bowl.store.openRun(run)!.notes;
  expect(note).toMatchObject({ text: 'cold bath, stirred', tags: ['bath'] });
  expect(note!.untilMs! - note!.atMs).toBe(180_000);

  await page.reload();
  await page.getByRole('button', { name: /^Change: cold bath/ }).click();
  await page.getByRole('button', { name: 'End: 1 min earlier' }).click();
  await press('Keep it');
  await expect.poll(() => bowl.store.openRun(run)!.notes.length).toBe(2);
  expect(bowl.store.openRun(run)!.notes[1]).toMatchObject({
    replaces: `note-${note!.id}`,
    untilMs: note!.untilMs! - 60_000,
    tags: ['bath'],
  });
  await page.getByRole('button', { name: /^Change: cold bath/ }).click();
  await press('Strike it out');
  await page.getByText('Struck out').waitFor();
  expect(bowl.store.openRun(run)!.notes[0]).toEqual(note);

  await press('Event before');
  const before = await figure.getAttribute('aria-label');
  await press('Play');
  await expect.poll(() => figure.getAttribute('aria-label')).not.toBe(before);
  await press('Stop');
  expect(await axeFaults(page)).toEqual([]);
});
