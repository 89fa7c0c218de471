/** Two bowls on the real server and the built page: each screen looks at one and is told of the other, whose alarm sounds there too, by its name. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import type { Session } from '../../server/session/session.ts';
import type { UsbPort } from '../../server/source/ports.ts';
import { axeFaults } from '../support/axe.ts';
import { PHONE, TABLET } from '../support/browser.ts';
import { layoutFaults, outOfSight } from '../support/faults.ts';
import { picture } from '../support/picture.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { openKitchenWithPage } from '../support/served-bowl.ts';
import { shipped } from '../support/shipped.ts';
import { ringingNow, spyOn } from '../support/sound/spied.ts';
import { pictures, READY } from '../support/shown-page.ts';

useScreens();

const MISSING = 'This part of the page could not be fetched.';

/** Plugged in, and not read. */
const OTHER: UsbPort = {
  path: '/dev/ttyACM1',
  label: 'Kitchen probe',
  identity: { vendorId: '1a86', productId: '7523', serialNumber: 'B', position: null, path: '/dev/ttyACM1' },
};

/** Dark chocolate at work in the first bowl, milk in the second, each with a thermometer of its own. */
async function twoBowls() {
  const kitchen = await openKitchenWithPage();
  const { bowl, bench } = kitchen;
  const { bowl: second } = bench.bowls.add('milk, left')!;
  bench.bowls.rename('bowl-1', 'dark, right');
  bench.plug('usb:a', 'first');
  bench.plug('usb:b', null);
  bench.placing.place({ thermometer: 'usb:b', channel: '', role: 'chocolate', bowls: [second] });
  const [dark, milk] = [bowl.session, bench.sessions.get(second)!];
  let stirred = 0;
  /** Both say a temperature a second. */
  const reads = (seconds: number, darkC: number, milkC: number): void => {
    for (let s = 0; s < seconds; s++) {
      bowl.passes(1);
      stirred++;
      const swirlC = 0.04 * Math.sin(stirred / 2);
      bench.says('usb:a', (darkC + swirlC).toFixed(2));
      bench.says('usb:b', (milkC + swirlC).toFixed(2));
    }
  };
  const begin = (session: Session, profile: string): void => {
    session.command({ name: 'choose-profile', profile: shipped(profile), condition: 'tempered' });
    session.command({ name: 'start', phase: 'work' });
  };
  reads(20, 31.5, 29.6);
  begin(dark, 'dark');
  begin(milk, 'milk');
  reads(60, 31.5, 29.6);
  return { ...kitchen, dark, milk, second, reads };
}

function alarmsOf(session: Session): readonly unknown[] {
  const [snapshot] = session.catchUp(null);
  const events = snapshot?.kind === 'snapshot' ? snapshot.events : [];
  return events.filter(({ kind }) => kind === 'alarm-acknowledged');
}

/** As it is read: a space is a space, whether a line may break there or not. */
async function textOf(page: Page, part: string): Promise<string> {
  return (await page.locator(part).innerText()).replaceAll(/\s+/g, ' ');
}

test('the other bowl is a line with its name, its number and its sentence, and one tap away', async () => {
  const { address } = await twoBowls();
  const page = await openScreen(address);
  await page.locator('.bowls-other').waitFor();
  await page.locator(READY).waitFor();
  expect(await textOf(page, '.bowls-here')).toBe('dark, right');
  await expect.poll(() => textOf(page, '.bowls-other')).toMatch(/^milk, left 29\.\d \S/);
  expect(await axeFaults(page)).toEqual([]);
  await pictures(page, 'two-bowls');
  await page.locator('.bowls-other').click();
  await expect.poll(() => textOf(page, '.bowls-here')).toBe('milk, left');
  await page.getByLabel(/^29\.\d degrees/).waitFor();
  // On a page beside the bowl, and back from it, it is still this one.
  await page.evaluate(() => (location.hash = '#/heard'));
  await page
    .getByText(/^Chocolate 29\.\d/)
    .first()
    .waitFor();
  expect(await page.getByText(/^Chocolate 31\.\d/).count()).toBe(0);
  await page.evaluate(() => (location.hash = '#/'));
  await expect.poll(() => textOf(page, '.bowls-here')).toBe('milk, left');
  await page.setViewportSize(PHONE.viewport!);
  await page.locator(READY).waitFor();
});

