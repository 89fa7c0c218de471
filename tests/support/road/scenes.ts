/**
 * Made-up moments of an evening in which Ana and Jo coat candied ginger, as models for the road: what the pictures show and the
 * browser test measures. The temperatures are drawn by hand, not by the engine.
 */
import type { FanBead } from '../../../server/core/bowl/estimate.ts';
import type { Profile } from '../../../server/core/record/profile.ts';
import type { WireReading } from '../../../server/core/show/wire.ts';
import { Curve } from '../../../web/curve.ts';
import { drawn } from '../../../web/road/envelope.ts';
import type { DrawnEnvelope, Mark, PhaseVisit, RoadModel, Spread } from '../../../web/road/model.ts';
import { otherViews } from '../../../web/road/other-views.ts';

const MINUTE_MS = 60_000;
/** The feed's clock at the run's start: anything but 0, so that nothing takes it for elapsed time. */
export const START_MS = 7_300_000;

export const GINGER: Profile = {
  id: 'ginger',
  title: 'Dark 66 %, from the bag',
  coating: 'dark',
  source: 'made up',
  phases: [
    { id: 'melt', heading: 'up', bandC: [46, 49], ceilingC: 52 },
    { id: 'cool', heading: 'down', bandC: [26.5, 27.5], floorC: 26, holdS: 180 },
    { id: 'rewarm', heading: 'up', bandC: [31, 32], ceilingC: 32.5, lostAboveC: 34 },
    { id: 'work', heading: 'hold', bandC: [31, 32], ceilingC: 32.5, floorC: 30.5, lostAboveC: 34 },
  ],
};

/** Corner points of the evening: minutes from the start, °C. */
const CORNERS: readonly (readonly [number, number])[] = [
  [0, 22],
  [6, 31],
  [10, 34.5],
  [17, 45],
  [21, 48.2],
  [22, 48.6],
  [23, 48],
  [30, 37.5],
  [37, 30.8],
  [41, 27.6],
  [43, 26.9],
  [46, 28.9],
  [49, 31.2],
  [50.5, 31.6],
  [56, 31.1],
  [58, 31.75],
  [66, 31.15],
  [68, 31.8],
  [72, 31.6],
  [82, 31.1],
  [84, 32.9],
  [88, 31.7],
  [100, 31.2],
  [102, 31.8],
  [118, 31.2],
  [121, 31.8],
  [150, 31.3],
];
const VISITS = [
  ['melt', 0],
  ['cool', 22],
  ['rewarm', 43],
  ['work', 50],
] as const;

export function eveningC(minute: number): number {
  const after = Math.max(
    1,
    CORNERS.findIndex(([at]) => at > minute),
  );
  const [x0, y0] = CORNERS[after - 1]!;
  const [x1, y1] = CORNERS[after]!;
  const along = Math.min(1, Math.max(0, (minute - x0) / (x1 - x0)));
  const eased = along * along * (3 - 2 * along) * 0.5 + along * 0.5;
  return y0 + (y1 - y0) * eased + 0.025 * Math.sin(minute * 5.3) + 0.015 * Math.sin(minute * 13);
}

/** By second: every scene has the same ones. */
const evening: WireReading[] = [];

function eveningReading(s: number): WireReading {
  const noise = 0.06 * Math.sin(s * 12.9898) * Math.cos(s * 78.233);
  return (evening[s] ??= [START_MS + s * 1000, eveningC(s / 60 - 0.1) + noise, 0, eveningC(s / 60)]);
}

/** Readings once a second up to a minute; those between `gap` minutes never came. */
export function eveningCurve(untilMin: number, gap: readonly [number, number] = [Infinity, Infinity]): Curve {
  const readings: WireReading[] = [];
  for (let s = 0; s <= untilMin * 60; s++) {
    const minute = s / 60;
    if (minute > gap[0] && minute < gap[1]) continue;
    readings.push(eveningReading(s));
  }
  const curve = new Curve();
  curve.addReadings(readings);
  return curve;
}

function visits(untilMin: number): PhaseVisit[] {
  return VISITS.filter(([, fromMin]) => fromMin <= untilMin).map(([phase, fromMin], i, all) => ({
    phase,
    enteredAtMs: START_MS + fromMin * MINUTE_MS,
    leftAtMs: i + 1 < all.length ? START_MS + all[i + 1]![1] * MINUTE_MS : null,
  }));
}

function fan(fromC: number, slopeCPerMin: number, levelC: number): FanBead[] {
  return [30, 60, 90, 120, 150, 180].map((inS) => {
    const medianC = levelC + (fromC - levelC) * Math.exp((slopeCPerMin / (levelC - fromC || 1)) * -(inS / 60));
    const halfC = 0.06 + 0.0016 * inS * Math.max(0.4, Math.abs(slopeCPerMin));
    return { inS, lowC: medianC - halfC, medianC, highC: medianC + halfC };
  });
}

interface Moment {
  readonly atMin: number;
  readonly fan?: readonly FanBead[];
  readonly eta?: readonly [low: number, at: number, high: number | null];
  readonly rateCPerMin?: number;
}

