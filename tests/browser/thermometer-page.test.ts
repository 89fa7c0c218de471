/** The page about the thermometer's port, on the built program and a pseudo-terminal that speaks only when asked. */
import { expect, onTestFinished, test } from 'vitest';
import { readSettings } from '../../server/settings.ts';
import { axeFaults, bringAxe } from '../support/axe.ts';
import { PHONE, TABLET } from '../support/browser.ts';
import { layoutFaults } from '../support/faults.ts';
import { pictures } from '../support/picture.ts';
import { openPty } from '../support/pty.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { serve } from '../support/serving.ts';
import { freshFolder } from '../support/store.ts';

useScreens({ again: false });

test('a silent one is asked once somebody says what, shows its answers, and is left in peace when that is taken back', async () => {
  const device = openPty();
  let asked = '';
  const answering = setInterval(() => {
    void device.taken().then((text) => {
      asked += text;
      if (text.includes('READ?\r\n')) void device.write('+3.14000000E+01\r\n').catch(() => {});
    });
  }, 50);
  onTestFinished(() => {
    clearInterval(answering);
    device.unplug();
  });
  const data = freshFolder();
  const server = await serve(data, ['--port', device.path]);
  // A question with nothing in it is refused by the server.
  const page = await openScreen(server.address, TABLET, /WebSocket|ERR_CONNECTION|400/);
  // After ten seconds of silence its port was opened anew, and the words are others.
  await page.getByRole('heading', { name: /but silent\.|but says nothing\./ }).waitFor();
  await page.getByRole('link', { name: 'Thermometer', exact: true }).click();
  await page.getByRole('button', { name: 'Ask it' }).waitFor();
  await page.getByRole('button', { name: 'Show all ports' }).click();
  await page.getByRole('heading', { name: 'Built in, or over Bluetooth' }).waitFor();
  await page.getByRole('button', { name: 'Ask it' }).click();
  await page.getByText('1 to 80 letters, figures and signs are wanted').waitFor();
  expect(asked).toBe('');
  await bringAxe(page);
  expect(await axeFaults(page)).toEqual([]);
  expect(await layoutFaults(page, 64, 12)).toEqual([]);
  await pictures(page, 'thermometer');

  await page.getByRole('button', { name: 'READ?' }).click();
  await page.getByRole('button', { name: 'CR LF' }).click();
  await page.getByRole('button', { name: 'Ask it' }).click();
  await page.getByRole('heading', { name: 'It is asked “READ?” once a second.' }).waitFor();
  await page.getByText('At 9600 baud it says “+3.14000000E+01”.').waitFor();
  expect(asked).toMatch(/^(READ\?\r\n)+$/);
  expect(Object.values(readSettings(data).ports)).toEqual([{ baud: 9600, query: { text: 'READ?', ending: 'crlf' } }]);
  await page.goto(`${server.address}/#/`);
  await page.getByLabel('31.4 degrees').waitFor();
  await pictures(page, 'start-asked');

  const phone = await openScreen(`${server.address}/#/thermometer`, PHONE);
  await phone.getByRole('button', { name: 'Stop asking' }).waitFor();
  expect(await layoutFaults(phone, 64, 12)).toEqual([]);
  await pictures(phone, 'thermometer-asked');
  await phone.goto(`${server.address}/#/`);
  await phone.getByRole('link', { name: 'Thermometer', exact: true }).waitFor();
  expect(await layoutFaults(phone, 64, 12)).toEqual([]);
  await phone.goto(`${server.address}/#/thermometer`);
  await phone.getByRole('button', { name: 'Stop asking' }).click();
  await phone.getByRole('button', { name: 'Ask it' }).waitFor();
  expect(Object.values(readSettings(data).ports)[0]!.query).toBe(null);
  await server.stop();
});
