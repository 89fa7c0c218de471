/** Another screen over a network: a code is made at the machine, typed elsewhere, and the screen looks on until it is shut out. */
import type { IncomingMessage } from 'node:http';
import { expect, test } from 'vitest';
import { axeFaults } from '../support/axe.ts';
import { PHONE, TABLET } from '../support/browser.ts';
import { doorkeeper } from '../support/doorkeeper.ts';
import { widthFaults } from '../support/faults.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { openKitchenWithPage } from '../support/served-bowl.ts';
import { pictures } from '../support/shown-page.ts';

useScreens();

/** The telephone is told from the machine by what it calls itself: both are on this one. */
const TELEPHONE = 'a telephone elsewhere';
const isHere = ({ headers }: IncomingMessage): boolean => headers['user-agent'] !== TELEPHONE;

/** What the telephone may complain of: it is refused on purpose. */
const REFUSALS = /WebSocket|ERR_CONNECTION|40[13]/;

test('comes with a code, looks on, can do nothing, and is shut out at once', async () => {
  const { bowl, address } = await openKitchenWithPage(undefined, Date.now, doorkeeper(undefined, isHere), '0.0.0.0');
  bowl.begin();
  const host = await openScreen(`${address}/#/screens`);
  await host.getByText('No other screen is let in.').waitFor();
  await host.getByRole('button', { name: 'A code to look on' }).click();
  const code = await host.locator('.screen-code-letters').innerText();
  expect(await axeFaults(host)).toEqual([]);
  await pictures(host, 'screens-code');
  for (const width of [PHONE.viewport!.width, 320]) {
    await host.setViewportSize({ ...PHONE.viewport!, width });
    expect(await widthFaults(host)).toEqual([]);
  }
  await host.setViewportSize(TABLET.viewport!);

  const phone = await openScreen(address, { ...PHONE, userAgent: TELEPHONE }, REFUSALS);
  await phone.getByRole('heading', { name: 'This screen is not let in yet.' }).waitFor();
  expect(await axeFaults(phone)).toEqual([]);
  await phone.getByLabel('The code').fill('0000-0000');
  await phone.getByRole('button', { name: 'Let me in' }).click();
  await phone.getByText('That code does not hold.').waitFor();
  await pictures(phone, 'pair');
  await phone.getByLabel('The code').fill(code.toLowerCase());
  await phone.getByLabel('What this screen is called').fill('Phone of the class');
  await phone.getByRole('button', { name: 'Let me in' }).click();
  await phone.getByText('This screen looks on.').waitFor();
  expect(await axeFaults(phone)).toEqual([]);
  await pictures(phone, 'looking-on');
  expect(await phone.getByRole('button', { name: 'Note it' }).count()).toBe(0);
  bowl.ramp(30, 54, 400);
  await phone.locator('main.alarm').waitFor();
  expect(await phone.getByRole('button', { name: /Seen/ }).count()).toBe(0);
  await pictures(phone, 'looking-on-alarm');
  const refused = await phone.evaluate(async () => {
    const asked = { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{"name":"end"}' };
    return (await fetch('/api/bowls/bowl-1/commands', asked)).status;
  });
  expect(refused).toBe(403);
  expect(bowl.session.status().state).toBe('going');

  await host.getByRole('button', { name: /Seen/ }).click();
  await host.getByText('Phone of the class').waitFor();
  await pictures(host, 'screens-guest');
  await host.getByRole('button', { name: 'Shut out: Phone of the class' }).click();
  await host.getByRole('button', { name: 'Shut it out' }).click();
  await phone.getByRole('heading', { name: 'This screen was shut out.' }).waitFor();
  await phone.reload();
  await phone.getByRole('heading', { name: 'This screen is not let in yet.' }).waitFor();
});
