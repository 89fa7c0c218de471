/**
 * Scenes for the page: an invented afternoon in which Ana and Jo coat candied ginger, cut off at a moment. Drawn curves, not measured
 * ones and not from the simulated bowl; the events are those the engine would have told.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { EventBody, RunEvent } from '../../server/core/record/event.ts';
import type { Profile } from '../../server/core/record/profile.ts';
import type { FanBead } from '../../server/core/bowl/estimate.ts';
import type { NoteInfo, NowMessage, RunInfo, ServerMessage, Tile, WireReading } from '../../server/core/show/wire.ts';

export const BOWL = 'bowl-1';
export const EPOCH = 'epoch-a';
export const RUN = 'ginger-24';
const START_MS = 5_000;
const START_WALL = '2026-11-24T13:40:00';

export const DARK = JSON.parse(readFileSync(join(import.meta.dirname, '../../profiles/dark.json'), 'utf8')) as Profile;

/** Elapsed minutes and °C of the afternoon, joined smoothly; the readings are this plus a stirring wobble. */
const COURSE: readonly (readonly [min: number, valueC: number])[] = [
  [0, 24],
  [6, 33.4],
  [10, 36.2],
  [16, 43.5],
  [20, 47.6],
  [23, 48.1],
  [26, 43],
  [31, 36.5],
  [37, 30.8],
  [42, 27.4],
  [46, 26.9],
  [50, 27.1],
  [53, 30.2],
  [55, 31.5],
  [58, 31.6],
  [66, 31.1],
  [70, 31.8],
  [78, 31.2],
  [82, 31.7],
  [90, 31.3],
  [93, 32.7],
  [95, 32.9],
  [98, 32.2],
  [104, 31.6],
  [120, 31.4],
];

/** The course at a moment, °C. */
export function courseC(min: number): number {
  const at = COURSE.findIndex(([later]) => later >= min);
  const [m1, c1] = COURSE[at]!;
  const [m0, c0] = COURSE[Math.max(0, at - 1)]!;
  const share = m1 === m0 ? 1 : (min - m0) / (m1 - m0);
  const eased = share * share * (3 - 2 * share);
  return c0 + (c1 - c0) * (0.5 * share + 0.5 * eased);
}

function wobbleC(s: number): number {
  return 0.07 * Math.sin(s / 7.3) + 0.05 * Math.sin(s / 2.9 + 1) + 0.03 * Math.sin(s / 23);
}

export function msAt(min: number): number {
  return START_MS + Math.round(min * 60_000);
}

export function readingsUpTo(min: number): WireReading[] {
  const count = Math.floor(min * 60);
  return Array.from({ length: count + 1 }, (_, s): WireReading => {
    const estimateC = round(courseC(s / 60));
    return [START_MS + s * 1000, round(estimateC + wobbleC(s)), 0, estimateC];
  });
}

export function tilesOf(readings: readonly WireReading[], every: number): Tile[] {
  const tiles: Tile[] = [];
  for (let i = 0; i < readings.length; i += every) {
    const part = readings.slice(i, i + every);
    const values = part.map(([, valueC]) => valueC);
    tiles.push([part[0]![0], Math.min(...values), Math.max(...values), part.at(-1)![3]]);
  }
  return tiles;
}

