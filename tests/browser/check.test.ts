/** The thermometer's page on a scripted server: a check led through to its correction, and what a number is, said. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { PHONE, TABLET } from '../support/browser.ts';
import { BOWL } from '../support/scenes.ts';
import { looksRight, MANY_LOOKS_MS } from '../support/looks.ts';
import { useScreens } from '../support/screens.ts';
import { show, START } from '../support/shown-page.ts';

useScreens();

const PROBE = `/api/bowls/${BOWL}/probe`;
const ALONE = {
  source: 'usb:one',
  channel: null,
  role: 'chocolate',
  correction: { offsetC: 0, gain: 1 },
  check: null,
  isOld: false,
  uncertainty: null,
};
const UNCHECKED = {
  lag: null,
  probes: [ALONE],
  atC: 32,
  lastLine: '31.4',
  numbers: [{ key: '1', value: 31.4, unit: null, sensor: null, likely: null, valueC: 31.4, role: 'chocolate' }],
};
const ICE = { against: 'ice', trueC: 0, withinC: 0.2, readC: 0.4, spreadC: 0.05, stepC: 0.1, readings: 61 };
const FOUND = { biasC: 0.22, noiseC: 0.12, withinC: 0.25 };
const CHECKED = {
  ...UNCHECKED,
  lag: { lagS: 6.5, from: 'measured', measuredAtWall: '2026-11-20T09:00:00.000Z' },
  probes: [
    {
      ...ALONE,
      correction: { offsetC: -0.4, gain: 1 },
      check: { checkedAtWall: '2026-08-02T09:00:00.000Z', points: [ICE] },
      isOld: true,
      uncertainty: FOUND,
    },
  ],
};
/** A thermometer of two channels, and a second thermometer in the room. */
const THREE = {
  ...CHECKED,
  probes: [
    { ...CHECKED.probes[0]!, channel: '1' },
    { ...ALONE, channel: '2', role: 'bath' },
    { ...CHECKED.probes[0]!, source: 'usb:room', role: 'room', isOld: false },
  ],
};
const AT_WALL = '2026-11-25T09:00:00.000Z';
const MOVING = {
  steadiness: { state: 'moving', forS: 60, readings: 61, meanC: 1.2, spreadC: 0.4, slopeCPerMin: -0.7, stepC: 0.1 },
  reference: { trueC: 0, withinC: 0.2 },
  point: null,
  outcome: { is: 'nothing' },
  atWall: AT_WALL,
};
const STEADY = {
  ...MOVING,
  steadiness: { ...MOVING.steadiness, state: 'steady', meanC: 0.4, spreadC: 0.05, slopeCPerMin: 0.01 },
  point: ICE,
};
const OUTCOME = { is: 'found', correction: { offsetC: -0.4, gain: 1 }, atC: 32, uncertainty: FOUND };

interface Posted {
  readonly probe: unknown;
  readonly standard: unknown;
  readonly points: readonly unknown[];
}

/** Answers a check: `stands` while nothing is noted, and then what comes of it. Gives what was asked, newest last. */
async function checking(page: Page, stands: { now: object }): Promise<Posted[]> {
  const asked: Posted[] = [];
  await page.route(`**/api/bowls/${BOWL}/check`, async (route) => {
    if (route.request().method() === 'DELETE') return route.fulfill({ json: {} });
    const posted = route.request().postDataJSON() as Posted;
    asked.push(posted);
    const outcome = posted.points.length === 0 ? { is: 'nothing' } : OUTCOME;
    return route.fulfill({ json: { ...stands.now, outcome } });
  });
  return asked;
}

/** Takes what is posted as a command, and gives it. */
async function commands(page: Page): Promise<unknown[]> {
  const said: unknown[] = [];
  await page.route(`**/api/bowls/${BOWL}/commands`, (route) => {
    said.push(route.request().postDataJSON());
    return route.fulfill({ json: {} });
  });
  return said;
}

test('a check is led through, from ice to its correction', { timeout: MANY_LOOKS_MS }, async () => {
  const { page } = await show(START, TABLET, '#/check', undefined, { [PROBE]: UNCHECKED });
  const stands: { now: object } = { now: MOVING };
  const asked = await checking(page, stands);
  const said = await commands(page);
  await page.getByText('never: unchecked').waitFor();
  expect(await page.locator('.detail').innerText()).toContain('31.4 may be 30 or 33');
  expect(asked).toEqual([]);

  await page.getByRole('button', { name: 'In melting ice' }).click();
  await page.getByText('It reads 1.2 °C, and is still falling by 0.7 a minute.').waitFor();
  expect(await page.getByText('Cubes that float in water are no ice point').count()).toBe(1);
  expect(await page.getByRole('button', { name: 'Note this point' }).isDisabled()).toBe(true);
  expect(asked.at(-1)).toEqual({
    probe: { source: 'usb:one', channel: null },
    standard: { against: 'ice' },
    points: [],
    isWatched: true,
  });
  await looksRight(page, 'check-moving');

  stands.now = STEADY;
  await page.getByText('Steady. It reads 0.4 °C.').waitFor();
  await page.getByRole('button', { name: 'Note this point' }).click();
  await page.getByText('In ice: it read 0.4, and should read 0.0 °C, give or take 0.2.').waitFor();
  await page.getByText('Corrected, 31.4 is between 31.2 and 31.7.').waitFor();
  expect(await page.getByText('The same all evening: up to 0.2.').count()).toBe(1);
  await looksRight(page, 'check-found');

  await page.getByRole('button', { name: 'Use this correction' }).click();
  await page.getByText('every reading from now on is corrected').waitFor();
  const check = { checkedAtWall: AT_WALL, points: [ICE] };
  expect(said).toEqual([{ name: 'set-correction', offsetC: -0.4, gain: 1, check, source: 'usb:one' }]);
});

