/** How every state of the page looks: what can be pressed, what can be read, and what axe says. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import type { ServerMessage } from '../../server/core/show/wire.ts';
import { bringAxe } from '../support/axe.ts';
import { PHONE, TABLET } from '../support/browser.ts';
import { layoutFaults, outOfSight } from '../support/faults.ts';
import { ARE_WANTED as PICTURES_ARE_WANTED } from '../support/picture.ts';
import { DARK, FORCED, LIGHT, looksRightIn, MANY_LOOKS_MS, STRONG } from '../support/looks.ts';
import type { Look } from '../support/looks.ts';
import { greetingAt, LINKS, RUN } from '../support/scenes.ts';
import { useScreens } from '../support/screens.ts';
import {
  ANSWERS,
  CAREFUL,
  picture,
  READY,
  SCENES,
  SEVERAL,
  show,
  STANDINGS,
  START,
  startWith,
} from '../support/shown-page.ts';
import type { Shown } from '../support/shown-page.ts';

useScreens({ again: false });

const STARTS: Readonly<Record<string, readonly ServerMessage[]>> = {
  start: START,
  'start-careful': CAREFUL,
  'start-several': SEVERAL,
  ...Object.fromEntries(Object.keys(LINKS).map((name) => [name, startWith(name)])),
};
/** States that a person brings about, from work or from the scene named. `back`: what leads out again, as if nobody had been there; absent: a load. */
const HANDS: Readonly<
  Record<string, { readonly from: string; readonly press: readonly string[]; readonly back?: readonly string[] }>
> = {
  // No way back: what unlocks does not wait for a slow machine.
  locked: { from: 'work', press: ['Lock'] },
  unlocking: { from: 'work', press: ['Lock', 'Unlock'] },
  looking: { from: 'work', press: ['More', 'Look along the road'], back: ['Follow'] },
  'looking-all': { from: 'work', press: ['More', 'Look along the road', 'All'], back: ['Back to now'] },
  noting: { from: 'work', press: ['Note it'], back: ['Close'] },
  more: { from: 'cool', press: ['More'], back: ['Close'] },
  ending: { from: 'work', press: ['End'], back: ['Go on'] },
  far: { from: 'work', press: ['More', 'Far view'], back: ['Near view'] },
  'sound-on': { from: 'work', press: ['Turn it on and test', 'Yes'] },
  'past-playing': { from: 'start', press: ['Play'] },
};
const IN_SHEET: ReadonlySet<string> = new Set(['Look along the road', 'Far view', 'Close']);
/** Pages with an address of their own. */
const HASHES: Readonly<Record<string, string>> = {
  runs: 'runs',
  past: `runs/${RUN}`,
  'past-playing': `runs/${RUN}`,
};
/** What a page at the work comes to without anybody's doing, and what it says then. */
const BEFALLEN: Readonly<Record<string, { readonly befall: (shown: Shown) => unknown; readonly says: string }>> = {
  'server-gone': { befall: ({ bowl }) => bowl.fallSilent(), says: 'This screen has lost Bowlside.' },
  'server-stopped': {
    befall: ({ bowl }) => {
      bowl.hush();
      bowl.say({ kind: 'refused', reason: 'shutting-down' });
      bowl.hangUp();
    },
    says: 'Bowlside was shut down.',
  },
  slept: { befall: sleepForAnHour, says: 'This screen was asleep.' },
};
const STATES = [
  ...Object.keys(SCENES),
  ...Object.keys(STANDINGS),
  ...Object.keys(STARTS),
  ...Object.keys(HANDS),
  ...Object.keys(BEFALLEN),
  'runs',
  'past',
];

function greetingFor(state: string): readonly ServerMessage[] {
  const from = HANDS[state]?.from ?? (state in BEFALLEN ? 'work' : state);
  const scene = SCENES[from] ?? STANDINGS[from];
  return scene === undefined ? (STARTS[from] ?? START) : greetingAt(scene);
}

/** Only where nobody may guess is one asked which port it is. */
const ONE_PORT = { ...ANSWERS, '/api/thermometers': [] };

async function sleepForAnHour({ page, bowl }: Shown): Promise<void> {
  bowl.hush();
  await page.evaluate(() => {
    const now = Date.now;
    Date.now = () => now() + 3_600_000;
  });
}

/** A page that comes anew. */
async function load({ page, bowl, address }: Shown, state: string): Promise<void> {
  bowl.speak();
  bowl.script.greeting = greetingFor(state);
  bowl.script.answers = state === 'start-several' ? ANSWERS : ONE_PORT;
  await page.evaluate(() => localStorage.clear());
  await page.goto(`${address}/?${state}#/${HASHES[state] ?? ''}`);
  await page.locator(READY).waitFor();
}

async function press(page: Page, names: readonly string[]): Promise<void> {
  for (const name of names) {
    // What a sheet offers may stand on the page under it as well.
    const place = IN_SHEET.has(name) ? page.locator('dialog[open]') : page;
    await place.getByRole('button', { name, exact: true }).last().click();
  }
}

/** From a page that was told of it, by whoever it takes. */
async function bringAbout(shown: Shown, state: string): Promise<void> {
  const { page } = shown;
  await press(page, HANDS[state]?.press ?? []);
  if (state in STARTS) await startStands(page);
  if (state in STANDINGS) await page.locator('.standing-ask').click();
  if (state === 'runs') await page.locator('.run-row').first().waitFor();
  if (state === 'past') await page.locator('main.past .road canvas').waitFor();
  await BEFALLEN[state]?.befall(shown);
  if (state in BEFALLEN) await page.locator('h1', { hasText: BEFALLEN[state]!.says }).waitFor();
}

