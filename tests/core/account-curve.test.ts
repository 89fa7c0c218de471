/** The curve that the account of a stored run is made from. */
import { expect, test } from 'vitest';
import type { Profile } from '../../server/core/record/profile.ts';
import { accountOfColumns, curveOf } from '../../server/core/show/account-curve.ts';
import type { PastAlarm } from '../../server/core/show/view.ts';
import type { Tile } from '../../server/core/show/wire.ts';

const OVER: PastAlarm = {
  alarm: 'overshoot',
  severity: 'warning',
  phase: 'work',
  raisedAtMs: 20_000,
  clearedAtMs: 40_000,
  limitC: 32.5,
  extremeC: 33.4,
  lastedMs: 20_000,
};

function tile(atMs: number, tempC: number | null): Tile {
  return [atMs, tempC, tempC, tempC];
}

const TILES = [tile(10_000, 32), tile(20_000, 32.6), tile(30_000, 32.9), tile(40_000, 32.4)];

test('a peak that fell between columns is the one its alarm was told with', () => {
  expect(curveOf(TILES, [OVER])).toEqual([
    [10_000, 32],
    [20_000, 32.6],
    [30_000, 33.4],
    [40_000, 32.4],
  ]);
});

test('an alarm that says less than the columns changes nothing; nor does one that is no extreme', () => {
  const whole = curveOf(TILES, []);
  expect(curveOf(TILES, [{ ...OVER, extremeC: 32.7 }])).toEqual(whole);
  expect(curveOf(TILES, [{ ...OVER, alarm: 'probe-lifted' }])).toEqual(whole);
  expect(curveOf(TILES, [{ ...OVER, alarm: 'undershoot', extremeC: 33 }])).toEqual(whole);
});

test('columns wider than a reading stands for speak for all of their width, a gap for nothing', () => {
  const tiles = [tile(0, 31), tile(60_000, 31), tile(600_000, 31)];
  expect(curveOf(tiles, []).map(([atMs]) => atMs / 1000)).toEqual([0, 15, 30, 45, 60, 75, 90, 105, 600, 615, 630, 645]);
});

test('where all was refused an estimate only stands as it was, and nothing was read', () => {
  const tiles: Tile[] = [tile(0, 31.5), tile(1_000, 31.5), [2_000, null, null, 31.5], [3_000, null, null, 31.5]];
  expect(curveOf(tiles, [])).toEqual([
    [0, 31.5],
    [1_000, 31.5],
  ]);
});

test.each([12, 22])('a day at work of %d hours is all seen and all in the band, however wide its columns', (hours) => {
  const profile: Profile = {
    id: 'work',
    title: 'Work',
    coating: 'dark',
    source: 'made up for a test',
    phases: [{ id: 'work', heading: 'hold', bandC: [31, 32], ceilingC: 32.5 }],
  };
  const columns = 1_200;
  const endMs = hours * 3_600_000;
  const tiles = Array.from({ length: columns }, (_, i) => tile((i * endMs) / columns, 31.5));
  const visits = [{ phase: 'work', enteredAtMs: 0, leftAtMs: null, by: 'reached', reachedAtMs: 0 }] as const;
  const account = accountOfColumns(profile, { visits, pastAlarms: [] }, tiles, endMs);
  expect(account).toMatchObject({ unseenS: 0, lastedS: hours * 3_600 });
  expect(account.stays[0]!.insideBandS).toBe(hours * 3_600);
});
