/** The built page in a real browser, told scene after scene by a scripted server: what it says and what it lets one do. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { OVERSHOOT } from '../support/alarm.ts';
import { PHONE, TABLET } from '../support/browser.ts';
import { BOWL, EPOCH, eventsUpTo, greetingAt, msAt, nowAt, readingsUpTo, RUN } from '../support/scenes.ts';
import { useScreens } from '../support/screens.ts';
import { ANSWERS, news, picture, SCENES, show, STANDINGS, START } from '../support/shown-page.ts';

useScreens();

/** As it is read: a space is a space, whether a line may break there or not. */
function plain(text: string): string {
  return text.replaceAll('\u00a0', ' ');
}

/** What the road says of itself; it is drawn a little after the page. */
async function roadWords(page: Page): Promise<string> {
  return (await page.locator('.road canvas').getAttribute('aria-label')) ?? '';
}

const SILENT = {
  kind: 'alarm-raised',
  alarm: 'probe-silent',
  severity: 'warning',
  phase: 'work',
  valueC: null,
  limitC: null,
} as const;

describe('alarm', () => {
  test('it takes the page with act, excess, limit and time; Seen asks the server, and its answer gives the page back with a strip', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['overshoot']!));
    expect(await page.locator('h1').innerText()).toBe('Off the heat, and stir.');
    const detail = async (): Promise<string> => plain(await page.locator('.detail').innerText());
    await expect.poll(detail).toMatch(/^0\.\d over the 32\.5 ceiling for \d+ s\.$/);
    await page.getByRole('button', { name: /^Seen/ }).press('Enter');
    await expect.poll(() => bowl.asked.map(({ body }) => body)).toEqual([{ name: 'acknowledge', alarm: 'overshoot' }]);
    expect(await page.locator('main').getAttribute('class')).toBe('alarm');
    bowl.say(news(93.1, [{ kind: 'alarm-acknowledged', alarm: 'overshoot', by: 'Jo' }]));
    await page.getByText(/Seen by Jo/).waitFor();
    expect(await page.locator('.strip-alarm').innerText()).toMatch(/^Over the 32\.5 ceiling for/);
    expect(await page.locator('h1').innerText()).toBe('Stir. Don’t dip yet.');
  });

  test('one that was seen and one that was not leave the figures along the road in sight on a small phone', async () => {
    const scene = {
      min: 96,
      further: [SILENT],
      now: { stale: true, estimate: null, fan: [] },
    };
    const { page } = await show(greetingAt(scene), { ...PHONE, viewport: { width: 320, height: 568 } });
    await page.locator('.raised-bar').waitFor();
    const edge = async (part: string): Promise<{ top: number; bottom: number }> => {
      const { y, height } = (await page.locator(part).boundingBox())!;
      return { top: y, bottom: y + height };
    };
    expect(await page.locator('.strip-alarm').innerText()).toMatch(/^Over the 32\.5 ceiling when last read/);
    expect((await edge('.road canvas')).bottom).toBeLessThanOrEqual((await edge('.foot')).top);
    expect((await edge('.foot')).bottom).toBeLessThanOrEqual(568);
  });

  test('quiet is timed and shown, and leaves the alarm on the page', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['overshoot']!));
    await page.getByRole('button', { name: 'Quiet for 2 min' }).click();
    await expect.poll(() => bowl.asked.map(({ body }) => body)).toEqual([{ name: 'quieten', alarm: 'overshoot' }]);
    bowl.say(news(93.1, [{ kind: 'alarm-quietened', alarm: 'overshoot', untilMs: msAt(93.1) + 120_000 }]));
    await page.getByRole('button', { name: /^Quiet, [12]:\d\d$/ }).waitFor();
  });

  test('it calls back whoever is looking at past runs', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['work']!), TABLET, '#/runs');
    await page.locator('.run-row').first().waitFor();
    bowl.say(news(80, [OVERSHOOT]));
    await page.locator('main.alarm').waitFor();
  });

  test.each([
    ['unseen-past', {}],
    ['disk-full', { simulated: true }],
    ['overshoot-seen', { simulated: true, now: { unrecordedSinceMs: msAt(90) } }],
  ])('on a phone lying down %s fits with its strips', async (scene, more) => {
    const lying = { ...PHONE, viewport: { width: 844, height: 390 } };
    const { page } = await show(greetingAt({ ...SCENES[scene]!, ...more }), lying);
    await page.locator('.strips .strip').first().waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollHeight)).toBeLessThanOrEqual(390);
  });

  test('one that came and went unseen stays as a strip until it is read', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['unseen-past']!));
    expect(plain(await page.locator('.strip-was b').innerText())).toBe(
      'Was over the 32.5 ceiling for 1 min 35 s, up to 32.8.',
    );
    await page.getByRole('button', { name: 'Seen' }).click();
    await page.locator('.strip-was').waitFor({ state: 'detached' });
    await expect.poll(() => bowl.asked.map(({ body }) => body)).toEqual([{ name: 'acknowledge', alarm: 'overshoot' }]);
  });
});