const startStands = (page: Page): Promise<void> => page.locator('.choice-button').first().waitFor();
const runStands = (page: Page): Promise<void> => page.locator('main.run, main.alarm').waitFor();

/** There a page comes by what its server tells it; to others it must be loaded. */
const isTold = (state: string): boolean => !(state in HASHES) && !(state in BEFALLEN) && state !== 'start-several';

/** A page that stands, and was left as if nobody had touched it: between two runs, or two starts, the other one leaves nothing of the first. */
async function tell({ page, bowl }: Shown, state: string): Promise<void> {
  const [between, stands, thenStands] =
    state in STARTS ? [greetingFor('work'), runStands, startStands] : [START, startStands, runStands];
  bowl.say(...between);
  await stands(page);
  bowl.script.greeting = greetingFor(state);
  bowl.say(...bowl.script.greeting);
  await thenStands(page);
  await page.locator('.may-go-dark').first().waitFor({ state: 'detached' });
}

/** Whether the page is again as if nobody had been there. */
async function leave(page: Page, state: string): Promise<boolean> {
  const back = state in STANDINGS ? ['Close'] : HANDS[state]?.back;
  await press(page, back ?? []);
  return isTold(state) && (back !== undefined || !(state in HANDS));
}

/** While a run goes on, hands are in a hurry; the lines of a past one's log stand close, and only must not overlap. CSS px. */
function apartIn(state: string): number {
  return HASHES[state]?.startsWith('runs/') ? 0 : 12;
}

/** One state of each kind shows every colour pair that strong and forced colours have, and the dark of a phone. */
const EACH_KIND: ReadonlySet<string> = new Set([
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
  'server-gone',
  'start',
  'runs',
  'past',
]);
const FORCED_STATES: ReadonlySet<string> = new Set(['work', 'locked', 'looking', 'overshoot', 'strip-waiting']);

/** Looks differ in colours and not in their layout: the page is loaded once, and asked in each. */
function tabletLooks(state: string): readonly Look[] {
  return [LIGHT, DARK, ...(EACH_KIND.has(state) ? [STRONG] : []), ...(FORCED_STATES.has(state) ? [FORCED] : [])];
}

/** Where pictures are wanted, they are of every state. */
const phoneLooks = (state: string): readonly Look[] =>
  EACH_KIND.has(state) || PICTURES_ARE_WANTED ? [LIGHT, DARK] : [LIGHT];

/** On a phone its parts are those of a state that is asked about everything there. */
const isLikeOthers = (state: string): boolean => !EACH_KIND.has(state) && !LAYOUTS.has(state);

/** Height of a figure as a share of the type's size, from the face's own metrics. */
const FIGURE_SHARE = 0.727;

/** Five screens besides the tablet and the phone above: the smallest, a phone lying down, tablets, a projector. */
const VIEWPORTS = [
  [320, 568],
  [844, 390],
  [1024, 768],
  [820, 1180],
  [1920, 1080],
] as const;
/** What differs in its controls. */
const LAYOUTS: ReadonlySet<string> = new Set([
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
  'runs',
  'past',
]);

/** As a phone does that turns its light off after all; until then the screen is kept on. */
async function darkenItself(page: Page): Promise<void> {
  await page.evaluate(() =>
    (window as unknown as { readonly lamp: EventTarget }).lamp.dispatchEvent(new Event('release')),
  );
}

/** Before the page is loaded: its screen stays on while it wants that. */
function keepOn(): void {
  const lamp = Object.assign(new EventTarget(), { release: () => Promise.resolve() });
  Object.assign(window, { lamp });
  Object.defineProperty(navigator, 'wakeLock', { value: { request: () => Promise.resolve(lamp) } });
}

/** Each state on all screens one after another: a page that is loaded anew takes longer than one that is told, or looked at. */
async function lookAtAll(): Promise<void> {
  const shown = await show(START);
  const { page } = shown;
  await page.addInitScript(keepOn);
  await bringAxe(page);
  const layOut = (state: string): Promise<string[]> => layoutFaults(page, 64, apartIn(state));
  let isUntouched = false;
  for (const state of STATES) {
    await page.setViewportSize(TABLET.viewport!);
    await (isUntouched && isTold(state) ? tell : load)(shown, state);
    await bringAbout(shown, state);
    expect(await layOut(state), `${state} on a tablet`).toEqual([]);
    expect(await outOfSight(page), `${state} on a tablet`).toEqual([]);
    await looksRightIn(page, tabletLooks(state), `${state}-tablet`);

    await page.setViewportSize(PHONE.viewport!);
    await darkenItself(page);
    if (state === 'work') await page.locator('.may-go-dark').first().waitFor({ state: 'attached' });
    expect(await layOut(state), `${state} on a phone`).toEqual([]);
    await looksRightIn(page, phoneLooks(state), `${state}-phone`, isLikeOthers(state));

    for (const [width, height] of LAYOUTS.has(state) ? VIEWPORTS : []) {
      await page.setViewportSize({ width, height });
      expect(await layOut(state), `${state} at ${width} by ${height}`).toEqual([]);
      if (height === 390) expect(await outOfSight(page), `${state} lying down`).toEqual([]);
      if (width === 844 || width === 320) await picture(page, `${state}-${width}x${height}`);
    }
    isUntouched = await leave(page, state);
  }
}

describe('looks', () => {
  test(
    'from 320 px to a projector, in light and dark, every state has controls of 64 px, 12 px apart, words clear of them, none off the page, and nothing axe objects to',
    { timeout: MANY_LOOKS_MS },
    lookAtAll,
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
