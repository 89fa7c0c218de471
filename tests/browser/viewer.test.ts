/** What one viewer sets for one screen, and looks along: unit, colours, far view, the road's buttons; and a screen that slept. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { PHONE, TABLET } from '../support/browser.ts';
import { courseC, greetingAt, nowAt, readingsUpTo, RUN, BOWL } from '../support/scenes.ts';
import { useScreens } from '../support/screens.ts';
import { picture, pictures, SCENES, show } from '../support/shown-page.ts';

useScreens();

async function more(page: Page, choice: string): Promise<void> {
  await page.getByRole('button', { name: 'More' }).click();
  await page.getByRole('button', { name: choice, exact: true }).click();
  if (await page.getByRole('dialog').isVisible()) await page.keyboard.press('Escape');
}

const slab = (page: Page): Promise<string> =>
  page.evaluate(() => getComputedStyle(document.body).getPropertyValue('background-color'));

describe('this screen', () => {
  test('°F changes number, sentence, road, table and what is read out, and is kept', async () => {
    const { page } = await show(greetingAt(SCENES['work']!));
    await more(page, '°F');
    const shownF = (courseC(80) * 1.8 + 32).toFixed(1);
    for (const visit of ['at once', 'after a reload']) {
      await page.getByLabel(`${shownF} degrees Fahrenheit`).waitFor();
      expect(await page.locator('.unit').innerText(), visit).toBe('°F');
      expect((await page.locator('.detail').innerText()).replaceAll('\u00a0', ' ')).toMatch(
        /[12]\.\d under the ceiling/,
      );
      await expect
        .poll(() => page.locator('.road canvas').getAttribute('aria-label'))
        .toMatch(/Band 87\.8–89\.6, ceiling 90\.5/);
      await page.reload();
      await page.locator('main.run').waitFor();
    }
    await pictures(page, 'fahrenheit');
  });

  test('over a hundred °F the number stays in its own column', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['melt']!));
    await more(page, '°F');
    bowl.say(nowAt({ min: 20 }));
    await page.getByLabel(/^11\d\.\d degrees Fahrenheit/).waitFor();
    const edgesOf = async (part: string): Promise<[left: number, right: number]> => {
      const box = (await page.locator(part).boundingBox())!;
      return [box.x, box.x + box.width];
    };
    expect((await edgesOf('.number .unit'))[1]).toBeLessThan((await edgesOf('.road'))[0]);
    await page.setViewportSize(PHONE.viewport!);
    expect((await edgesOf('.number .unit'))[1]).toBeLessThan(PHONE.viewport!.width);
    expect((await edgesOf('.number .figures'))[1]).toBeLessThan((await edgesOf('.age'))[0]);
    await pictures(page, 'fahrenheit-long');
    await page.setViewportSize(TABLET.viewport!);
  });

  test('a decimal comma where the reader’s language has one, in number and road alike', async () => {
    const { page } = await show(greetingAt(SCENES['work']!), { ...TABLET, locale: 'de-DE' });
    await page.getByLabel('31,5 degrees Celsius').waitFor();
    expect(await page.locator('.detail').innerText()).toContain('1,1');
    await pictures(page, 'comma');
  });

  test('light, dark and strong win over the system’s wish, and are kept', async () => {
    const { page } = await show(greetingAt(SCENES['work']!), { ...TABLET, colorScheme: 'dark' });
    expect(await slab(page)).toBe('rgb(15, 23, 29)');
    for (const [choice, colour] of [
      ['Light', 'rgb(221, 232, 228)'],
      ['Strong', 'rgb(255, 255, 255)'],
      ['Dark', 'rgb(15, 23, 29)'],
      ['Light', 'rgb(221, 232, 228)'],
    ] as const) {
      await more(page, choice);
      expect(await slab(page), choice).toBe(colour);
    }
    await page.reload();
    await page.locator('main.run').waitFor();
    expect(await slab(page)).toBe('rgb(221, 232, 228)');
    await more(page, 'As the system');
    expect(await slab(page)).toBe('rgb(15, 23, 29)');
  });

  test.each([
    ['tablet', TABLET],
    ['phone', PHONE],
    ['projector', { ...TABLET, viewport: { width: 1920, height: 1080 } }],
    ['narrow', { ...TABLET, viewport: { width: 320, height: 568 } }],
  ] as const)('far, number and sentence take the window of a %s, and one tap leads back', async (name, options) => {
    const { page } = await show(greetingAt(SCENES['work']!), options);
    const sizeOf = (what: string): Promise<number> =>
      page.locator(what).evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize));
    const [numberNear, actNear] = [await sizeOf('.number'), await sizeOf('.act')];
    await more(page, 'Far view');
    await picture(page, `far-${name}-light`);
    expect(await sizeOf('.number')).toBeGreaterThan(numberNear);
    expect(await sizeOf('.act')).toBeGreaterThan(actNear);
    const box = (await page.locator('.number .figures').boundingBox())!;
    expect(box.x + box.width).toBeLessThanOrEqual(options.viewport!.width);
    expect(await page.locator('.road-frame').isVisible()).toBe(false);
    await page.getByRole('button', { name: 'Near view' }).click();
    await page.locator('.road-frame').waitFor();
  });

  test('where the screen can’t be kept on, it says so until it is told that it stays on', async () => {
    const { page } = await show(greetingAt(SCENES['work']!));
    await page.evaluate(() => Object.defineProperty(navigator, 'wakeLock', { value: undefined, configurable: true }));
    await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
    await page.locator('.what-and-who', { hasText: 'This screen may go dark.' }).waitFor();
    await more(page, 'It stays on');
    await page.locator('.what-and-who', { hasText: 'Dark chocolate' }).waitFor();
  });
});

describe('along the road', () => {
  const roadWords = (page: Page): Promise<string | null> => page.locator('.road canvas').getAttribute('aria-label');

  test('a tap brings its buttons; a held view is moved by no news; one tap leads back to now', async () => {
    for (const [name, options] of [
      ['tablet', TABLET],
      ['phone', PHONE],
    ] as const) {
      const { page, bowl } = await show(greetingAt(SCENES['work']!), options);
      // Nothing lies under a finger before it is drawn.
      await page.locator('.road canvas[aria-label]').waitFor();
      await page.locator('.road').click({ position: { x: 300, y: 60 } });
      for (const button of ['Follow', '5 min', '15 min', 'All', 'Closer', 'Wider'])
        await page.getByRole('button', { name: button, exact: true }).waitFor();
      await picture(page, `looks-${name}-light`);
      await page.getByRole('button', { name: 'Closer' }).click();
      await page.getByRole('button', { name: 'Back to now' }).waitFor();
      await picture(page, `held-${name}-light`);
      const rowsOf = (): Promise<string[]> => page.locator('.road-frame tbody tr').allInnerTexts();
      const held = await rowsOf();
      const before = readingsUpTo(80).length;
      const readings = readingsUpTo(83).slice(before);
      bowl.say(
        {
          kind: 'news',
          bowl: BOWL,
          run: RUN,
          events: [],
          readings,
          readingCount: before + readings.length,
          recordedTo: 1,
        },
        nowAt({ min: 83 }),
      );
      await expect.poll(() => roadWords(page)).toContain('Work, 27 min so far');
      expect((await rowsOf()).slice(0, 5)).toEqual(held.slice(0, 5));
      await page.getByRole('button', { name: 'Back to now' }).click();
      await page.getByRole('button', { name: 'Back to now' }).waitFor({ state: 'detached' });
    }
  });

  test('by keys too: its button is there for whoever walks the page', async () => {
    const { page } = await show(greetingAt(SCENES['work']!));
    await page.getByRole('button', { name: 'Look along the road' }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'All', exact: true }).waitFor();
  });

  test('the same numbers stand in a table', async () => {
    const { page } = await show(greetingAt(SCENES['work']!));
    const rows = page.getByRole('table', { name: 'The road in numbers' }).getByRole('row');
    await expect.poll(() => rows.count()).toBeGreaterThan(10);
    expect(await rows.last().innerText()).toMatch(/^in 3\smin\s/);
  });
});

test('a screen that slept for an hour believes nothing of before until it has heard anew', async () => {
  const { page, bowl } = await show(greetingAt(SCENES['work']!));
  bowl.hush();
  await page.evaluate(() => {
    const now = Date.now;
    Date.now = () => now() + 3_600_000;
  });
  await page.getByText('This screen was asleep.').first().waitFor();
  expect(await page.locator('.number').getAttribute('class')).toContain('number-hollow');
  expect(await page.getByRole('button', { name: 'Note it' }).isDisabled()).toBe(true);
  bowl.speak();
  await page.getByText('Dip.').first().waitFor();
});

describe('the size of the number', () => {
  test.each([
    ['tablet', TABLET, 200],
    ['phone', PHONE, Math.min(120, 0.34 * 390)],
    ['projector', { ...TABLET, viewport: { width: 1920, height: 1080 } }, 260],
  ] as const)('on a %s, once the sound was heard', async (_, options, leastPx) => {
    const { page } = await show(greetingAt(SCENES['work']!), options);
    await page.getByRole('button', { name: 'Turn it on and test' }).click();
    await page.getByRole('button', { name: 'Yes' }).click();
    await page.locator('.sound-bar, .sound-ask').waitFor({ state: 'detached' });
    const fontPx = await page
      .locator('.number')
      .evaluate((number) => Number.parseFloat(getComputedStyle(number).fontSize));
    expect(fontPx).toBeGreaterThanOrEqual(leastPx);
  });
});