test('where none of the numbers is used there is nothing to check, and it says so', async () => {
  const unused = { ...UNCHECKED.numbers[0]!, role: null };
  const { page } = await show(START, TABLET, '#/check', undefined, {
    [PROBE]: { ...UNCHECKED, probes: [], numbers: [unused] },
  });
  expect(await page.locator('.detail').innerText()).toContain('None of its numbers is used in this bowl.');
  expect(await page.getByRole('button', { name: 'In melting ice' }).count()).toBe(0);
  await page.getByRole('button', { name: 'Number 1: 31.4, not used' }).waitFor();
});

test('a probe of the bath is checked by its channel, and what was noted of it is there on a page that comes again', async () => {
  const { page } = await show(START, PHONE, '#/check', undefined, { [PROBE]: THREE });
  const asked = await checking(page, { now: STEADY });
  const said = await commands(page);
  await page.getByRole('button', { name: 'The room' }).click();
  expect(await page.locator('.detail').innerText()).toMatch(/^Right within 0\.3\s°C near 32\s°C\.$/);
  await page.getByRole('button', { name: 'The bath, number 2' }).click();
  expect(await page.locator('.detail').innerText()).toBe('This probe is unchecked: nobody knows how far off it is.');
  await page.getByRole('button', { name: 'In melting ice' }).click();
  await page.getByRole('button', { name: 'Note this point' }).click();
  await page.getByText('Corrected, 31.4 is between').waitFor();
  expect(asked.at(-1)).toMatchObject({ probe: { source: 'usb:one', channel: '2' } });

  await page.reload();
  await page.getByRole('button', { name: 'The bath, number 2' }).click();
  await page.getByText('In ice: it read 0.4').waitFor();
  await page.getByRole('button', { name: 'Use this correction' }).click();
  await page.getByText('every reading from now on is corrected').waitFor();
  expect(said).toMatchObject([{ name: 'set-correction', offsetC: -0.4, source: 'usb:one', channel: '2' }]);
});

test(
  'a boiling point is asked for with the air it has, and a weather report’s pressure warned of',
  { timeout: MANY_LOOKS_MS },
  async () => {
    const { page } = await show(START, PHONE, '#/check', undefined, { [PROBE]: CHECKED });
    const asked = await checking(page, { now: MOVING });
    await page.getByText('that is long ago: check it again').first().waitFor();
    expect(await page.locator('.detail').innerText()).toContain('31.4 is between 31.2 and 31.7');
    await page.getByRole('button', { name: 'In steam' }).click();
    await page.getByLabel('Your altitude, m').fill('520');
    await expect
      .poll(() => asked.at(-1)?.standard)
      .toEqual({ against: 'steam', air: { by: 'altitude', altitudeM: 520 } });
    await page.getByRole('button', { name: 'By a barometer here' }).click();
    expect(await page.getByText('reduced to sea level: at 1,000 m it would be 3.3 °C wrong').count()).toBe(1);
    await expect.poll(() => asked.at(-1)?.standard).toBeNull();
    await page.getByLabel('Pressure at this place, hPa').fill('952,5');
    await expect.poll(() => asked.at(-1)?.standard).toEqual({ against: 'steam', air: { by: 'station', hpa: 952.5 } });
    await looksRight(page, 'check-steam');
    await page.getByRole('button', { name: 'Beside a trusted thermometer' }).click();
    await page.getByLabel('The trusted one reads, °C').fill('32.1');
    await page.getByLabel('It is right within').fill('0.3');
    await expect.poll(() => asked.at(-1)?.standard).toEqual({ against: 'thermometer', trueC: 32.1, withinC: 0.3 });
  },
);

test(
  'ohms are proposed as what they most likely are of, and become it when that is said',
  { timeout: MANY_LOOKS_MS },
  async () => {
    const likely = { kind: 'platinum', unit: 'ohm', ohmsAt0C: 100 };
    const ohms = { key: 'r', value: 112.06, unit: 'ohm', sensor: null, likely, valueC: null, role: null };
    const amb = { key: 'amb', value: 22, unit: null, sensor: null, likely: null, valueC: 22, role: 'room' };
    const { page } = await show(START, TABLET, '#/check', undefined, {
      [PROBE]: { ...UNCHECKED, lastLine: 'amb: 22.0; R: 112.06', numbers: [amb, ohms] },
    });
    const said = await commands(page);
    await page.getByRole('button', { name: 'r: 112.06 Ω, no temperature yet' }).click();
    expect(await page.getByLabel('It is').inputValue()).toBe('pt100');
    await looksRight(page, 'check-numbers');
    await page.getByRole('button', { name: 'Keep this' }).click();
    await expect.poll(() => said).toEqual([{ name: 'assign-role', channel: 'r', role: 'chocolate', sensor: likely }]);
    await page.getByRole('button', { name: 'Keep this' }).waitFor({ state: 'detached' });

    await page.getByRole('button', { name: 'r: 112.06 Ω' }).click();
    await page.getByLabel('It is').selectOption('k');
    await page.getByLabel('Its cold end').selectOption('amb');
    await page.getByRole('button', { name: 'Keep this' }).click();
    await expect
      .poll(() => said.at(-1))
      .toMatchObject({
        sensor: { kind: 'thermocouple', unit: 'mV', type: 'K', cold: { from: 'channel', channel: 'amb' } },
      });
  },
);