function moment(at: Moment, rest: Partial<RoadModel> = {}): RoadModel {
  const nowMs = START_MS + at.atMin * MINUTE_MS;
  const [etaLowS, etaS, etaHighS] = at.eta ?? [null, null, null];
  return {
    profile: GINGER,
    phases: visits(at.atMin),
    curve: eveningCurve(at.atMin),
    startedAtMs: START_MS,
    nowMs,
    live: 'live',
    estimate: {
      kind: 'estimate',
      atMs: nowMs,
      phase: visits(at.atMin).at(-1)!.phase,
      tempC: eveningC(at.atMin),
      rateCPerMin: at.rateCPerMin ?? 0,
      etaS,
      etaLowS,
      etaHighS,
      peakC: null,
    },
    fan: at.fan ?? [],
    marks: MARKS.filter((mark) => mark.atMs <= nowMs),
    window: { kind: 'follow' },
    otherViews: otherViews(),
    alarm: false,
    ...rest,
  };
}

const mark = (kind: Mark['kind'], minute: number, text: string): Mark => ({
  kind,
  atMs: START_MS + minute * MINUTE_MS,
  text,
});

const MARKS: readonly Mark[] = [
  mark('note', 14, 'no lumps left'),
  mark('act', 27, 'cold bath, stirring'),
  mark('note', 33.4, 'new bath'),
  mark('act', 44.5, 'on the warm bath'),
  mark('cue', 46.9, 'off the heat'),
  mark('act', 47.3, 'off the heat'),
  mark('note', 57.3, 'warmed 10 s'),
  mark('act', 61.5, 'topped up 200 g'),
  mark('note', 66.6, 'warmed 12 s'),
  mark('note', 82, 'warmed 25 s, too long'),
  mark('alarm', 83.6, 'over the ceiling'),
  mark('note', 103, 'second tray; Ana dips'),
  mark('note', 141, 'last tray, 214 pieces'),
];

const PASTE: Profile = {
  id: 'paste',
  title: 'Ginger paste',
  coating: 'none',
  source: 'made up',
  phases: [{ id: 'keep-warm', heading: 'hold', bandC: [55, 65] }],
};

const SIX: Profile = {
  id: 'six',
  title: 'Six steps',
  coating: 'dark',
  source: 'made up',
  phases: [
    { id: 'soften', heading: 'up', bandC: [34, 36] },
    { id: 'melt', heading: 'up', bandC: [46, 49], ceilingC: 52 },
    { id: 'first-cool', heading: 'down', bandC: [33, 34] },
    { id: 'cool', heading: 'down', bandC: [26.5, 27.5], floorC: 26 },
    { id: 'rewarm', heading: 'up', bandC: [31, 32], ceilingC: 32.5, lostAboveC: 34 },
    { id: 'work', heading: 'hold', bandC: [31, 32], ceilingC: 32.5, floorC: 30.5, lostAboveC: 34 },
  ],
};

const whole = (atMin: number): RoadModel =>
  moment(
    { atMin: 152 },
    {
      window: { kind: 'all' },
      live: 'playback',
      nowMs: START_MS + atMin * MINUTE_MS,
      endedAtMs: START_MS + 152 * MINUTE_MS,
    },
  );

/** Twelve hours of work at once a second, calm but for a single second over the ceiling, five hours in. */
function longShift(): RoadModel {
  const hours = 12;
  const curve = new Curve();
  curve.addReadings(
    Array.from({ length: hours * 3600 }, (_, s): WireReading => {
      const valueC = s === 300 * 60 ? 33.9 : 31.5 + 0.2 * Math.sin(s / 700);
      return [START_MS + s * 1000, valueC, 0, valueC];
    }),
  );
  return moment(
    { atMin: hours * 60 },
    { curve, phases: [{ phase: 'work', enteredAtMs: START_MS, leftAtMs: null }], marks: [], window: { kind: 'all' } },
  );
}

/** Steps of the envelope below, ms. */
const BEST_STEP_MS = 15_000;

/** Evenings a little slower, faster, warmer and cooler than this one, as long in each phase as this one was, and a minute more. */
function best(): DrawnEnvelope {
  const spreads = (fromMin: number, toMin: number): Spread[] =>
    Array.from({ length: Math.ceil(((toMin + 1 - fromMin) * MINUTE_MS) / BEST_STEP_MS) }, (_, step) => {
      const minute = fromMin + (step * BEST_STEP_MS) / MINUTE_MS;
      const around = [-1.2, -0.4, 0.5].map((later, i) => eveningC(Math.max(fromMin, minute + later)) + 0.12 * (i - 1));
      return [Math.min(...around), Math.max(...around)];
    });
  const phases = VISITS.map(([phase, fromMin], i) => [phase, spreads(fromMin, VISITS[i + 1]?.[1] ?? 80)] as const);
  return drawn({ stepMs: BEST_STEP_MS, phases: Object.fromEntries(phases) });
}