describe('run', () => {
  test('a tile notes an act, own words become a note, each in one tap after the sheet', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['work']!));
    await page.getByRole('button', { name: 'Note it' }).click();
    await page.getByRole('button', { name: 'strip test good', exact: true }).click();
    await page.getByText(/^Noted: strip test good, \d\d:\d\d\.$/).waitFor();
    await page.getByRole('button', { name: 'Note it' }).click();
    await page.getByLabel('In your own words').fill('second tray; Ana dips');
    await page.keyboard.press('Enter');
    await page.getByText(/^Noted: second tray/).waitFor();
    expect(bowl.asked).toMatchObject([
      { path: '/api/bowls/bowl-1/commands', body: { name: 'act', act: 'strip-test-good' } },
      { path: `/api/runs/${RUN}/notes`, body: { text: 'second tray; Ana dips' } },
    ]);
  });

  test('the next phase is one tap; the end takes two, in two places', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['cool']!));
    await page.getByRole('button', { name: 'Rewarm' }).click();
    await page.getByRole('button', { name: 'End' }).click();
    await page.getByRole('button', { name: 'End it' }).click();
    await expect.poll(() => bowl.asked.map(({ body }) => body)).toEqual([{ name: 'next' }, { name: 'end' }]);
  });

  test.each([
    ['cool', 'a tablet', TABLET],
    ['work', 'a tablet', TABLET],
    ['work', 'a phone', PHONE],
  ] as const)(
    'a double tap on End ends nothing, wherever on the button it falls: %s on %s',
    async (state, _, options) => {
      const { page, bowl } = await show(greetingAt(SCENES[state]!), options);
      for (const share of [0.05, 0.5, 0.95]) {
        const end = page.getByRole('button', { name: 'End', exact: true });
        const box = (await end.boundingBox())!;
        await page.mouse.dblclick(box.x + box.width * share, box.y + box.height / 2);
        const goOn = page.getByRole('button', { name: 'Go on' });
        await end.or(goOn).waitFor();
        if (await goOn.isVisible()) await goOn.click();
      }
      expect(bowl.asked).toEqual([]);
    },
  );

  test('no old number looks live: a stale one is hollow and says was', async () => {
    const { page } = await show(greetingAt(SCENES['stale']!));
    expect(await page.locator('.number').getAttribute('class')).toContain('number-hollow');
    expect(await page.locator('.trend').innerText()).toMatch(/was 31\.6 at \d\d:\d\d/);
    expect(plain(await page.locator('h1').innerText())).toMatch(/^No reading for [89]\d s\.$/);
  });

  test('sound is off until a tap, and the page says so; after the tap the bar is gone', async () => {
    const { page } = await show(greetingAt(SCENES['work']!));
    await page.getByRole('button', { name: 'Turn it on and test' }).click();
    await page.locator('.sound-bar').waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Sound is on' }).waitFor();
    await picture(page, 'work-sound-on');
  });
});

