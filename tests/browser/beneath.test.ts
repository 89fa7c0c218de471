/** What an alarm comes over: it is kept as it was, hears no key meanwhile, and stands there again once the alarm was seen. */
import { describe, expect, test } from 'vitest';
import type { Page } from 'playwright-core';
import { OVERSHOOT } from '../support/alarm.ts';
import { TABLET } from '../support/browser.ts';
import { greetingAt, RUN } from '../support/scenes.ts';
import type { ScriptedBowl } from '../support/scripted-bowl.ts';
import { useScreens } from '../support/screens.ts';
import { news, pictures, SCENES, show } from '../support/shown-page.ts';

useScreens();

async function alarmComes(page: Page, bowl: ScriptedBowl): Promise<void> {
  bowl.say(news(80, [OVERSHOOT]));
  await page.locator('main.alarm').waitFor();
}

/** By the key for Seen: it has to reach the alarm, whatever had the focus before. */
async function seeIt(page: Page, bowl: ScriptedBowl): Promise<void> {
  await page.keyboard.press('Space');
  await expect.poll(() => bowl.asked.map(({ body }) => body)).toEqual([{ name: 'acknowledge', alarm: 'overshoot' }]);
  bowl.say(news(80, [OVERSHOOT, { kind: 'alarm-acknowledged', alarm: 'overshoot', by: 'Jo' }]));
  await page.locator('main.alarm').waitFor({ state: 'detached' });
}

describe('an alarm comes over', () => {
  test('a note half written: its sheet, its words and the place to go on writing are there afterwards', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['work']!));
    await page.getByRole('button', { name: 'Note it' }).click();
    await page.getByLabel('In your own words').fill('second tray, ');
    await alarmComes(page, bowl);
    expect(await page.locator('dialog[open]').count()).toBe(0);
    await pictures(page, 'alarm-over-note');
    await seeIt(page, bowl);
    await page.locator('dialog[open]').waitFor();
    await page.keyboard.type('Ana dips');
    expect(await page.getByLabel('In your own words').inputValue()).toBe('second tray, Ana dips');
    await pictures(page, 'alarm-over-note-seen');
  });

  test('a run looked back at: the head, the card half written and the place scrolled to are there afterwards', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['work']!), TABLET, `#/runs/${RUN}`);
    await page.getByRole('button', { name: 'Back 1 min' }).click();
    const slider = page.getByRole('slider', { name: 'Moment shown' });
    const headMs = await slider.inputValue();
    await page.getByRole('button', { name: 'Write on it' }).click();
    await page.getByLabel('What this run is called').fill('Ginger');
    const top = await page.evaluate(() => window.scrollY);
    expect(top).toBeGreaterThan(0);
    await alarmComes(page, bowl);
    await seeIt(page, bowl);
    await page.keyboard.type(' for Saturday');
    expect(await page.getByLabel('What this run is called').inputValue()).toBe('Ginger for Saturday');
    expect(await slider.inputValue()).toBe(headMs);
    expect(await page.evaluate(() => window.scrollY)).toBe(top);
    await page.locator('.ribbon', { hasText: 'Playback, standing still' }).waitFor();
    await page.evaluate(() => scrollTo(0, 0));
    await pictures(page, 'alarm-over-past-seen');
  });
});
