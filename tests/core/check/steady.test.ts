/** When a probe counts as steady: a whole minute of it, level and calm. */
import { describe, expect, test } from 'vitest';
import { startWatch, steadiness, watchSteady } from '../../../server/core/check/steady.ts';
import { STEADY_READINGS, STEADY_S } from '../../../server/core/show/checkable.ts';

/** One reading every `everyS`, of `value` by seconds. */
function watched(value: (atS: number) => number, { forS = STEADY_S, everyS = 1, fromS = 0 } = {}) {
  const watch = startWatch();
  for (let atS = fromS; atS <= fromS + forS; atS += everyS)
    watchSteady(watch, { atMs: atS * 1000, valueC: Math.round(value(atS) * 100) / 100 });
  return steadiness(watch);
}

/** A swing that no seed is needed for, of this size either way. */
const swing =
  (sizeC: number) =>
  (atS: number): number =>
    32 + sizeC * Math.sin(atS * 1.7);

describe('a probe', () => {
  test('is steady after a whole minute, not before', () => {
    expect(watched(swing(0.05), { forS: STEADY_S - 1 }).state).toBe('waiting');
    const steady = watched(swing(0.05));
    expect(steady).toMatchObject({ state: 'steady', forS: STEADY_S, readings: 61 });
    expect(steady.meanC).toBeCloseTo(32, 2);
    expect(steady.spreadC).toBeCloseTo(0.05 / Math.SQRT2, 2);
  });

  test('that speaks seldom is steady by as many readings, and no fewer', () => {
    expect(watched(swing(0.05), { everyS: 5 })).toMatchObject({ state: 'steady', readings: 13 });
    expect(watched(swing(0.05), { everyS: 6 })).toMatchObject({ state: 'waiting', readings: STEADY_READINGS - 1 });
    expect(watched(swing(0.05), { everyS: 6, forS: 66 })).toMatchObject({ state: 'steady', readings: STEADY_READINGS });
    expect(watched(swing(0.05), { everyS: 10, forS: 240 })).toMatchObject({
      state: 'steady',
      readings: STEADY_READINGS,
    });
    expect(watched((atS) => 32 + atS / 60, { everyS: 10, forS: 240 }).state).toBe('moving');
  });

  test('on its way into ice is moving, though it hardly moves any more', () => {
    const lagS = 20;
    const falling = (atS: number): number => 25 * Math.exp(-atS / lagS);
    expect(watched(falling, { fromS: 60 }).state).toBe('moving');
    const arrived = watched(falling, { fromS: 120 });
    expect(arrived.state).toBe('steady');
    expect(arrived.meanC).toBeLessThan(0.06);
  });

  test('that swings widely is restless', () => {
    expect(watched(swing(0.3)).state).toBe('restless');
  });

  test('of coarse steps may jump once, and tells its step', () => {
    const jumping = (atS: number): number => (atS < 30 ? 32 : 32.25);
    expect(watched(jumping)).toMatchObject({ state: 'steady', stepC: 0.25 });
    const jumpingTwice = (atS: number): number => (atS < 20 ? 32 : atS < 40 ? 32.25 : 32.5);
    expect(watched(jumpingTwice).state).toBe('moving');
  });

  test('that was never seen to move may have steps of a tenth', () => {
    expect(watched(() => 0)).toMatchObject({ state: 'steady', spreadC: 0, stepC: 0.1 });
  });

  test('begins anew after a hole', () => {
    const watch = startWatch();
    for (let atS = 0; atS <= 60; atS += 1) watchSteady(watch, { atMs: atS * 1000, valueC: 0 });
    expect(steadiness(watch).state).toBe('steady');
    watchSteady(watch, { atMs: 76_000, valueC: 0 });
    expect(steadiness(watch)).toMatchObject({ state: 'waiting', readings: 1, forS: 0 });
  });

  test('of which nothing was read is waited for', () => {
    expect(steadiness(startWatch())).toMatchObject({ state: 'waiting', meanC: null, readings: 0 });
  });
});