test('on the smallest of screens the buttons cover nothing of a bowl beside another one, whatever is at hand', async () => {
  const { address, dark, reads } = await twoBowls();
  const page = await openScreen(address, { ...TABLET, viewport: { width: 320, height: 568 } });
  await page.locator('.bowls-other').waitFor();
  const fitsInto = async (bar: string, beside = ''): Promise<void> => {
    // A server that is busy with minutes of readings may be taken for gone, for a moment.
    await page.locator(`main.run:not(.run-lost) .${bar}`).waitFor();
    await page.locator('.road canvas').waitFor();
    const faults = async () => [...(await layoutFaults(page, 64, 12)), ...(await outOfSight(page))];
    await expect.poll(faults, { message: bar }).toEqual([]);
    await expect.poll(() => page.evaluate(() => document.documentElement.scrollHeight), { message: bar }).toBe(568);
    await picture(page, `two-bowls-low-${bar}${beside}`);
  };
  await fitsInto('step-bar');
  dark.command({ name: 'act', act: 'strip-laid' });
  await fitsInto('step-waiting');
  reads(300, 31.5, 29.6);
  await fitsInto('step-asking');
  dark.command({ name: 'act', act: 'strip-test-good' });
  reads(60, 32.8, 29.6);
  dark.command({ name: 'acknowledge', alarm: 'overshoot' });
  await page.locator('.strip-alarm').waitFor();
  dark.command({ name: 'act', act: 'strip-laid' });
  await fitsInto('step-waiting', '-seen');
  // More than fits: it can be scrolled to, out from under the buttons.
  await page.locator('.road canvas').click();
  await page.getByRole('button', { name: 'Wider' }).click();
});

test('an alarm of one bowl is told on the pages of both, by the bowl’s name, and seen of that bowl alone', async () => {
  const { address, dark, milk, second, reads } = await twoBowls();
  const [atDark, atMilk, atList] = await Promise.all(
    ['', `#/bowl/${second}`, '#/runs'].map((place) => openScreen(`${address}/${place}`)),
  );
  await Promise.all([atDark!, atMilk!, atList!].map((page) => page.locator('.bowls-other').waitFor()));
  await spyOn(atDark!);
  await atDark!.getByRole('button', { name: 'Turn it on and test' }).click();
  reads(30, 31.5, 31.6);
  // That it was on its way there may be told first.
  for (const page of [atDark!, atList!])
    await expect.poll(() => textOf(page, '.bowls-alarm b')).toBe('milk, left: Off the heat, and stir.');
  await expect.poll(() => ringingNow(atDark!)).toEqual(['warning']);
  await atMilk!.locator('main.alarm').waitFor();
  expect(await textOf(atMilk!, 'main.alarm .bowls-here')).toBe('milk, left');
  expect(await atDark!.locator('main.alarm').count()).toBe(0);
  expect(await axeFaults(atDark!)).toEqual([]);
  await pictures(atDark!, 'two-bowls-alarm-elsewhere');
  expect(await axeFaults(atMilk!)).toEqual([]);
  await pictures(atMilk!, 'two-bowls-alarm-here');
  await atDark!.getByRole('button', { name: 'milk, left: seen' }).click();
  await atMilk!.locator('main.run').waitFor();
  for (const page of [atDark!, atMilk!]) {
    await page.setViewportSize(PHONE.viewport!);
    expect(await outOfSight(page)).toEqual([]);
    await page.setViewportSize(TABLET.viewport!);
    expect(await outOfSight(page)).toEqual([]);
  }
  await expect.poll(() => ringingNow(atDark!)).toEqual([]);
  await expect.poll(() => alarmsOf(milk).length).toBe(1);
  expect(alarmsOf(dark)).toEqual([]);
});

