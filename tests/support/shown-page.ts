/**
 * The built page shown in a real browser on a scripted server: scenes by name, one call to show one. Knows what a page is told, not what
 * it makes of it.
 */
import type { BrowserContextOptions, Page } from 'playwright-core';
import { onTestFinished } from 'vitest';
import { EMPTY_CARD } from '../../server/core/record/card.ts';
import type { EventBody, StirReason } from '../../server/core/record/event.ts';
import type { NowMessage, ServerMessage } from '../../server/core/show/wire.ts';
import type { RunLine } from '../../web/run-list.ts';
import { OVERSHOOT } from './alarm.ts';
import { TABLET } from './browser.ts';
import { ScriptedBowl } from './scripted-bowl.ts';
import {
  BOWL,
  courseC,
  DARK,
  easing,
  EPOCH,
  eventsUpTo,
  LINKS,
  msAt,
  OPENED,
  nowAt,
  readingsUpTo,
  RUN,
  tilesOf,
} from './scenes.ts';
import type { SceneOptions } from './scenes.ts';
import { openScreen } from './screens.ts';

export { lightAndDark, picture, pictures } from './picture.ts';

function estimate(min: number, more: Partial<NonNullable<ReturnType<typeof nowAt>['estimate']>>) {
  return { ...nowAt({ min }).estimate!, ...more };
}

/** On its way down into a bath that is too warm. */
function levelling(min: number): Partial<NowMessage> {
  return {
    estimate: estimate(min, { rateCPerMin: -0.15, peakC: 28.6 }),
    fan: easing(courseC(min), -0.15, 400),
  };
}

/** Not to be believed of the whole bowl; told by a cue, or some time after it. */
function unstirred(min: number, phase: string, why: StirReason, isTold: boolean): Omit<SceneOptions, 'min'> {
  return {
    further: isTold ? [{ kind: 'cue', cue: 'stir', phase, why }] : [],
    now: { mixing: why, estimate: estimate(min, { etaS: 250, etaLowS: 150, etaHighS: 420 }) },
  };
}

/** Rewarming at a degree a minute: left now it ends in the band, left on it goes through the ceiling. */
function choice(min: number, tempC: number): Partial<NowMessage> {
  return {
    reading: { valueC: tempC, atMs: msAt(min) - 600, quality: 'good' },
    estimate: estimate(min, { tempC, rateCPerMin: 1.1, etaS: 50, etaLowS: 40, etaHighS: 70, peakC: 38 }),
    fan: easing(tempC, 1.1, 900),
    fanIfLeft: easing(tempC, 1.1, 60),
  };
}

const TEMPER_LOST: EventBody = {
  kind: 'alarm-raised',
  alarm: 'temper-lost',
  severity: 'critical',
  phase: 'work',
  valueC: 34.3,
  limitC: 34,
};

const UNPLUGGED = 'The thermometer was unplugged, or its cable is loose.';

/** One of each standing, for its sheet. */
export const STANDINGS: Readonly<Record<string, SceneOptions>> = {
  'standing-not-made-yet': { min: 46, now: { dwellLeftS: 130 } },
  'standing-in-temper': { min: 104 },
  'standing-unproven': { min: 80, further: [{ kind: 'standing', standing: 'unproven', why: 'gap' }], furtherAgoMin: 3 },
  'standing-at-risk': { min: 99 },
  'standing-lost': {
    min: 94.5,
    furtherAgoMin: 0.75,
    further: [
      { kind: 'standing', standing: 'lost', why: 'above-lost' },
      TEMPER_LOST,
      { kind: 'alarm-acknowledged', alarm: 'temper-lost', by: 'Ana' },
    ],
    now: {
      estimate: estimate(94.5, { tempC: 34.3, rateCPerMin: -0.2 }),
      reading: { valueC: 34.2, atMs: msAt(94.5) - 500, quality: 'good' },
    },
  },
};