/** Every state the road has, by name. */
export const SCENES: Readonly<Record<string, () => RoadModel>> = {
  unbegun: () => moment({ atMin: 0 }, { phases: [], curve: new Curve(), estimate: null, marks: [] }),
  'melt-early': () => moment({ atMin: 4, fan: fan(28.6, 1.5, 40), eta: [540, 700, 1100], rateCPerMin: 1.5 }),
  melt: () => moment({ atMin: 17.5, fan: fan(45.5, 0.8, 48.6), eta: [20, 40, 70], rateCPerMin: 0.8 }),
  'cool-early': () => moment({ atMin: 24.2, fan: fan(46.6, -1.5, 24), eta: [800, 1000, 1500], rateCPerMin: -1.5 }),
  cool: () => moment({ atMin: 37, fan: fan(30.8, -1, 26.6), eta: [180, 240, 360], rateCPerMin: -1 }),
  'rewarm-early': () => moment({ atMin: 43.6, fan: fan(27.2, 0.7, 33), eta: [200, 300, null], rateCPerMin: 0.7 }),
  'rewarm-fork': () =>
    moment(
      { atMin: 47.2, fan: fan(eveningC(47.2), 0.9, 31.6), eta: [50, 65, 90], rateCPerMin: 1 },
      {
        leftOn: [30, 60, 120, 180, 240].map((inS) => ({
          inS,
          lowC: 0,
          medianC: eveningC(47.2) + (inS / 60) * 0.95,
          highC: 0,
        })),
      },
    ),
  'cool-fork': () =>
    moment(
      { atMin: 40.8, fan: fan(eveningC(40.8), -0.9, 27.1), eta: [5, 20, 40], rateCPerMin: -0.8 },
      {
        leftOn: [30, 60, 90, 120, 150, 180].map((inS) => ({
          inS,
          lowC: 0,
          medianC: eveningC(40.8) - (inS / 60) * 0.8,
          highC: 0,
        })),
      },
    ),
  'cool-uncertain': () =>
    moment({ atMin: 37, fan: fan(30.8, -1, 26.6), eta: [180, 240, 360], rateCPerMin: -1 }, { uncertain: true }),
  'work-begins': () => moment({ atMin: 52, fan: fan(31.5, -0.1, 31.2) }),
  work: () => moment({ atMin: 72, fan: fan(31.6, -0.12, 31) }),
  'work-uncertain': () => moment({ atMin: 72, fan: fan(31.6, -0.12, 31) }, { uncertain: true }),
  stale: () => moment({ atMin: 73.3, fan: fan(31.6, -0.1, 31) }, { curve: eveningCurve(72), live: 'stale' }),
  gap: () => moment({ atMin: 72, fan: fan(31.6, -0.12, 31) }, { curve: eveningCurve(72, [60, 62.5]) }),
  'over-ceiling': () => moment({ atMin: 83.8, fan: fan(eveningC(83.8), 0.2, 33) }, { alarm: true }),
  'off-scale': () => {
    const base = moment({ atMin: 72 });
    return { ...base, estimate: { ...base.estimate!, tempC: 36.2 } };
  },
  held: () =>
    moment(
      { atMin: 72 },
      { window: { kind: 'span', fromMs: START_MS + 38 * MINUTE_MS, toMs: START_MS + 58 * MINUTE_MS } },
    ),
  all: () => moment({ atMin: 95 }, { window: { kind: 'all' } }),
  playback: () => whole(98),
  'one-phase': () =>
    moment(
      { atMin: 20 },
      {
        profile: PASTE,
        phases: [{ phase: 'keep-warm', enteredAtMs: START_MS, leftAtMs: null }],
        curve: new Curve(),
        estimate: null,
      },
    ),
  'six-first': () =>
    moment(
      { atMin: 5, fan: fan(30, 1.5, 40), eta: [200, 280, 330] },
      { profile: SIX, phases: [{ phase: 'soften', enteredAtMs: START_MS, leftAtMs: null }] },
    ),
  'six-last': () =>
    moment(
      { atMin: 72, fan: fan(31.6, -0.12, 31) },
      {
        profile: SIX,
        phases: ['soften', 'melt', 'first-cool', 'cool', 'rewarm', 'work'].map((phase, i, all) => ({
          phase,
          enteredAtMs: START_MS + [0, 9, 22, 34, 43, 50][i]! * MINUTE_MS,
          leftAtMs: i + 1 < all.length ? START_MS + [0, 9, 22, 34, 43, 50][i + 1]! * MINUTE_MS : null,
        })),
      },
    ),
  spike: longShift,
  'best-cool': () =>
    moment({ atMin: 37, fan: fan(30.8, -1, 26.6), eta: [180, 240, 360], rateCPerMin: -1 }, { envelope: best() }),
  'best-work': () => moment({ atMin: 72, fan: fan(31.6, -0.12, 31) }, { envelope: best() }),
  'best-all': () => moment({ atMin: 72 }, { window: { kind: 'all' }, envelope: best() }),
  crowded: () =>
    moment(
      { atMin: 72, fan: fan(31.6, -0.12, 31) },
      {
        marks: [
          ...MARKS,
          ...[66, 66.3, 66.9, 67.5, 68.5, 70, 71].map((minute, i) => mark('note', minute, `note ${i + 1} by Jo`)),
        ],
      },
    ),
};
