/** The curve that the account of a stored run is made from. */
import { expect, test } from 'vitest';
import type { PastAlarm } from '../../server/core/show/view.ts';
import type { Tile } from '../../server/core/show/wire.ts';
import { accountOfRun, curveOf } from '../../web/run-account.ts';
import { eventsUpTo, infoOf, msAt, NOTES, readingsUpTo, tilesOf } from '../support/scenes.ts';

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
  expect(curveOf({ tiles: TILES }, [OVER])).toEqual([
    [10_000, 32],
    [20_000, 32.6],
    [30_000, 33.4],
    [40_000, 32.4],
  ]);
});

test('an alarm that says less than the columns changes nothing; nor does one that is no extreme', () => {
  const whole = curveOf({ tiles: TILES }, []);
  expect(curveOf({ tiles: TILES }, [{ ...OVER, extremeC: 32.7 }])).toEqual(whole);
  expect(curveOf({ tiles: TILES }, [{ ...OVER, alarm: 'probe-lifted' }])).toEqual(whole);
  expect(curveOf({ tiles: TILES }, [{ ...OVER, alarm: 'undershoot', extremeC: 33 }])).toEqual(whole);
});

test('columns wider than a reading stands for speak for all of their width, a gap for nothing', () => {
  const tiles = [tile(0, 31), tile(60_000, 31), tile(600_000, 31)];
  expect(curveOf({ tiles }, []).map(([atMs]) => atMs / 1000)).toEqual([
    0, 15, 30, 45, 60, 75, 90, 105, 600, 615, 630, 645,
  ]);
});

test('the afternoon in figures', () => {
  const run = {
    info: infoOf(false),
    events: eventsUpTo(118, [{ kind: 'run-ended', by: 'hand' }]),
    endedAtMs: msAt(118),
    tiles: tilesOf(readingsUpTo(118), 4),
    notes: NOTES,
    binnedAtWall: null,
  };
  const account = accountOfRun(run);
  expect(account.stays.map(({ phase }) => phase)).toEqual(['melt', 'cool', 'rewarm', 'work']);
  // The scene's course: coolest 26.9 at 46 min, 32.9 at 95 min.
  expect(account).toMatchObject({ lastedS: 118 * 60, coolestC: 26.9, peakAfterSeedC: 32.9, overByC: 0.4, unseenS: 0 });
});