test.each([
  ['what answers a hand', 'at-hand'],
  ['what tells of other bowls', 'other-bowls'],
])('an alarm of the other bowl is told after all where %s could not be fetched at first', async (_what, piece) => {
  const { address, reads } = await twoBowls();
  const page = await openScreen(address);
  await page.locator('.bowls-other').waitFor();
  const script = new RegExp(`assets/${piece}-`);
  await page.route(script, (route) => route.abort('connectionrefused'));
  await page.reload();
  await page.getByText(MISSING).first().waitFor();
  reads(30, 31.5, 31.6);
  await page.unroute(script);
  await expect.poll(() => textOf(page, '.bowls-alarm b')).toBe('milk, left: Off the heat, and stir.');
});

test('with an alarm in both, all that is to be done in either is in sight, on the smallest of screens', async () => {
  const { address, reads } = await twoBowls();
  reads(40, 33.2, 31.6);
  const page = await openScreen(address);
  await page.locator('main.alarm .bowls-alarm').waitFor();
  for (const [width, height] of [
    [1180, 820],
    [390, 844],
    [375, 667],
    [320, 568],
    [844, 390],
  ] as const) {
    await page.setViewportSize({ width, height });
    expect([...(await layoutFaults(page, 64, 12)), ...(await outOfSight(page))], `${width} by ${height}`).toEqual([]);
    expect(await page.locator('.alarm-inside').evaluate((inside) => inside.scrollHeight - inside.clientHeight)).toBe(0);
  }
  await pictures(page, 'two-bowls-two-alarms');
});

test('the page of the bench names bowls, says what each thermometer is in, and takes an empty bowl away', async () => {
  const { address, bench, milk, second } = await twoBowls();
  const page = await openScreen(`${address}/#/bench`);
  await page.locator(READY).waitFor();
  const place = page.getByLabel(/29\.\d.*is in/s);
  await expect.poll(() => place.locator('option:checked').innerText()).toBe('the chocolate: milk, left');
  expect(await axeFaults(page)).toEqual([]);
  await pictures(page, 'bench');
  milk.command({ name: 'end' });
  await place.selectOption('the room, for every bowl');
  await expect.poll(() => bench.router.rolesOf('usb:b', 'bowl-1')).toMatchObject({ '1': 'room' });
  const part = page.getByRole('region', { name: 'milk, left' });
  await part.getByRole('textbox').fill('caramel');
  await part.getByRole('button', { name: 'Keep the name' }).click();
  await page.getByRole('heading', { name: 'caramel' }).waitFor();
  await page.getByRole('button', { name: 'Take it away: caramel' }).click();
  await page.getByRole('button', { name: 'Take it away', exact: true }).click();
  await page.getByRole('heading', { name: 'caramel' }).waitFor({ state: 'detached' });
  expect([...bench.sessions.keys()]).not.toContain(second);
});

test('a second thermometer that is plugged in is no question, but a line on the start page that leads to the bench', async () => {
  const kitchen = await openKitchenWithPage();
  const { bowl, bench } = kitchen;
  bench.thermometers.choices = () => Promise.resolve([OTHER]);
  bench.plug('usb:a', 'first');
  bench.says('usb:a', '21.40');
  bowl.passes(1);
  const page = await openScreen(kitchen.address);
  await page.getByText('Another thermometer is plugged in.').waitFor();
  expect(await axeFaults(page)).toEqual([]);
  await pictures(page, 'start-two-thermometers');
  await page.getByRole('link', { name: 'Say what it is in.' }).click();
  await page.getByRole('button', { name: 'Read Kitchen probe' }).waitFor();
});
