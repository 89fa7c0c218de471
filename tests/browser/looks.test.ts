/** How every state of the page looks: what can be pressed, what can be read, and what axe says. A picture of each is left for eyes. */
import axe from 'axe-core';
import type { BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import type { ServerMessage } from '../../server/core/show/wire.ts';
import { PHONE, TABLET } from '../support/browser.ts';
import { greetingAt, LINKS } from '../support/scenes.ts';
import {
  CAREFUL,
  picture,
  READY,
  SCENES,
  SEVERAL,
  show,
  STANDINGS,
  START,
  startWith,
  useBrowser,
} from '../support/shown-page.ts';
import type { Shown } from '../support/shown-page.ts';

useBrowser();

/** What each state has to satisfy; the pictures are for the eyes. */
const STARTS: Readonly<Record<string, readonly ServerMessage[]>> = {
  start: START,
  'start-careful': CAREFUL,
  'start-several': SEVERAL,
  ...Object.fromEntries(Object.keys(LINKS).map((name) => [name, startWith(name)])),
};
/** States that a person brings about, from work or from the scene named. */
const HANDS: Readonly<Record<string, { readonly from: string; readonly press: readonly string[] }>> = {
  locked: { from: 'work', press: ['Lock'] },
  unlocking: { from: 'work', press: ['Lock', 'Unlock'] },
  looking: { from: 'work', press: ['More', 'Look along the road'] },
  'looking-all': { from: 'work', press: ['More', 'Look along the road', 'All'] },
  noting: { from: 'work', press: ['Note it'] },
  more: { from: 'cool', press: ['More'] },
  ending: { from: 'work', press: ['End'] },
  far: { from: 'work', press: ['More', 'Far view'] },
};
const IN_SHEET: ReadonlySet<string> = new Set(['Look along the road', 'Far view']);
const STATES = [
  ...Object.keys(HANDS),
  ...Object.keys(SCENES),
  ...Object.keys(STANDINGS),
  ...Object.keys(STARTS),
  'runs',
];

const STAYS_ON = JSON.stringify({ unit: 'C', look: 'auto', isFar: false, knowsSleep: true });

function greetingFor(state: string): readonly ServerMessage[] {
  const scene = SCENES[HANDS[state]?.from ?? state] ?? STANDINGS[state];
  return scene === undefined ? (STARTS[state] ?? START) : greetingAt(scene);
}

/** `staysOn`: its person has read that the screen may go dark, and set it not to. */
async function turnTo(shown: Shown, state: string, staysOn = false): Promise<void> {
  shown.bowl.script.greeting = greetingFor(state);
  await shown.page.evaluate(
    (viewer) => {
      localStorage.clear();
      if (viewer !== null) localStorage.setItem('bowlside.viewer', viewer);
    },
    staysOn ? STAYS_ON : null,
  );
  await shown.page.goto(`${shown.address}/?${state}#/${state === 'runs' ? 'runs' : ''}`);
  await shown.page.locator(READY).waitFor();
  for (const name of HANDS[state]?.press ?? []) {
    // What a sheet offers may stand on the page under it as well.
    const place = IN_SHEET.has(name) ? shown.page.locator('dialog[open]') : shown.page;
    await place.getByRole('button', { name, exact: true }).last().click();
  }
  if (state in STARTS) await shown.page.locator('.choice-button').first().waitFor();
  if (state in STANDINGS) await shown.page.locator('.standing-ask').click();
  if (state === 'runs') await shown.page.locator('.run-row').first().waitFor();
}

/** Faults in the layout of what can be pressed, in words; none is right. */
function layoutFaults(page: Page, leastPx: number, apartPx: number): Promise<string[]> {
  return page.evaluate(
    ([least, apart]) => {
      const faults: string[] = [];
      const { clientWidth: width, scrollWidth } = document.documentElement;
      if (scrollWidth > width) faults.push(`the page is ${scrollWidth} wide in ${width}`);
      // While a sheet lies over the page, nothing under it can be pressed.
      const above = document.querySelector('dialog[open]') ?? document;
      const pressed = [...above.querySelectorAll<HTMLElement>('button, .controls a, .choice a, input')];
      const boxes = pressed
        .filter((element) => element.checkVisibility({ opacityProperty: true }))
        .map((element) => ({ name: element.innerText.replaceAll(/\s+/g, ' '), box: element.getBoundingClientRect() }));
      for (const { name, box } of boxes) {
        if (box.height < least - 0.5 || box.width < least - 0.5)
          faults.push(`${name} is ${box.width} by ${box.height}`);
        if (box.left < 0 || box.right > width + 0.5) faults.push(`${name} leaves the page`);
      }
      boxes.forEach(({ name, box }, i) => {
        for (const other of boxes.slice(i + 1)) {
          const dx = Math.max(other.box.left - box.right, box.left - other.box.right);
          const dy = Math.max(other.box.top - box.bottom, box.top - other.box.bottom);
          if (Math.max(dx, dy) < apart - 0.5) faults.push(`${name} and ${other.name} are ${Math.max(dx, dy)} apart`);
        }
      });
      const controls = document.querySelector('.controls')?.getBoundingClientRect();
      for (const text of document.querySelectorAll('.left p')) {
        const box = text.getBoundingClientRect();
        if (controls !== undefined && controls.height > 0 && text.checkVisibility() && box.bottom > controls.top + 1) {
          faults.push(`“${text.textContent}” reaches under the controls`);
        }
      }
      return faults;
    },
    [leastPx, apartPx] as const,
  );
}

/** What has to be in sight without scrolling, wherever it stands on the page, and is not: the sentence, and the word that no alarm is heard. */
function outOfSight(page: Page): Promise<string[]> {
  return page.evaluate(() =>
    ['.act', '.detail', '.sound-bar', '.sound-ask'].filter((name) => {
      const box = document.querySelector(name)?.getBoundingClientRect();
      return box !== undefined && (box.top < 0 || box.bottom > innerHeight + 0.5);
    }),
  );
}

/** Dark and strong share the layout with light and differ in colours: one state of each kind shows every colour pair. */
const EACH_KIND = [
  'locked',
  'noting',
  'more',
  'strip-waiting',
  'cool',
  'cool-unstirred',
  'rewarm-cue',
  'rewarm-now',
  'standing-at-risk',
  'overshoot',
  'overshoot-seen',
  'stale',
  'start',
  'runs',
];

const LOOKS: readonly (readonly [name: string, options: BrowserContextOptions, states: readonly string[]])[] = [
  ['tablet-light', TABLET, STATES],
  ['phone-light', PHONE, STATES],
  ['tablet-dark', { ...TABLET, colorScheme: 'dark' }, EACH_KIND],
  ['phone-dark', { ...PHONE, colorScheme: 'dark' }, EACH_KIND],
  ['tablet-strong', { ...TABLET, contrast: 'more' }, EACH_KIND],
  ['tablet-forced', { ...TABLET, forcedColors: 'active' }, ['work', 'locked', 'looking', 'overshoot', 'strip-waiting']],
];

/** Until a look of every state is given up, ms: a guard against hanging, no bound on speed. */
const MANY_STATES_MS = 300_000;

/** Height of a figure as a share of the type's size, from the face's own metrics. */
const FIGURE_SHARE = 0.727;

async function axeFaults(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  return page.evaluate(async () => {
    const found = await (globalThis as unknown as { axe: typeof axe }).axe.run();
    return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`);
  });
}

describe('looks', () => {
  test.each(LOOKS)(
    'in %s every state has controls of 64 px, 12 px apart, words clear of them, and nothing axe objects to',
    async (look, options, states) => {
      const shown = await show(START, options);
      for (const state of states) {
        await turnTo(shown, state, look.startsWith('tablet'));
        expect(await layoutFaults(shown.page, 64, 12), `${state} in ${look}`).toEqual([]);
        expect(await axeFaults(shown.page), `${state} in ${look}`).toEqual([]);
        await picture(shown.page, `${state}-${look}`);
      }
    },
    MANY_STATES_MS,
  );

  test(
    'from 320 px to a projector nothing leaves the page and every control can be hit',
    { timeout: MANY_STATES_MS },
    async () => {
      const shown = await show(START);
      for (const [width, height] of [
        [320, 568],
        [844, 390],
        [1024, 768],
        [820, 1180],
        [1920, 1080],
      ] as const) {
        await shown.page.setViewportSize({ width, height });
        for (const state of [
          'locked',
          'unlocking',
          'looking',
          'noting',
          'strip-waiting',
          'ending',
          'work',
          'rewarm-now',
          'cool-unstirred',
          'cool-short',
          'overshoot',
          'overshoot-seen',
          'standing-at-risk',
          'standing-lost',
          'start',
        ]) {
          await turnTo(shown, state);
          expect(await layoutFaults(shown.page, 64, 12), `${state} at ${width} by ${height}`).toEqual([]);
          if (height === 390) expect(await outOfSight(shown.page), `${state} lying down`).toEqual([]);
          await picture(shown.page, `${state}-${width}x${height}`);
        }
      }
    },
  );

  test('the number can be read at 1.5 m: figures of 16 arc-minutes three times over, on phone and tablet', async () => {
    for (const [options, leastPx] of [
      [TABLET, 120],
      [PHONE, 75],
    ] as const) {
      const { page } = await show(greetingAt(SCENES['cool']!), options);
      const fontPx = await page
        .locator('.number')
        .evaluate((number) => Number.parseFloat(getComputedStyle(number).fontSize));
      expect(fontPx * FIGURE_SHARE).toBeGreaterThan(leastPx);
    }
  });
});
