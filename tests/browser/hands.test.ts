/** Wet and sticky hands: the lock, keys and pedals, notes taken back and changed, the strip test as a step. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import type { EventBody } from '../../server/core/record/event.ts';
import { OVERSHOOT } from '../support/alarm.ts';
import { PHONE, TABLET } from '../support/browser.ts';
import { BOWL, greetingAt, msAt, nowAt, RUN } from '../support/scenes.ts';
import { useScreens } from '../support/screens.ts';
import { news, pictures, SCENES, show, START } from '../support/shown-page.ts';

useScreens();

const bodies = (asked: readonly { readonly body: unknown }[]): unknown[] => asked.map(({ body }) => body);

async function centreOf(page: Page, name: string): Promise<{ x: number; y: number }> {
  const box = (await page.getByRole('button', { name, exact: true }).boundingBox())!;
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

describe('lock', () => {
  test.each([
    ['tablet', TABLET],
    ['phone', PHONE],
  ] as const)('one tap locks, two in two places unlock, and a drumming drop does not: %s', async (_, options) => {
    const { page, bowl } = await show(greetingAt(SCENES['work']!), options);
    await page.getByRole('button', { name: 'Lock' }).click();
    await page.getByText('Locked against wet hands.').waitFor();
    expect(await page.locator('.controls-locked').innerText()).toContain('Sound is off.');
    const first = await centreOf(page, 'Unlock');
    for (let i = 0; i < 6; i++) await page.mouse.click(first.x, first.y);
    await page.getByText('Once more, here.').waitFor();
    const second = await centreOf(page, 'Yes, unlock');
    expect(Math.hypot(second.x - first.x, second.y - first.y)).toBeGreaterThan(150);
    await page.getByRole('button', { name: 'Yes, unlock' }).click();
    await page.getByRole('button', { name: 'Note it' }).waitFor();
    expect(bowl.asked).toEqual([]);
  });

  test('the second place goes away when nobody comes', async () => {
    const { page } = await show(greetingAt(SCENES['work']!));
    await page.getByRole('button', { name: 'Lock' }).click();
    await page.getByRole('button', { name: 'Unlock' }).click();
    await page.getByRole('button', { name: 'Yes, unlock' }).waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Unlock' }).waitFor();
  });

  test('locked, taps all over the page and every key ask for nothing; an alarm is still seen, by tap and by key', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['work']!));
    await page.getByRole('button', { name: 'Lock' }).click();
    for (let y = 30; y < 690; y += 60) for (let x = 40; x < 1180; x += 120) await page.mouse.click(x, y);
    for (const key of ['n', 'ArrowRight', 'm', 'Space']) await page.keyboard.press(key);
    expect(bowl.asked).toEqual([]);
    expect(await page.getByRole('dialog').count()).toBe(0);
    bowl.say(news(80, [OVERSHOOT]));
    await page.locator('main.alarm').waitFor();
    await page.getByRole('button', { name: /^Quiet/ }).click({ force: true });
    expect(bowl.asked).toEqual([]);
    await page.getByRole('button', { name: /^Seen/ }).click();
    await page.keyboard.press('Space');
    await expect
      .poll(() => bodies(bowl.asked))
      .toEqual([
        { name: 'acknowledge', alarm: 'overshoot' },
        { name: 'acknowledge', alarm: 'overshoot' },
      ]);
  });
});

describe('keys', () => {
  test('a run from its start to its end with keys alone', async () => {
    const { page, bowl } = await show(START);
    const press = async (name: string | RegExp, key = 'Enter'): Promise<void> => {
      const button = page.getByRole('button', { name });
      for (let i = 0; i < 60 && !(await button.first().evaluate((one) => one === document.activeElement)); i++)
        await page.keyboard.press('Tab');
      expect(await button.first().evaluate((one) => one === document.activeElement)).toBe(true);
      await page.keyboard.press(key);
    };
    await page.locator('.choice-button').first().waitFor();
    await press(/^Dark/);
    await press(/^Solid/);
    await expect.poll(() => bowl.asked.length).toBe(1);
    bowl.script.greeting = greetingAt(SCENES['cool']!);
    bowl.hangUp();
    await page.locator('main.run').waitFor();
    await page.keyboard.press('n');
    await page.getByRole('dialog').waitFor();
    await page.keyboard.press('2');
    await page.getByText(/^Noted: off the cold/).waitFor();
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => bowl.asked.length).toBe(3);
    bowl.say(news(36, [OVERSHOOT]));
    await page.locator('main.alarm').waitFor();
    await page.keyboard.press('Space');
    bowl.say(news(36, [OVERSHOOT, { kind: 'alarm-acknowledged', alarm: 'overshoot' }]));
    await page.locator('main.run').waitFor();
    await press('End', 'Enter');
    await press('End it', 'Space');
    await expect
      .poll(() => bodies(bowl.asked))
      .toEqual([
        { name: 'choose-profile', profile: 'dark', condition: 'solid' },
        { name: 'act', act: 'off-cold' },
        { name: 'next' },
        { name: 'acknowledge', alarm: 'overshoot' },
        { name: 'end' },
      ]);
  });

  test('a pedal is taught by pressing it, and is known after a reload', async () => {
    const { page } = await show(greetingAt(SCENES['work']!));
    await page.getByRole('button', { name: 'More' }).click();
    await page.getByRole('button', { name: 'Teach: Note it' }).click();
    await page.keyboard.press('PageDown');
    await page.locator('.keys kbd', { hasText: 'Page down' }).waitFor();
    await pictures(page, 'more-taught');
    await page.reload();
    await page.locator('main.run button:enabled', { hasText: 'Note it' }).waitFor();
    await page.keyboard.press('PageDown');
    await page.getByRole('dialog', { name: 'What did you do?' }).waitFor();
  });

  test('one pedal for Note and one for Seen note any act: Note walks the tiles, Seen takes one', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['cool']!));
    await page.keyboard.press('n');
    await page.locator('dialog[open] .tile:focus').first().waitFor();
    for (const key of ['n', 'n', 'Space']) await page.keyboard.press(key);
    await expect.poll(() => bodies(bowl.asked)).toEqual([{ name: 'act', act: 'seed-added' }]);
  });

  test('a digit pressed in the very moment the sheet stands is taken', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['cool']!));
    await page.locator('main.run').waitFor();
    await page.evaluate(() => {
      const press = (key: string): void => void window.dispatchEvent(new KeyboardEvent('keydown', { key }));
      const opened = new MutationObserver(() => {
        if (document.querySelector('dialog[open]') === null) return;
        opened.disconnect();
        press('2');
      });
      opened.observe(document.body, { subtree: true, childList: true, attributeFilter: ['open'] });
      press('n');
    });
    await expect.poll(() => bodies(bowl.asked)).toEqual([{ name: 'act', act: 'off-cold' }]);
  });

  test('letters typed into a note do nothing else', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['cool']!));
    await page.keyboard.press('n');
    await page.locator('dialog[open] .tile:focus').first().waitFor();
    await page.getByLabel('In your own words').click();
    await page.keyboard.type('l 1 n m');
    await page.keyboard.press('Enter');
    await expect.poll(() => bowl.asked).toMatchObject([{ body: { text: 'l 1 n m' } }]);
  });
});

describe('notes', () => {
  test('a note just made can be taken back for 10 s, act or words', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['work']!));
    await page.keyboard.press('n');
    await page.getByRole('button', { name: 'topped up, tempered', exact: true }).click();
    await page.getByText(/^Noted: topped up/).waitFor();
    await pictures(page, 'noted');
    const told = news(80, [{ kind: 'act', act: 'topped-up-tempered' }]);
    bowl.say(told);
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText(/^Noted:/).waitFor({ state: 'detached' });
    await expect.poll(() => bowl.asked.length).toBe(2);
    await page.keyboard.press('n');
    await page.getByLabel('In your own words').fill('second tray');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Undo' }).click();
    const struck = { text: '', replaces: `event-${told.events[0]!.seq}` };
    await expect
      .poll(() => bowl.asked)
      .toMatchObject([
        { body: { name: 'act', act: 'topped-up-tempered' } },
        { path: `/api/runs/${RUN}/notes`, body: struck },
        { body: { text: 'second tray' } },
        { body: { text: '', replaces: 'note-written-3' } },
      ]);
  });

  test('one is changed or struck out later, in the run and in a past run', async () => {
    for (const hash of ['', `#/runs/${RUN}`]) {
      const { page, bowl } = await show(greetingAt(SCENES['work']!), TABLET, hash);
      if (hash === '') await page.keyboard.press('n');
      const name = hash === '' ? /^Change: off the heat/ : /^Change: new bath/;
      await page.getByRole('button', { name }).click();
      await page.getByLabel('Change', { exact: true }).fill('off, and stirred');
      await page.getByRole('button', { name: 'Keep it' }).click();
      await expect
        .poll(() => bowl.asked)
        .toMatchObject([{ path: `/api/runs/${RUN}/notes`, body: { text: 'off, and stirred' } }]);
      await pictures(page, hash === '' ? 'notes' : 'past-notes');
    }
  });
});

describe('strip test', () => {
  const laid = { kind: 'act', act: 'strip-laid' } as const;
  const tacky = { kind: 'act', act: 'strip-tacky' } as const;
  /** Told at minute 57 of the afternoon, where nothing has been tested yet, with the clock at this minute. */
  const laterAt = (min: number, further: readonly EventBody[]) =>
    greetingAt({
      min: 57,
      further,
      now: { atMs: msAt(min), reading: { ...nowAt({ min }).reading!, atMs: msAt(min) } },
    });

  test('Test now lays it for every screen, a countdown runs over a reload, the look asks how it set, and the answer is the act', async () => {
    const { page, bowl } = await show(greetingAt({ min: 57 }));
    await page.getByRole('button', { name: 'Test now' }).click();
    await expect.poll(() => bodies(bowl.asked)).toEqual([{ name: 'act', act: 'strip-laid' }]);
    bowl.say(news(57, [laid]));
    await page.getByText(/^The strip sets\. Look in (4:00|3:5\d)\.$/).waitFor();
    bowl.script.greeting = laterAt(61.1, [laid]);
    await page.reload();
    await page.getByText('How did it set?').waitFor();
    expect(await page.locator('h1').innerText()).toBe('Look at the strip.');
    await pictures(page, 'strip-asked');
    await page.getByRole('button', { name: 'Still tacky' }).click();
    await expect.poll(() => bodies(bowl.asked).at(-1)).toEqual({ name: 'act', act: 'strip-tacky' });
    bowl.script.greeting = laterAt(57.1, [laid, tacky]);
    await page.reload();
    await page.getByText(/^Still tacky\. Look in (2:00|1:5\d)\.$/).waitFor();
    bowl.say(nowAt({ min: 59.2 }));
    await page.getByRole('button', { name: 'Still tacky' }).click();
    await expect.poll(() => bodies(bowl.asked).at(-1)).toEqual({ name: 'act', act: 'strip-test-bad' });
  });

  test('given up, it is struck out for every screen', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['strip-waiting']!));
    await page.getByRole('button', { name: 'Give it up' }).click();
    await expect
      .poll(() => bodies(bowl.asked))
      .toMatchObject([{ text: '', replaces: expect.stringMatching(/^event-\d+$/) }]);
  });

  test('taken back, an answer is asked for again', async () => {
    const { page, bowl } = await show(laterAt(61.1, [laid]), PHONE);
    await page.getByText('How did it set?').waitFor();
    await page.getByRole('button', { name: 'Sets glossy' }).click();
    const told = news(57, [laid, { kind: 'act', act: 'strip-test-good' }]);
    bowl.say({ ...told, events: told.events.map((event) => ({ ...event, atMs: msAt(61.1) })) });
    await page.getByRole('button', { name: 'Undo' }).click();
    const replaces = `event-${told.events.at(-1)!.seq}`;
    await expect.poll(() => bodies(bowl.asked).at(-1)).toMatchObject({ text: '', replaces });
    const struck = { id: 's', atMs: msAt(61.1), text: '', by: null, writtenAtWall: '', replaces };
    bowl.say({ kind: 'note', bowl: BOWL, run: RUN, note: struck });
    await page.getByRole('button', { name: 'Streaks' }).click();
    await expect
      .poll(() => bodies(bowl.asked))
      .toMatchObject([
        { name: 'act', act: 'strip-test-good' },
        { text: '', replaces },
        { name: 'act', act: 'strip-test-bad' },
      ]);
  });
});
