/** A run looked back at, in a real browser: pacing, scrubbing, stepping, by buttons, by keys and by the line it is dragged along. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { axeFaults } from '../support/axe.ts';
import { PHONE, TABLET } from '../support/browser.ts';
import { greetingAt, RUN } from '../support/scenes.ts';
import { useScreens } from '../support/screens.ts';
import { picture, pictures, SCENES, show, START } from '../support/shown-page.ts';

useScreens();

const PAST = `#/runs/${RUN}`;

const headOf = (page: Page): Promise<number> =>
  page.getByRole('slider', { name: 'Moment shown' }).evaluate((line) => Number((line as HTMLElement).dataset['atMs']));
const press = (page: Page, name: string): Promise<void> => page.getByRole('button', { name, exact: true }).click();
const goTo = (page: Page, row: RegExp): Promise<void> =>
  page.getByRole('row', { name: row }).getByRole('button').click();
const currentRow = (page: Page): Promise<string> => page.locator('tr[aria-current="time"]').innerText();

describe('playback', () => {
  test('a line of the log moves the head; play goes on from there at up to 240 times, and says that it is playback', async () => {
    const { page } = await show(START, TABLET, PAST);
    await goTo(page, /Alarm, over the ceiling/);
    expect(await page.locator('h1').innerText()).toBe('Off the heat, and stir.');
    // The curve it is shown on has come into sight.
    const { y } = (await page.locator('.road').boundingBox())!;
    expect(y).toBeGreaterThanOrEqual(0);
    expect(y).toBeLessThan((page.viewportSize()?.height ?? 0) / 2);
    expect(await page.locator('main').getAttribute('class')).toBe('past');
    const before = await page.locator('.head-number .figures').getAttribute('aria-label');
    for (let i = 0; i < 2; i++) await press(page, 'Faster');
    await press(page, 'Play');
    await expect.poll(() => page.locator('.head-number .figures').getAttribute('aria-label')).not.toBe(before);
    expect(await page.locator('.ribbon').innerText()).toContain('Playback, 60 times as fast');
    await pictures(page, 'playing');
    for (let i = 0; i < 2; i++) await press(page, 'Faster');
    expect(await page.locator('.ribbon').innerText()).toContain('Playback, 240 times as fast');
    expect(await page.getByRole('button', { name: 'Faster' }).isDisabled()).toBe(true);
    await page.locator('.ribbon', { hasText: 'Playback, standing still' }).waitFor();
    expect(await page.locator('h1').innerText()).toBe('Over the ceiling, once.');
  });

  test('buttons move the head by 10 s and by a minute, and from event to event', async () => {
    const { page } = await show(START, TABLET, PAST);
    await goTo(page, /Alarm, over the ceiling/);
    const atMs = await headOf(page);
    for (const [name, byMs] of [
      ['Back 1 min', -60_000],
      ['On 10 s', -50_000],
      ['On 1 min', 10_000],
      ['Back 10 s', 0],
    ] as const) {
      await press(page, name);
      expect((await headOf(page)) - atMs).toBe(byMs);
    }
    await press(page, 'Next event');
    expect(await currentRow(page)).not.toContain('Alarm, over the ceiling');
    await press(page, 'Event before');
    expect(await headOf(page)).toBe(atMs);
    expect(await currentRow(page)).toContain('Alarm, over the ceiling');
  });

  test('keys do the same, also where a button was tapped before; a line walked to has its arrows for itself', async () => {
    const { page } = await show(START, TABLET, PAST);
    await goTo(page, /Alarm, over the ceiling/);
    const atMs = await headOf(page);
    await page.keyboard.press('ArrowLeft');
    expect((await headOf(page)) - atMs).toBe(-10_000);
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Shift+ArrowRight');
    expect(await headOf(page)).toBeGreaterThan(atMs);
    await page.keyboard.press('Shift+ArrowLeft');
    expect(await headOf(page)).toBe(atMs);
    await page.keyboard.press('+');
    await page.locator('.speed', { hasText: '30×' }).waitFor();
    await page.keyboard.press('-');
    await page.keyboard.press('Space');
    await page.getByRole('button', { name: 'Stop', exact: true }).waitFor();
    await page.keyboard.press('Space');
    await page.getByRole('button', { name: 'Play', exact: true }).waitFor();
    const stoppedMs = await headOf(page);
    await page.getByRole('slider', { name: 'Moment shown' }).focus();
    await page.keyboard.press('ArrowRight');
    expect((await headOf(page)) - stoppedMs).toBe(1_000);
    await page.keyboard.press('Space');
    await page.getByRole('button', { name: 'Stop', exact: true }).waitFor();
  });

  test('keys go on after the head was dragged along its line, by as much as they always do', async () => {
    const { page } = await show(START, TABLET, PAST);
    const line = (await page.getByRole('slider', { name: 'Moment shown' }).boundingBox())!;
    const [x, y] = [line.x + line.width * 0.4, line.y + line.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 60, y);
    await page.mouse.up();
    const draggedMs = await headOf(page);
    await page.keyboard.press('ArrowRight');
    expect((await headOf(page)) - draggedMs).toBe(10_000);
    await page.keyboard.press('+');
    await page.locator('.speed', { hasText: '30×' }).waitFor();
    await page.keyboard.press('Space');
    await page.getByRole('button', { name: 'Stop', exact: true }).waitFor();
  });

  test('the road goes along as it went then, or lies there whole', async () => {
    const { page } = await show(START, TABLET, PAST);
    await goTo(page, /Alarm, over the ceiling/);
    await press(page, 'As it went');
    await expect.poll(() => page.locator('.road canvas').getAttribute('aria-label')).toContain('Work');
    await pictures(page, 'playing-along');
    await press(page, 'Whole run');
    await pictures(page, 'playing-whole');
    await page.getByRole('button', { name: 'As it went' }).waitFor();
  });

  test.each([
    ['phone', PHONE],
    ['tablet', TABLET],
  ] as const)(
    'nothing covers the curve, nor that nothing sounds at a run that is going: %s',
    async (_name, options) => {
      const { page } = await show(greetingAt(SCENES['melt']!), options, PAST);
      const road = await page.locator('.road').boundingBox();
      const controls = await page.locator('.controls').boundingBox();
      expect(controls!.y).toBeGreaterThanOrEqual(road!.y + road!.height);
      const isOnTop = page.locator('.sound-bar .button').evaluate((button) => {
        const { x, y, width, height } = button.getBoundingClientRect();
        return button.contains(document.elementFromPoint(x + width / 2, y + height / 2));
      });
      expect(await isOnTop).toBe(true);
    },
  );

  test.each([
    ['phone', PHONE, 'light'],
    ['phone', PHONE, 'dark'],
    ['tablet', TABLET, 'dark'],
  ] as const)('looks like itself: %s', async (name, options, colorScheme) => {
    const { page } = await show(START, { ...options, colorScheme }, PAST);
    await goTo(page, /Alarm, over the ceiling/);
    await page.evaluate(() => scrollTo(0, 0));
    await picture(page, `playback-${name}-${colorScheme}`);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
    expect(await axeFaults(page)).toEqual([]);
  });
});
