/** A run in figures, against curves whose times can be counted by hand. */
import { describe, expect, test } from 'vitest';
import type { Profile } from '../../server/core/record/profile.ts';
import { accountOf, type CurvePoint } from '../../server/core/show/account.ts';
import type { PhaseVisit } from '../../server/core/show/view.ts';

const PROFILE: Profile = {
  id: 'dark',
  title: 'Dark',
  coating: 'dark',
  source: 'made up for a test',
  phases: [
    { id: 'melt', heading: 'up', bandC: [45, 48], ceilingC: 50 },
    { id: 'cool', heading: 'down', bandC: [27, 28], floorC: 26, holdS: 120 },
    { id: 'rewarm', heading: 'up', bandC: [31, 32], ceilingC: 32.5 },
    { id: 'work', heading: 'hold', bandC: [31, 32], floorC: 30, ceilingC: 32.5, lostAboveC: 34 },
  ],
};

function visit(phase: string, enteredAtMs: number, leftAtMs: number | null, reached = true): PhaseVisit {
  return { phase, enteredAtMs, leftAtMs, by: 'reached', reachedAtMs: reached ? enteredAtMs : null };
}

/** A point every 10 s at this temperature. */
function at(tempC: number, fromS: number, untilS: number): CurvePoint[] {
  return Array.from({ length: (untilS - fromS) / 10 }, (_, i) => [(fromS + i * 10) * 1000, tempC]);
}

const VISITS = [
  visit('melt', 0, 600_000),
  visit('cool', 600_000, 1_200_000),
  visit('rewarm', 1_200_000, 1_500_000),
  visit('work', 1_500_000, null),
];

describe('a run as it should be', () => {
  const curve = [
    ...at(46, 0, 600),
    ...at(30, 600, 900),
    ...at(27.5, 900, 1200),
    ...at(30.5, 1200, 1500),
    ...at(31.6, 1500, 3000),
  ];
  const account = accountOf(PROFILE, VISITS, curve, 3_000_000);

  test('each phase lasted as long as it did, and its dwell was kept', () => {
    expect(account.stays.map(({ phase, lastedS }) => [phase, lastedS])).toEqual([
      ['melt', 600],
      ['cool', 600],
      ['rewarm', 300],
      ['work', 1500],
    ]);
    expect(account.stays[1]).toMatchObject({ keptS: 300, holdS: 120, insideBandS: 300, lowestC: 27.5, highestC: 30 });
  });

  test('it was never outside', () => {
    expect(account).toMatchObject({ overS: 0, overByC: 0, scorchS: 0, underS: 0, unseenS: 0, lowHalfS: 0 });
    expect(account).toMatchObject({ coolestC: 27.5, peakAfterSeedC: 31.6, workReadS: 1500, inWorkBandS: 1500 });
  });
});

test('over, under and low are counted where they belong', () => {
  const curve = [
    ...at(51, 0, 30),
    ...at(46, 30, 600),
    ...at(25.5, 600, 650),
    ...at(28.9, 650, 1200),
    ...at(33.4, 1200, 1390),
    ...at(31.2, 1390, 2000),
    ...at(29.5, 2000, 2040),
    ...at(31.6, 2040, 3000),
  ];
  const account = accountOf(PROFILE, VISITS, curve, 3_000_000);
  expect(account).toMatchObject({ scorchS: 30, overS: 190, overByC: 0.9, peakAfterSeedC: 33.4, underS: 90 });
  expect(account).toMatchObject({ coolestC: 25.5, lowHalfS: 540, inWorkBandS: 1460 });
  expect(account.stays[2]).toMatchObject({ highestC: 33.4, highestAtMs: 1_200_000, lowestAtMs: 1_390_000 });
});