describe('foresight', () => {
  test('at its cue the sentence, the number’s column and the road say one and the same of leaving the heat', async () => {
    const { page } = await show(greetingAt(SCENES['rewarm-now']!));
    expect(plain(await page.locator('.detail').innerText())).toMatch(/^It will coast to 31\.5 in about \d+ (min|s)\.$/);
    expect(plain(await page.locator('.standing').innerText())).toMatch(/^\s*Left on: over 32\.5 in \d+ (min|s)$/);
    await expect.poll(() => roadWords(page)).toMatch(/Off now: 31\.5 in 3 min.*Left on: over 32\.5 in/);
  });

  test('what can’t be told ahead is not: no time, a hint by the number for as long as it lasts, edges only on the road', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['rewarm-at-wall']!));
    expect(await page.locator('.unsure').innerText()).toBe('The tip seems at the wall');
    expect(plain(await page.locator('.detail').innerText())).toBe('To 31 °C. Tip off the wall to know when.');
    await expect.poll(() => roadWords(page)).toContain('What comes can’t be told from this reading.');
    bowl.say(nowAt({ min: 52, now: { mixing: 'stirred' } }));
    await page.locator('.unsure').waitFor({ state: 'detached' });
  });

  test('a probe that has just come back is not believed ahead of itself', async () => {
    const { page } = await show(greetingAt(SCENES['rewarm-back']!));
    expect(await page.locator('.unsure').innerText()).toBe('Probe just back in');
  });
});

describe('standing', () => {
  test('the word opens by key what it means and what to do; Escape gives page and focus back', async () => {
    const { page } = await show(greetingAt(STANDINGS['standing-at-risk']!));
    const word = page.getByRole('button', { name: 'Temper at risk' });
    await word.focus();
    await page.keyboard.press('Enter');
    const sheet = page.getByRole('dialog', { name: 'Temper at risk' });
    const said = plain(await sheet.innerText());
    expect(said).toContain('Up to 32.9, over 32.5 for 3 min 35 s.');
    expect(said).toContain('Strip test.');
    expect(said).toContain('Our estimate, from the temperature alone. The strip test decides.');
    await page.keyboard.press('Escape');
    await sheet.waitFor({ state: 'detached' });
    await expect.poll(() => word.evaluate((element) => element === document.activeElement)).toBe(true);
  });

  test('what the strip showed is noted there, in one tap', async () => {
    const { page, bowl } = await show(greetingAt(STANDINGS['standing-unproven']!));
    await page.locator('.standing-ask').click();
    await page.getByRole('button', { name: 'Strip test good' }).click();
    await page.getByText(/^Noted: strip test good/).waitFor();
    expect(await page.getByRole('dialog').count()).toBe(0);
    expect(bowl.asked.map(({ body }) => body)).toEqual([{ name: 'act', act: 'strip-test-good' }]);
  });

  test('sentence and number stay in sight while it is open', async () => {
    for (const options of [TABLET, PHONE]) {
      const { page } = await show(greetingAt(STANDINGS['standing-unproven']!), options);
      await page.locator('.standing-ask').click();
      const top = (await page.getByRole('dialog').boundingBox())!.y;
      const number = (await page.locator('.number .figures').boundingBox())!;
      expect(number.y + number.height).toBeLessThanOrEqual(top);
    }
  });

  test('a past run tells why too, and advises nothing', async () => {
    const { page } = await show(START, TABLET, `#/runs/${RUN}`);
    await page.locator('.standing-ask').click();
    const said = plain(await page.getByRole('dialog').innerText());
    expect(said).toMatch(/The strip test was good, \d+ min ago\./);
    expect(said).not.toContain('Dip.');
  });
});

