/** This moment as the page shows it, from what the server holds and what the run has. */
import { describe, expect, test } from 'vitest';
import { Curve } from '../../web/curve.ts';
import { nothingYet } from '../../web/live.ts';
import { isLiveNumber, momentOf } from '../../web/moment.ts';
import { msAt, nowAt, readingsUpTo } from '../support/scenes.ts';

function curveUpTo(min: number): Curve {
  const curve = new Curve();
  curve.addReadings(readingsUpTo(min));
  return curve;
}

describe('the last reading', () => {
  const gone = nowAt({ min: 5, now: { reading: null, stale: true, estimate: null } });

  test('is that of the run, and an old one, where the server holds none any more', () => {
    const live = { ...nothingYet(), connection: 'open', now: gone, curve: curveUpTo(3) } as const;
    const [atMs, valueC] = readingsUpTo(3).at(-1)!;
    expect(momentOf(live, msAt(5)).reading).toEqual({ atMs, valueC: expect.closeTo(valueC, 3), quality: 'good' });
    expect(isLiveNumber(live)).toBe(false);
  });

  test('is none where nothing was ever read', () => {
    expect(momentOf({ ...nothingYet(), now: gone }, msAt(5)).reading).toBeNull();
  });

  test('is the middle of a column where the run is known by columns alone', () => {
    const curve = new Curve();
    curve.addTiles([[msAt(1), 31.2, 31.6, 31.4]]);
    expect(curve.last()).toEqual({ atMs: msAt(1), valueC: expect.closeTo(31.4, 3), quality: 'good' });
  });
});