describe('over the working ceiling, in whatever phase the run stepped back to', () => {
  const steps = (...phases: readonly (readonly [phase: string, fromS: number, untilS: number, tempC: number])[]) => ({
    visits: phases.map(([phase, fromS, untilS]) => visit(phase, fromS * 1000, untilS * 1000)),
    curve: phases.flatMap(([, fromS, untilS, tempC]) => at(tempC, fromS, untilS)),
  });
  const told = (of: ReturnType<typeof steps>, endS: number) => accountOf(PROFILE, of.visits, of.curve, endS * 1000);
  const MADE = [
    ['melt', 0, 600, 46],
    ['cool', 600, 1200, 27.5],
    ['rewarm', 1200, 1500, 31],
  ] as const;

  test('counts on once temper is lost, in the cooling that is begun again, and as high as it went there', () => {
    const lost = steps(...MADE, ['work', 1500, 1600, 34.5], ['cool', 1600, 1700, 36.1]);
    lost.curve.push(...at(27.5, 1700, 2300));
    const account = told({ ...lost, visits: [...lost.visits.slice(0, -1), visit('cool', 1_600_000, null)] }, 2300);
    expect(account).toMatchObject({ overS: 200, overByC: 3.6, peakAfterSeedC: 36.1, coolestC: 27.5, scorchS: 0 });
    expect(
      account.stays.map(({ ceilings }) => ceilings.map(({ kind, limitC, overS }) => [kind, limitC, overS])),
    ).toEqual([
      [['scorch', 50, 0]],
      [
        ['scorch', 50, 0],
        ['working', 32.5, 0],
      ],
      [['working', 32.5, 0]],
      [['working', 32.5, 100]],
      [['working', 32.5, 100]],
    ]);
  });

  test('counts from the moment the seeding band was reached, not on the way down to it', () => {
    const { visits, curve } = steps(['cool', 0, 100, 40]);
    curve.push(...at(27.9, 100, 200), ...at(33, 200, 250));
    const reached: PhaseVisit = { ...visits[0]!, leftAtMs: null, reachedAtMs: 100_000 };
    expect(accountOf(PROFILE, [reached], curve, 250_000)).toMatchObject({
      overS: 50,
      overByC: 0.5,
      peakAfterSeedC: 33,
    });
    const never = accountOf(PROFILE, [{ ...reached, reachedAtMs: null }], curve, 250_000);
    expect(never).toMatchObject({ overS: 0, overByC: 0, peakAfterSeedC: null });
    expect(never.stays[0]!.ceilings).toMatchObject([{ kind: 'scorch', limitC: 50, overS: 0, peakC: 40 }]);
  });

  test('what burns is counted on the way down to the seed, too, as it was warned of, and apart from what is over the seed', () => {
    const { visits, curve } = steps(['melt', 0, 600, 49], ['cool', 600, 700, 51.5]);
    curve.push(...at(40, 700, 1000), ...at(27.5, 1000, 1100), ...at(33, 1100, 1120), ...at(27.5, 1120, 1300));
    const cool: PhaseVisit = { ...visits[1]!, leftAtMs: null, reachedAtMs: 1_000_000 };
    const account = told({ visits: [visits[0]!, cool], curve }, 1300);
    expect(account).toMatchObject({ scorchS: 100, overS: 20, overByC: 0.5, peakAfterSeedC: 33 });
    expect(account.stays[1]!.ceilings).toMatchObject([
      { kind: 'scorch', limitC: 50, overS: 100, peakC: 51.5, peakAtMs: 600_000 },
      { kind: 'working', limitC: 32.5, overS: 20, peakC: 33, peakAtMs: 1_100_000 },
    ]);
  });

  test('counts nothing of what was melted anew, nor of the way down from there', () => {
    const anew = steps(...MADE, ['work', 1500, 1600, 33], ['melt', 1600, 2000, 46], ['cool', 2000, 2100, 40]);
    const notYet = [...anew.visits.slice(0, -1), { ...anew.visits.at(-1)!, reachedAtMs: null }];
    expect(told({ ...anew, visits: notYet }, 2100)).toMatchObject({ overS: 100, overByC: 0.5, peakAfterSeedC: 33 });
  });

  test('a cooling with a ceiling of its own is under that, as long as no seed was made', () => {
    const [melt, cool, ...rest] = PROFILE.phases;
    const profile = { ...PROFILE, phases: [melt!, { ...cool!, ceilingC: 47 }, ...rest] };
    const { visits, curve } = steps(['cool', 0, 100, 48]);
    expect(accountOf(profile, visits, curve, 100_000)).toMatchObject({ overS: 0, scorchS: 100, peakAfterSeedC: null });
  });
});

test('what nobody read counts for nothing, and is told', () => {
  const curve = [...at(46, 0, 600), ...at(27.5, 600, 700), ...at(31.6, 1600, 3000)];
  const account = accountOf(PROFILE, VISITS, curve, 3_000_000);
  // The last point before the gap, at 690 s, stands for its own column of 10 s.
  expect(account.stays.map(({ unseenS }) => unseenS)).toEqual([0, 500, 300, 100]);
  expect(account.stays[1]).toMatchObject({ keptS: 100, insideBandS: 100 });
  expect(account).toMatchObject({ unseenS: 900, workReadS: 1400, inWorkBandS: 1400 });
});

test('a dwell goes on over a gap in which no second is counted as being in the band', () => {
  const everySecond = (fromS: number, untilS: number): CurvePoint[] =>
    Array.from({ length: untilS - fromS }, (_, i) => [(fromS + i) * 1000, 27.5]);
  const curve = [...everySecond(0, 100), ...everySecond(125, 200), ...everySecond(260, 300)];
  const account = accountOf(PROFILE, [visit('cool', 0, null)], curve, 300_000);
  expect(account.stays[0]).toMatchObject({ lastedS: 300, keptS: 240, insideBandS: 215, unseenS: 85 });
});

test('a phase that was not reached says so; a run that never cooled has no depth', () => {
  const account = accountOf(PROFILE, [visit('melt', 0, null, false)], at(40, 0, 300), 300_000);
  expect(account.stays[0]).toMatchObject({ reached: false, keptS: 0, highestC: 40 });
  expect(account).toMatchObject({ coolestC: null, peakAfterSeedC: null, lastedS: 300 });
});

test('a phase without a dwell that the next one followed by itself was reached, though only at its last moment', () => {
  const visits = [visit('melt', 0, 300_000, false), visit('cool', 300_000, null, false)];
  expect(accountOf(PROFILE, visits, at(46, 0, 600), 600_000).stays.map(({ reached }) => reached)).toEqual([
    true,
    false,
  ]);
});

test('nothing is known of nothing', () => {
  expect(accountOf(PROFILE, [], [], 0)).toMatchObject({ stays: [], lastedS: 0, overByC: 0, unseenS: 0 });
});