describe('line to the server', () => {
  test('lost, the number goes hollow and controls are shut; back, it resumes where it left off', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['work']!));
    await page.getByText('Dip.').first().waitFor();
    bowl.fallSilent();
    await page.getByText('This screen has lost Bowlside.').first().waitFor();
    expect(await page.locator('.number').getAttribute('class')).toContain('number-hollow');
    expect(await page.getByRole('button', { name: 'Note it' }).isDisabled()).toBe(true);
    bowl.script.greeting = [
      greetingAt(SCENES['work']!)[0]!,
      { kind: 'nothing-missed', bowl: BOWL, run: RUN },
      nowAt({ min: 80 }),
    ];
    bowl.speak();
    await page.getByText('Dip.').first().waitFor();
    const events = eventsUpTo(80);
    expect(Object.fromEntries(bowl.arrivals.at(-1)!)).toEqual({
      bowl: BOWL,
      epoch: EPOCH,
      run: RUN,
      seq: String(events.length),
      n: String(readingsUpTo(80).length),
    });
  });

  test('what comes twice is folded once; a hole makes the page ask for all of it', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['work']!));
    const act = news(80, [{ kind: 'act', act: 'seed-added' }]);
    bowl.say(act, act);
    bowl.say(nowAt({ min: 80 }));
    expect(bowl.arrivals).toHaveLength(1);
    const skipping = { ...act, events: act.events.map((event) => ({ ...event, seq: event.seq + 5 })) };
    bowl.say(skipping);
    await expect.poll(() => bowl.arrivals.length).toBe(2);
    expect(bowl.arrivals[1]!.get('epoch')).toBeNull();
    await page.locator('main.run').waitFor();
  });

  test('what cannot be read is passed over, and so are kinds of a newer server', async () => {
    const { page, bowl } = await show(greetingAt(SCENES['work']!));
    bowl.sayText('{"kind":"now","bowl":7}');
    bowl.sayText('not json');
    bowl.sayText('{"kind":"weather","sky":"clear"}');
    bowl.say(nowAt({ min: 80, now: { reading: { valueC: 31.9, atMs: msAt(80), quality: 'good' } } }));
    await page.getByLabel('31.9 degrees').waitFor();
  });

  test('until the server has spoken nothing is asked and no number is shown', async () => {
    const { page } = await show(greetingAt(SCENES['work']!).slice(0, 1), TABLET, '', 'h1');
    expect(await page.locator('h1').innerText()).toBe('One moment.');
    expect(await page.locator('.number').count()).toBe(0);
  });
});

describe('past runs', () => {
  test('the list says when, how it stood and the worst of each run, and opens one', async () => {
    const { page } = await show(START, TABLET, '#/runs');
    const rows = page.locator('.run-row');
    await rows.first().waitFor();
    expect(plain(await rows.first().innerText())).toMatch(
      /Tue, Nov 24.*1 h 58 min[^]*In temper, our estimate[^]*0\.4 over the ceiling/,
    );
    await rows.first().click();
    await expect.poll(() => page.locator('h1').innerText()).toBe('Over the ceiling, once.');
    await page.locator('.road canvas').waitFor();
  });

  test('the list follows what is changed elsewhere, and asks anew when the line was cut', async () => {
    const { page, bowl } = await show(START, TABLET, '#/runs');
    const rows = page.locator('.run-row');
    await expect.poll(() => rows.count()).toBe(3);
    const runs = ANSWERS['/api/runs'].runs;
    bowl.script.answers = { ...ANSWERS, '/api/runs': { total: 2, runs: runs.slice(1) } };
    bowl.say({ kind: 'run-changed', bowl: BOWL, run: RUN });
    await expect.poll(() => rows.count()).toBe(2);
    bowl.script.answers = ANSWERS;
    bowl.hangUp();
    await expect.poll(() => rows.count()).toBe(3);
  });
});
