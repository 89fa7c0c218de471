/** The envelope of the best runs: reckoned by hand from short curves, asked for as it should be, and laid on the map from the run's own entries. */
import { afterEach, describe, expect, test, vi } from 'vitest';
import type { CurvePoint } from '../../server/core/show/account.ts';
import type { RunInfo } from '../../server/core/show/wire.ts';
import { envelopeOf, fetchBestLines, fetchEnvelope } from '../../web/envelope.ts';
import type { BestRun } from '../../web/envelope.ts';
import { drawn, lanesOf, spreadAt } from '../../web/road/envelope.ts';
import { reachesOf } from '../../web/road/ground.ts';
import type { RoadModel } from '../../web/road/model.ts';
import { layOut, xAt, yAt } from '../../web/road/sheet.ts';
import { roadSummary } from '../../web/words/road-summary.ts';
import { SCENES, START_MS } from '../support/road/scenes.ts';
import { DARK, infoOf } from '../support/scenes.ts';

/** Seconds and °C, on a clock that stood at `fromS` when the run began. */
function bestRun(
  visits: readonly (readonly [phase: string, atS: number])[],
  endS: number,
  curve: CurvePoint[],
): BestRun {
  return {
    visits: visits.map(([phase, atS]) => ({ phase, atMs: atS * 1000 })),
    endedAtMs: endS * 1000,
    curve: curve.map(([atS, tempC]) => [atS * 1000, tempC]),
  };
}

describe('the envelope', () => {
  test('is the lowest and highest of each quarter minute, counted from where each run entered the phase', () => {
    const early = bestRun(
      [
        ['melt', 0],
        ['cool', 30],
      ],
      60,
      [
        [0, 40],
        [10, 41],
        [15, 43],
        [30, 45],
        [45, 44],
      ],
    );
    const late = bestRun(
      [
        ['melt', 500],
        ['cool', 530],
      ],
      560,
      [
        [505, 42],
        [520, 42.5],
        [531, 45.5],
        [550, 43],
      ],
    );
    expect(envelopeOf([early, late])).toEqual({
      stepMs: 15_000,
      phases: {
        melt: [
          [40, 42],
          [42.5, 43],
        ],
        cool: [
          [45, 45.5],
          [43, 44],
        ],
      },
    });
  });

  test('of a single run is its own curve', () => {
    const { phases } = envelopeOf([
      bestRun([['melt', 0]], 30, [
        [0, 40],
        [15, 41],
      ]),
    ]);
    expect(phases['melt']).toEqual([
      [40, 40],
      [41, 41],
    ]);
  });

  test('knows nothing where none of them was read, and goes on after', () => {
    const { phases } = envelopeOf([
      bestRun([['melt', 0]], 45, [
        [0, 40],
        [15, null],
        [30, 42],
      ]),
    ]);
    expect(phases['melt']).toEqual([[40, 40], null, [42, 42]]);
  });

  test('ends where fewer than half of its runs are still in the phase', () => {
    const lasting = (endS: number): BestRun =>
      bestRun(
        [['melt', 0]],
        endS,
        Array.from({ length: endS / 15 }, (_, i): CurvePoint => [i * 15, 40]),
      );
    expect(envelopeOf([lasting(15), lasting(30), lasting(60)]).phases['melt']).toHaveLength(2);
    expect(envelopeOf([lasting(15), lasting(60)]).phases['melt']).toHaveLength(4);
  });

  test('takes the first stay of a run that came back to a phase', () => {
    const { phases } = envelopeOf([
      bestRun(
        [
          ['cool', 0],
          ['melt', 15],
          ['cool', 30],
        ],
        60,
        [
          [0, 30],
          [15, 40],
          [30, 35],
          [45, 34],
        ],
      ),
    ]);
    expect(phases).toEqual({ cool: [[30, 30]], melt: [[40, 40]] });
  });
});

describe('the best runs', () => {
  const asked: string[] = [];
  afterEach(() => {
    vi.unstubAllGlobals();
    asked.length = 0;
  });

  /** A server with these runs on its list, none of which can be opened. */
  function serve(runs: readonly string[], endedAtMs: number | null = 1_000): void {
    const line = { title: '', beganAtWall: '', durationMs: 1, visits: [], tags: [], tiles: [], endedAtMs };
    vi.stubGlobal('fetch', (path: string) => {
      asked.push(path);
      const isList = path.startsWith('/api/runs?');
      const body = isList ? { total: runs.length, runs: runs.map((run) => ({ ...line, run })) } : { error: 'gone' };
      return Promise.resolve(new Response(JSON.stringify(body), { status: isList ? 200 : 404 }));
    });
  }
  const info: RunInfo = infoOf(false);
  const namesOf = async (of: RunInfo): Promise<readonly string[]> => {
    const answer = await fetchBestLines(of);
    return answer.ok ? answer.value.map(({ run }) => run) : [];
  };

  test('are the newest five of the profile that were judged good, without the run itself', async () => {
    serve(['a', info.run, 'b', 'c', 'd', 'e', 'f']);
    expect(await namesOf(info)).toEqual(['a', 'b', 'c', 'd', 'e']);
    const query = new URL(asked[0]!, 'http://bowl').searchParams;
    expect(Object.fromEntries(query)).toEqual({
      profile: DARK.id,
      verdict: 'good',
      simulated: 'no',
      order: 'newest',
      after: '0',
      most: '6',
    });
  });

  test('may be simulated ones for a simulated run alone', async () => {
    serve([]);
    await fetchBestLines({ ...info, simulated: true });
    expect(new URL(asked[0]!, 'http://bowl').searchParams.has('simulated')).toBe(false);
  });

  test('are none that are still going, and no envelope comes of runs that cannot be opened', async () => {
    serve(['a'], null);
    expect(await namesOf(info)).toEqual([]);
    serve(['a']);
    expect(await fetchEnvelope(info)).toBeNull();
  });
});

