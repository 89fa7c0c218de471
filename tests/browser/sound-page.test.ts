/** Sound and alarms on the run page in a real browser: what it shows of them, what it tells the server, what it reads aloud. */
import type { BrowserContextOptions } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { OVERSHOOT } from '../support/alarm.ts';
import { axeFaults } from '../support/axe.ts';
import { PHONE, TABLET } from '../support/browser.ts';
import { greetingAt, nowAt } from '../support/scenes.ts';
import { openScreen, useScreens } from '../support/screens.ts';
import { openKitchenWithPage } from '../support/served-bowl.ts';
import { BOWL } from '../support/server.ts';
import { lightAndDark, news, pictures, SCENES, show } from '../support/shown-page.ts';
import { ringingNow, rounds, spyOn, suspendSound } from '../support/sound/spied.ts';

useScreens();

const LOOKS: readonly (readonly [string, BrowserContextOptions])[] = [
  ['tablet', TABLET],
  ['phone', PHONE],
];

describe.each(LOOKS)('%s', (look, options) => {
  test('while a run goes on: off, asked, not heard, heard; every button of 64 px and in the page', async () => {
    const { page } = await show(greetingAt(SCENES['work']!), options);
    await lightAndDark(page, `run-sound-off-${look}`);
    await page.getByRole('button', { name: 'Turn it on and test' }).click();
    await page.getByText('Did you hear it?').waitFor();
    await lightAndDark(page, `run-sound-asking-${look}`);
    expect(await axeFaults(page)).toEqual([]);
    for (const name of ['Yes', 'No']) {
      const box = (await page.getByRole('button', { name, exact: true }).boundingBox())!;
      expect(Math.min(box.width, box.height)).toBeGreaterThanOrEqual(64);
      expect(box.x + box.width).toBeLessThanOrEqual(page.viewportSize()!.width);
    }
    await page.getByRole('button', { name: 'Yes' }).click();
    await page.locator('.sound-ask').waitFor({ state: 'detached' });
    await lightAndDark(page, `run-sound-on-${look}`);
  });

  test('an alarm that leaves the page its sentence has both answers at hand', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['overshoot-ahead']!), options);
    await page.getByRole('button', { name: 'Seen (muted)' }).waitFor();
    await lightAndDark(page, `band-alarm-silent-${look}`);
    await page.getByRole('button', { name: 'Turn it on and test' }).click();
    await page.getByRole('button', { name: 'Yes' }).click();
    await lightAndDark(page, `band-alarm-${look}`);
    await page.getByRole('button', { name: 'Quiet for 2 min' }).click();
    await expect.poll(() => bowl.asked.length).toBe(1);
    await page.getByRole('button', { name: 'Seen' }).click();
    await expect
      .poll(() => bowl.asked.map(({ body }) => body))
      .toEqual([
        { name: 'quieten', alarm: 'overshoot-ahead' },
        { name: 'acknowledge', alarm: 'overshoot-ahead' },
      ]);
  });

  test('left alone, the alarm stays on the page and it says why nothing sounds', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['work']!), options);
    await spyOn(page);
    await page.getByRole('button', { name: 'Turn it on and test' }).click();
    await page.getByRole('button', { name: 'Yes' }).click();
    bowl.say(nowAt({ min: 80, now: { isLeftAlone: true } }), news(80, [OVERSHOOT]));
    await page.locator('main.alarm').waitFor();
    expect((await rounds(page)).map(({ repeats }) => repeats)).toEqual([false]);
    bowl.say(news(80, [OVERSHOOT, { kind: 'alarm-acknowledged', alarm: 'overshoot' }]));
    await page.getByText('No alarm sounds now.').waitFor();
    await lightAndDark(page, `left-alone-${look}`);
    bowl.say(nowAt({ min: 80 }));
    await page.getByText('No alarm sounds now.').waitFor({ state: 'detached' });
  });
});

test('silenced by the browser in the middle of a run, it says so; the next touch anywhere gives it back, and an alarm rings', async () => {
  const { page, bowl } = await show(greetingAt(SCENES['work']!));
  await spyOn(page);
  await page.getByRole('button', { name: 'Turn it on and test' }).click();
  await page.getByRole('button', { name: 'Yes' }).click();
  await page.locator('.sound-ask').waitFor({ state: 'detached' });
  await suspendSound(page);
  await page.getByText('Sound is off.').waitFor();
  await page.getByRole('button', { name: 'Sound is off' }).waitFor();
  bowl.say(news(80, [OVERSHOOT]));
  await page.getByRole('button', { name: 'Seen (muted)' }).waitFor();
  expect(await ringingNow(page)).toEqual([]);
  await page.locator('h1').click();
  await page.getByRole('button', { name: 'Seen', exact: true }).waitFor();
  await expect.poll(() => ringingNow(page)).toEqual(['warning']);
});

test('who looks at past runs while one goes on is told too, and can arm it there', async () => {
  for (const [look, options] of LOOKS) {
    const { page } = await show(greetingAt(SCENES['work']!), options, '#/runs');
    await page.getByText('Sound is off.').waitFor();
    await lightAndDark(page, `runs-sound-off-${look}`);
    await page.getByRole('button', { name: 'Turn it on and test' }).click();
    await page.getByRole('button', { name: 'Yes' }).click();
    await page.getByRole('complementary', { name: 'Sound' }).waitFor({ state: 'detached' });
  }
});

test('the server knows which screens are heard: only after a yes, and not once it is off, stopped or gone', async () => {
  const { live, address } = await openKitchenWithPage();
  const screen = await openScreen(address);
  await spyOn(screen);
  await screen.getByRole('button', { name: 'Turn it on and test' }).click();
  await screen.getByText('Did you hear it?').waitFor();
  expect(live.audible(BOWL)).toBe(0);
  await screen.getByRole('button', { name: 'Yes' }).click();
  await expect.poll(() => live.audible(BOWL)).toBe(1);
  await suspendSound(screen);
  await expect.poll(() => live.audible(BOWL)).toBe(0);
  await screen.locator('h1').click();
  await expect.poll(() => live.audible(BOWL)).toBe(1);
  await screen.close();
  await expect.poll(() => live.audible(BOWL)).toBe(0);
});

test('the read-out is off until a tap, then says act and number, and again when the act changes', async () => {
  const { page, bowl } = await show(greetingAt(SCENES['work']!));
  await page.evaluate(() => {
    const said: string[] = [];
    Object.assign(window, { said });
    speechSynthesis.speak = ({ text }) => void said.push(text);
  });
  const said = (): Promise<string[]> => page.evaluate(() => (window as unknown as { said: string[] }).said);
  await page.getByRole('button', { name: 'More' }).click();
  expect(await said()).toEqual([]);
  await page.getByRole('button', { name: 'Speak' }).click();
  await expect.poll(said).toEqual([expect.stringMatching(/^Dip\. 31\.\d, \w+/)]);
  await page.getByRole('button', { name: 'Close' }).click();
  // By the bowl's clock the first saying is over by then.
  bowl.say(nowAt({ min: 80.2, now: { stale: true, estimate: null, fan: [] } }));
  await expect.poll(said).toContainEqual(expect.stringMatching(/ No live reading\.$/));
  await page.getByRole('button', { name: 'More' }).click();
  await pictures(page, 'more-speaking');
  await page.getByRole('button', { name: 'Speaking' }).click();
  const before = await said();
  bowl.say(nowAt({ min: 82 }));
  await page.locator('.number:not(.number-hollow)').waitFor();
  expect(await said()).toEqual(before);
});