const STORY: readonly (readonly [min: number, body: EventBody])[] = [
  [0, { kind: 'run-started', profile: 'dark', condition: 'solid' }],
  [0, { kind: 'phase-entered', phase: 'melt', from: null, by: 'reached' }],
  [0, { kind: 'standing', standing: 'not-made-yet', why: 'seed-not-made' }],
  [14, { kind: 'act', act: 'stirred' }],
  [18, { kind: 'band-reached', phase: 'melt', valueC: 45 }],
  [23, { kind: 'phase-entered', phase: 'cool', from: 'melt', by: 'reached' }],
  [27, { kind: 'act', act: 'on-cold' }],
  [42.5, { kind: 'band-reached', phase: 'cool', valueC: 27.4 }],
  [50.2, { kind: 'phase-entered', phase: 'rewarm', from: 'cool', by: 'reached' }],
  [53, { kind: 'cue', cue: 'off-heat', phase: 'rewarm', inS: 18, landsC: 31.6 }],
  [53.6, { kind: 'act', act: 'off-heat' }],
  [55, { kind: 'band-reached', phase: 'rewarm', valueC: 31.1 }],
  [56, { kind: 'phase-entered', phase: 'work', from: 'rewarm', by: 'reached' }],
  [56, { kind: 'standing', standing: 'in-temper', why: 'seeded-and-rewarmed' }],
  [56, { kind: 'cue', cue: 'strip-test', phase: 'work' }],
  [60, { kind: 'act', act: 'strip-test-good' }],
  [66.5, { kind: 'act', act: 'on-heat' }],
  [74, { kind: 'act', act: 'topped-up-tempered' }],
  [92.4, { kind: 'alarm-raised', alarm: 'overshoot', severity: 'warning', phase: 'work', valueC: 32.6, limitC: 32.5 }],
  [93.6, { kind: 'standing', standing: 'at-risk', why: 'over-ceiling' }],
  [94.4, { kind: 'alarm-acknowledged', alarm: 'overshoot', by: 'Ana' }],
  [97, { kind: 'alarm-cleared', alarm: 'overshoot', lastedMs: 215_000, extremeC: 32.9 }],
  [102, { kind: 'act', act: 'strip-test-good' }],
  [102, { kind: 'standing', standing: 'in-temper', why: 'strip-test-good' }],
];

export const NOTES: readonly NoteInfo[] = [
  { id: 'n1', atMs: msAt(13.9), text: 'no lumps left', by: 'Ana', writtenAtWall: START_WALL },
  { id: 'n2', atMs: msAt(30), text: 'new bath', by: 'Jo', writtenAtWall: START_WALL },
  { id: 'n3', atMs: msAt(92), text: 'warmed 25 s, too long', by: 'Jo', writtenAtWall: START_WALL },
];

/** Events of the afternoon up to a moment, with any further ones after them. */
export function eventsUpTo(min: number, further: readonly EventBody[] = [], agoMin = 0): RunEvent[] {
  const told = STORY.filter(([at]) => at <= min);
  const all = [...told, ...further.map((body) => [min - agoMin, body] as const)];
  return all.map(([at, body], i): RunEvent => ({ ...body, seq: i + 1, atMs: msAt(at) }));
}

export interface SceneOptions {
  readonly min: number;
  readonly further?: readonly EventBody[];
  /** So long before now the further events came, minutes; absent: just now. */
  readonly furtherAgoMin?: number;
  readonly simulated?: boolean;
  readonly now?: Partial<NowMessage>;
  /** The run was carried on with; nothing was read in these minutes. */
  readonly withoutMin?: readonly [from: number, to: number];
}

export function infoOf(simulated: boolean): RunInfo {
  return {
    run: RUN,
    profile: DARK,
    condition: 'solid',
    simulated,
    startedAtMs: START_MS,
    startedAtWall: START_WALL,
    probeLagS: 4,
    resumed: false,
  };
}

/** What a page hears on arrival in this scene. */
export function greetingAt(scene: SceneOptions): ServerMessage[] {
  const { min, further = [], furtherAgoMin = 0, simulated = false, withoutMin } = scene;
  const [goneMs, backMs] = withoutMin === undefined ? [Infinity, Infinity] : (withoutMin.map(msAt) as [number, number]);
  const readings = readingsUpTo(min).filter(([atMs]) => atMs < goneMs || atMs > backMs);
  const events = eventsUpTo(min, further, furtherAgoMin);
  return [
    { kind: 'welcome', protocol: 1, epoch: EPOCH, bowl: BOWL, atMs: msAt(min), simulated },
    {
      kind: 'snapshot',
      bowl: BOWL,
      info: { ...infoOf(simulated), resumed: withoutMin !== undefined },
      events,
      tiles: tilesOf(readings, 4),
      notes: NOTES.filter((note) => note.atMs <= msAt(min)),
      readingCount: readings.length,
      recordedTo: events.length,
    },
    nowAt(scene),
  ];
}