describe('on the map', () => {
  const SIZE = { width: 686, height: 492 };
  const MINUTE_MS = 60_000;
  const envelope = drawn({
    stepMs: 15_000,
    phases: { work: [[31.2, 31.8], [31.3, 31.9], null, [31.4, 31.4]], rewarm: [[27, 28]], melt: [[22, 24]] },
  });

  /** A minute after `work` was entered, and what comes of it. */
  function shown(phases: RoadModel['phases']) {
    const model: RoadModel = { ...SCENES['work']!(), nowMs: START_MS + 51 * MINUTE_MS, envelope, phases };
    const sheet = layOut(model, SIZE);
    const reaches = sheet.panels.flatMap(reachesOf);
    return { model, sheet, reaches, lanes: reaches.map((reach) => lanesOf(model, reach)) };
  }
  const WORKING = [
    { phase: 'rewarm', enteredAtMs: START_MS + 43 * MINUTE_MS, leftAtMs: START_MS + 50 * MINUTE_MS },
    { phase: 'work', enteredAtMs: START_MS + 50 * MINUTE_MS, leftAtMs: null },
  ];

  test('lies at its temperatures, in steps from the entry of the run’s own phase, broken where nothing is known', () => {
    const { reaches, lanes } = shown(WORKING);
    const at = reaches.findIndex(({ stretch }) => stretch.phase.id === 'work');
    const { panel } = reaches[at]!;
    expect(lanes[at]!.map((lane) => lane.length)).toEqual([2, 1]);
    const [first, second] = lanes[at]![0]!;
    const x = xAt(panel, START_MS + 50 * MINUTE_MS + 7_500);
    expect(first).toEqual({ x, top: yAt(panel, 31.8, x), foot: yAt(panel, 31.2, x) });
    expect(second!.x - first!.x).toBeCloseTo((15_000 / (panel.view.toMs - panel.view.fromMs)) * panel.box.width, 6);
  });

  test('is thick enough to be seen where the runs were all alike', () => {
    const { reaches, lanes } = shown(WORKING);
    const at = reaches.findIndex(({ stretch }) => stretch.phase.id === 'work');
    const [, [alike]] = lanes[at]! as [unknown, [{ top: number; foot: number; x: number }]];
    const y = yAt(reaches[at]!.panel, 31.4, alike.x);
    expect(alike.top).toBeCloseTo(y - 4, 6);
    expect(alike.foot).toBeCloseTo(y + 4, 6);
  });

  test('shows nothing of a phase that was not entered, and nothing before a run', () => {
    const { reaches, lanes } = shown(WORKING.slice(0, 1).map((visit) => ({ ...visit, leftAtMs: null })));
    expect(reaches.map(({ stretch }) => stretch.phase.id)).toEqual(['rewarm']);
    expect(lanes).toHaveLength(1);
    expect(shown([]).lanes.flat()).toEqual([]);
  });

  test('begins anew where a phase is entered again', () => {
    const again = [
      ...WORKING.map((visit) => ({ ...visit, leftAtMs: visit.leftAtMs ?? START_MS + 50.4 * MINUTE_MS })),
      { phase: 'rewarm', enteredAtMs: START_MS + 50.4 * MINUTE_MS, leftAtMs: START_MS + 50.5 * MINUTE_MS },
      { phase: 'work', enteredAtMs: START_MS + 50.5 * MINUTE_MS, leftAtMs: null },
    ];
    const { reaches, lanes } = shown(again);
    const second = reaches.findLastIndex(({ stretch }) => stretch.phase.id === 'work');
    const x = xAt(reaches[second]!.panel, START_MS + 50.5 * MINUTE_MS + 7_500);
    expect(lanes[second]![0]![0]!.x).toBeCloseTo(x, 6);
  });

  test('is told in words as far into the phase as the run is', () => {
    const { model, sheet } = shown(WORKING);
    const at = (seconds: number): RoadModel => ({ ...model, nowMs: START_MS + 50 * MINUTE_MS + seconds * 1000 });
    expect(spreadAt(model, sheet.open, START_MS + 50 * MINUTE_MS + 20_000)).toEqual([31.3, 31.9]);
    expect(roadSummary(at(20))).toContain('Your best runs, as long after entering: 31.3 to 31.9.');
    expect(roadSummary(at(50))).toContain('Your best runs, as long after entering: 31.4.');
    for (const seconds of [35, 70]) expect(roadSummary(at(seconds))).not.toContain('best runs');
    const { envelope: _, ...without } = at(20);
    expect(roadSummary(without)).not.toContain('best runs');
  });
});
