/** Min-max columns: however few of them, no peak is lost. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Reading } from '../../../server/core/record/run.ts';
import { FINEST_SPAN_MS, NO_TILES, extended, gathered, tilesOfReadings, within } from '../../../server/store/tiles.ts';

const SEED = 20261125;

function good(atMs: number, valueC: number): Reading {
  return { atMs, role: 'chocolate', valueC, quality: 'good', estimateC: valueC };
}

const anyRun = fc
  .array(fc.tuple(fc.integer({ min: 1, max: 90_000 }), fc.integer({ min: 1500, max: 6000 })), {
    minLength: 1,
    maxLength: 400,
  })
  .map((steps) => {
    let atMs = 0;
    return steps.map(([stepMs, hundredths]) => good((atMs += stepMs), hundredths / 100));
  });

test('[S6] the highest and the lowest reading are in the curve at any number of columns', () => {
  fc.assert(
    fc.property(anyRun, fc.integer({ min: 1, max: 120 }), (readings, limit) => {
      const { tiles } = extended(NO_TILES, readings, limit);
      const values = readings.map((reading) => reading.valueC);
      expect(tiles.length).toBeLessThanOrEqual(limit);
      expect(Math.max(...tiles.map(([, , highC]) => highC ?? -Infinity))).toBe(Math.max(...values));
      expect(Math.min(...tiles.map(([, lowC]) => lowC ?? Infinity))).toBe(Math.min(...values));
      expect(tiles.at(-1)?.[3]).toBe(values.at(-1));
    }),
    { seed: SEED },
  );
});

test('gathered out of its minutes it is the same curve as put together at once', () => {
  fc.assert(
    fc.property(anyRun, fc.integer({ min: 1, max: 120 }), fc.nat(400), (readings, limit, fewer) => {
      const minuteOf = ({ atMs }: Reading): number => Math.floor(atMs / 60_000);
      const minutes = [...new Set(readings.map(minuteOf))];
      const pieces = minutes.map((minute) =>
        tilesOfReadings(
          readings.filter((reading) => minuteOf(reading) === minute),
          FINEST_SPAN_MS,
        ),
      );
      const tiles = pieces.flat();
      const count = Math.max(0, tiles.length - fewer);
      expect(gathered(pieces, count, limit)).toEqual(within({ spanMs: FINEST_SPAN_MS, tiles }, limit));
    }),
    { seed: SEED },
  );
});

test('a curve drawn in pieces is the curve drawn at once', () => {
  fc.assert(
    fc.property(anyRun, fc.nat(400), (readings, cut) => {
      const pieces = extended(extended(NO_TILES, readings.slice(0, cut), 120), readings.slice(cut), 120);
      expect(pieces).toEqual(extended(NO_TILES, readings, 120));
    }),
    { seed: SEED },
  );
});

test('a span with nothing good in it is a column without a temperature, and another role is no column at all', () => {
  const readings: Reading[] = [
    good(500, 31.2),
    { atMs: 1500, role: 'chocolate', valueC: 85, quality: 'rejected', reason: 'power-on-value', estimateC: null },
    { atMs: 2500, role: 'bath', valueC: 55, quality: 'good', estimateC: null },
  ];
  expect(tilesOfReadings(readings, 1000)).toEqual([
    [0, 31.2, 31.2, 31.2],
    [1000, null, null, null],
  ]);
});

test('joining columns keeps the newest estimate and forgets no gap between them', () => {
  const tiling = { spanMs: 1000, tiles: tilesOfReadings([good(0, 31), good(1000, 33), good(9000, 32)], 1000) };
  expect(within(tiling, 2)).toEqual({
    spanMs: 2000,
    tiles: [
      [0, 31, 33, 33],
      [8000, 32, 32, 32],
    ],
  });
});