export const SCENES: Readonly<Record<string, SceneOptions>> = {
  melt: { min: 12, simulated: true, now: { estimate: estimate(12, { etaS: 540, etaLowS: 420, etaHighS: 700 }) } },
  'melt-lumps': { min: 10.2, now: { estimate: estimate(10.2, { rateCPerMin: 0.01 }) } },
  cool: { min: 36, now: { estimate: estimate(36, { etaS: 250, etaLowS: 200, etaHighS: 330 }) } },
  'cool-hold': { min: 46, now: { dwellLeftS: 130 } },
  'cool-wide': { min: 36, now: { estimate: estimate(36, { etaS: 250, etaLowS: 180, etaHighS: 350 }) } },
  'cool-open': { min: 36, now: { estimate: estimate(36, { etaS: 460, etaLowS: 350, etaHighS: null }) } },
  'cool-level': { min: 39, now: levelling(39) },
  'cool-short': {
    min: 39,
    further: [{ kind: 'cue', cue: 'will-not-reach', phase: 'cool', landsC: 28.6, bathC: 18 }],
    now: levelling(39),
  },
  'cool-cue': {
    min: 41.8,
    further: [{ kind: 'cue', cue: 'off-cold', phase: 'cool', inS: 0, landsC: 27.4 }],
    now: {
      estimate: estimate(41.8, { tempC: 27.9, rateCPerMin: -0.8, etaS: 0, etaLowS: 0, etaHighS: 0, peakC: 22 }),
      fan: easing(27.9, -0.8, 900),
      fanIfLeft: easing(27.9, -0.8, 40),
    },
  },
  'cool-unstirred': { min: 36, ...unstirred(36, 'cool', 'unstirred', true) },
  'cool-at-wall': { min: 36, ...unstirred(36, 'cool', 'at-the-wall', true) },
  'rewarm-at-wall': { min: 52, ...unstirred(52, 'rewarm', 'at-the-wall', false) },
  'rewarm-cue': { min: 53.1, now: choice(53.1, 30.2) },
  'rewarm-now': { min: 53.35, now: choice(53.35, 30.45) },
  'rewarm-short': {
    min: 52,
    further: [{ kind: 'cue', cue: 'will-not-reach', phase: 'rewarm', landsC: 29.6, bathC: 38 }],
    now: {
      estimate: estimate(52, { rateCPerMin: 0.08, peakC: 29.6 }),
      fan: easing(courseC(52), 0.08, 600),
    },
  },
  'rewarm-back': {
    min: 52,
    further: [
      { kind: 'probe', state: 'out', sinceMs: msAt(51.5) },
      { kind: 'probe', state: 'in', sinceMs: msAt(51.5) },
    ],
  },
  work: { min: 80 },
  'work-unstirred': { min: 80, ...unstirred(80, 'work', 'unstirred', false) },
  overshoot: { min: 93.1 },
  'overshoot-seen': { min: 96 },
  'unseen-past': {
    min: 88,
    further: [OVERSHOOT, { kind: 'alarm-cleared', alarm: 'overshoot', lastedMs: 95_000, extremeC: 32.8 }],
  },
  'overshoot-ahead': {
    min: 90.5,
    further: [
      {
        kind: 'alarm-raised',
        alarm: 'overshoot-ahead',
        severity: 'warning',
        phase: 'work',
        valueC: 32.1,
        limitC: 32.5,
        inS: 35,
        peakC: 33.1,
      },
    ],
  },
  lost: {
    min: 94,
    further: [{ kind: 'standing', standing: 'lost', why: 'above-lost' }, TEMPER_LOST],
    now: { estimate: estimate(94, { tempC: 34.3 }), reading: { valueC: 34.2, atMs: msAt(94) - 500, quality: 'good' } },
  },
  'strip-offered': { min: 57 },
  'strip-waiting': { min: 58, further: [{ kind: 'act', act: 'strip-laid' }], furtherAgoMin: 0.6 },
  unproven: { min: 80, further: [{ kind: 'standing', standing: 'unproven', why: 'gap' }], furtherAgoMin: 3 },
  unplugged: {
    min: 80,
    further: [{ kind: 'link', up: false, why: UNPLUGGED }],
    furtherAgoMin: 0.1,
    now: {
      stale: true,
      estimate: null,
      fan: [],
      reading: { valueC: 31.6, atMs: msAt(80) - 6_000, quality: 'good' },
      link: { state: 'down', why: UNPLUGGED, retryInMs: 2_000 },
    },
  },
  'carried-on': { min: 80, withoutMin: [77, 79.6] },
  'disk-full': {
    min: 80,
    now: { unrecordedSinceMs: msAt(78.5), unrecordedWhy: 'The disk is full. Make room on it.' },
  },
  stale: {
    min: 80,
    now: { stale: true, estimate: null, fan: [], reading: { valueC: 31.6, atMs: msAt(80) - 80_000, quality: 'good' } },
  },
};

const VISITS = eventsUpTo(118, []).flatMap((event) =>
  event.kind === 'phase-entered' ? [{ phase: event.phase, atMs: event.atMs }] : [],
);

function summary(run: string, title: string, wall: string, more: Partial<RunLine> = {}): RunLine {
  return {
    run,
    title,
    coating: 'dark',
    profile: 'dark',
    simulated: false,
    beganAtWall: wall,
    durationMs: 118 * 60_000,
    endedAtMs: msAt(118),
    standing: 'in-temper',
    worstAlarm: null,
    worstOverC: null,
    visits: VISITS,
    ...EMPTY_CARD,
    verdict: null,
    binnedAtWall: null,
    bowlName: null,
    importedAtWall: null,
    tiles: tilesOf(readingsUpTo(118), 60),
    ...more,
  };
}