export function nowAt({ min, now = {}, simulated = false }: SceneOptions): NowMessage {
  const atMs = msAt(min);
  const tempC = round(courseC(min));
  const rateCPerMin = round((courseC(min) - courseC(Math.max(0, min - 0.5))) * 2);
  return {
    kind: 'now',
    bowl: BOWL,
    run: RUN,
    atMs,
    reading: { valueC: tempC, atMs: atMs - 600, quality: 'good' },
    stale: false,
    probeOutSinceMs: null,
    estimate: {
      kind: 'estimate',
      atMs,
      phase: null,
      tempC,
      rateCPerMin,
      etaS: null,
      etaLowS: null,
      etaHighS: null,
      peakC: null,
    },
    fan: fanFrom(min),
    fanIfLeft: [],
    mixing: null,
    standing: null,
    careful: null,
    dwellLeftS: null,
    link: simulated ? { state: 'simulated' } : { state: 'up', label: 'USB thermometer' },
    rejected: {},
    lastLine: `T=${tempC.toFixed(1)}`,
    unrecordedSinceMs: null,
    screens: 2,
    ...now,
  };
}

/** A fan that eases off as an approach does: from a value at a rate, spent after `easeS` seconds. Widens by a fifth of its way. */
export function easing(fromC: number, rateCPerMin: number, easeS: number): FanBead[] {
  return [1, 2, 3, 4, 5, 6].map((i) => {
    const inS = i * 30;
    const wayC = ((rateCPerMin * easeS) / 60) * (1 - Math.exp(-inS / easeS));
    const halfC = 0.05 + 0.2 * Math.abs(wayC);
    return { inS, lowC: round(fromC + wayC - halfC), medianC: round(fromC + wayC), highC: round(fromC + wayC + halfC) };
  });
}

function fanFrom(min: number): FanBead[] {
  return [1, 2, 3, 4, 5, 6].map((i) => {
    const medianC = round(courseC(min + i / 2));
    return { inS: i * 30, lowC: round(medianC - 0.09 * i), medianC, highC: round(medianC + 0.09 * i) };
  });
}

function round(valueC: number): number {
  return Math.round(valueC * 100) / 100;
}

/** Ways in which a thermometer says nothing, before any run. */
export const LINKS: Readonly<Record<string, Partial<NowMessage>>> = {
  'link-none': {
    link: {
      state: 'looking',
      why: 'Waiting for your thermometer. No USB serial port is plugged in. Plug it in, and it is used by itself.',
    },
  },
  'link-silent': {
    link: {
      state: 'down',
      why: 'Nothing has come from the thermometer for 15 s. Is it switched on, and does no other program read its port?',
      retryInMs: 4_000,
    },
  },
  'link-busy': {
    link: {
      state: 'down',
      why: 'Another program is using /dev/ttyACM0. Close that program (a terminal, an editor’s serial monitor, another Bowlside).',
      retryInMs: 5_000,
    },
  },
  'link-forbidden': {
    link: {
      state: 'down',
      why: 'This account may not open /dev/ttyACM0. Add it to the group that owns the port (dialout, on some systems uucp), then log out and in again.',
      retryInMs: 5_000,
    },
  },
  'link-unclear': {
    link: { state: 'up', label: 'USB thermometer' },
    lastLine: '~x\u00fe@!\u00c3#',
    rejected: { 'no-number': 34 },
  },
};

/** The afternoon as a stored run, as the server opens it. */
export const OPENED = {
  info: infoOf(false),
  events: eventsUpTo(118, [{ kind: 'run-ended', by: 'hand' }]),
  endedAtMs: msAt(118),
  tiles: tilesOf(readingsUpTo(118), 4),
  notes: NOTES,
  binnedAtWall: null,
  importedAtWall: null,
};