function listed(...runs: readonly object[]) {
  return { total: runs.length, runs };
}

export const ANSWERS = {
  '/api/profiles': [
    DARK,
    { ...DARK, id: 'milk', title: 'Milk chocolate', coating: 'milk' },
    { ...DARK, id: 'white', title: 'White chocolate', coating: 'white' },
  ],
  '/api/thermometers': [
    { path: '/dev/ttyACM1', label: 'Kitchen probe' },
    { path: '/dev/ttyACM2', label: 'Bench probe' },
  ],
  '/api/runs': listed(
    summary(RUN, 'Dark chocolate', '2026-11-24T13:40:00', { worstAlarm: 'overshoot', worstOverC: 0.4 }),
    summary('caramel-22', 'Milk chocolate', '2026-11-22T09:15:00', { coating: 'milk' }),
    summary('caramel-20', 'Dark chocolate', '2026-11-20T10:02:00', {
      standing: 'lost',
      worstAlarm: 'temper-lost',
      worstOverC: 1.8,
      tiles: tilesOf(readingsUpTo(95), 60),
    }),
  ),
  '/api/run-choices': { coatings: ['dark'], profiles: [{ id: 'dark', title: 'Dark chocolate' }], tags: ['gift'] },
  [`/api/runs/${RUN}`]: OPENED,
  [`/api/runs/${RUN}/card`]: { card: EMPTY_CARD, entries: [], atWall: '2026-11-25T09:00:00.000Z' },
  // Nothing finer than the columns can be had.
  [`/api/runs/${RUN}/curve`]: { readings: null, tiles: [] },
};

export const START: readonly ServerMessage[] = [
  { kind: 'welcome', protocol: 1, epoch: EPOCH, bowl: BOWL, atMs: 1_000, simulated: false },
  {
    kind: 'snapshot',
    bowl: BOWL,
    info: null,
    events: [],
    tiles: [],
    notes: [],
    readingCount: 0,
    recordedTo: 0,
  },
  {
    ...nowAt({ min: 0 }),
    run: null,
    estimate: null,
    fan: [],
    reading: { valueC: 21.4, atMs: msAt(0) - 400, quality: 'good' },
  },
];

const START_NOW = START[2] as NowMessage;

/** Nothing is chosen, and it is hotter than the most delicate of them bears. */
export const CAREFUL: readonly ServerMessage[] = [
  ...START.slice(0, 2),
  {
    ...START_NOW,
    reading: { valueC: 46.2, atMs: msAt(0) - 400, quality: 'good' },
    estimate: estimate(0, { tempC: 46.3 }),
    careful: { limitC: 46, coating: 'white' },
  },
];

/** Nobody may guess which of these is in the chocolate. */
export const SEVERAL: readonly ServerMessage[] = [
  ...START.slice(0, 2),
  {
    ...START_NOW,
    reading: null,
    link: {
      state: 'looking',
      why: 'Which one is in the chocolate? These are plugged in: Kitchen probe; Bench probe. Tap it on the page.',
    },
  },
];

/** The start page while a thermometer says nothing, in one of these ways. */
export function startWith(name: string): readonly ServerMessage[] {
  return [...START.slice(0, 2), { ...START_NOW, reading: null, lastLine: null, ...LINKS[name] }];
}

/** Something of the bowl or of past runs is shown. */
export const READY = 'main:not([aria-busy="true"]) h1:not(:text("One moment."))';

export interface Shown {
  readonly address: string;
  readonly page: Page;
  readonly bowl: ScriptedBowl;
}

/** `answers`: to GET, by path, in the place of the usual ones. */
export async function show(
  greeting: readonly ServerMessage[],
  options: BrowserContextOptions = TABLET,
  hash = '',
  ready = READY,
  answers: Readonly<Record<string, unknown>> = {},
): Promise<Shown> {
  const bowl = new ScriptedBowl({ greeting, answers: { ...ANSWERS, ...answers } });
  const address = await bowl.open();
  onTestFinished(() => bowl.close());
  const page = await openScreen(`${address}/${hash}`, options, /WebSocket|ERR_CONNECTION/);
  await page.locator(ready).waitFor();
  return { page, bowl, address };
}

/** News that follows the scene at this moment, with no new readings. */
export function news(min: number, bodies: readonly EventBody[]): Extract<ServerMessage, { kind: 'news' }> {
  const events = eventsUpTo(min, bodies).slice(-bodies.length);
  const readingCount = readingsUpTo(min).length;
  return { kind: 'news', bowl: BOWL, run: RUN, events, readings: [], readingCount, recordedTo: events.length };
}
