/** Readings and curves as binary columns: nothing may be lost on the way to bytes and back. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Reading } from '../../../server/core/record/run.ts';
import type { Tile } from '../../../server/core/show/wire.ts';
import { decodeReadings, decodeTiles, encodeReadings, encodeTiles } from '../../../server/store/columns.ts';

const SEED = 20261125;

const anyC = fc.oneof(
  fc.integer({ min: -10_000, max: 20_000 }).map((hundredths) => hundredths / 100),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
);
const anyMs = fc.integer({ min: 0, max: 2 ** 45 });
const reason = fc.constantFrom('spike', 'sentinel', 'implausible', 'empty', 'not-the-bowl');
const anyReading: fc.Arbitrary<Reading> = fc
  .record({
    atMs: anyMs,
    role: fc.constantFrom('chocolate', 'bath', 'room', 'ignored'),
    valueC: anyC,
    quality: fc.constantFrom('good', 'suspect', 'rejected'),
    estimateC: fc.option(anyC),
    why: fc.option(reason),
  })
  .map(({ why, ...reading }) => (why === null ? reading : { ...reading, reason: why }) as Reading);

describe('readings', () => {
  test('[S5] come back exactly as they were, whatever their values, times and order', () => {
    fc.assert(
      fc.property(fc.array(anyReading, { maxLength: 200 }), (readings) => {
        expect(decodeReadings(encodeReadings(readings))).toEqual(readings);
      }),
      { seed: SEED },
    );
  });

  test('of an ordinary minute at ten a second take less than seven bytes each', () => {
    const minute = Array.from({ length: 600 }, (_, i): Reading => {
      const hundredths = Math.round(3100 + 50 * Math.sin(i / 40));
      return {
        atMs: 7_200_000 + i * 100,
        role: 'chocolate',
        valueC: hundredths / 100,
        quality: 'good',
        estimateC: (hundredths - 8) / 100,
      };
    });
    expect(encodeReadings(minute).byteLength / minute.length).toBeLessThan(7);
  });

  test('[S5] cut short or written by an unknown layout are refused, not guessed at', () => {
    const bytes = encodeReadings([
      { atMs: 1, role: 'chocolate', valueC: 31.2, quality: 'good', estimateC: 31.1 },
      { atMs: 2, role: 'bath', valueC: 45.5, quality: 'rejected', reason: 'spike', estimateC: null },
    ]);
    for (let length = 0; length < bytes.length; length++) {
      expect(() => decodeReadings(bytes.slice(0, length))).toThrow(RangeError);
    }
    expect(() => decodeReadings(bytes.with(0, 9))).toThrow('unknown layout 9');
    expect(() => decodeReadings(bytes.with(4, 255))).toThrow('rows');
    expect(() => decodeReadings('31.2' as never)).toThrow(RangeError);
  });

  test('damaged at any byte give an error or readings, never a hang', () => {
    fc.assert(
      fc.property(
        fc.array(anyReading, { minLength: 1, maxLength: 20 }),
        fc.nat(),
        fc.nat(255),
        (readings, at, byte) => {
          const bytes = encodeReadings(readings);
          bytes[at % bytes.length] = byte;
          try {
            decodeReadings(bytes);
          } catch (error) {
            expect(error).toBeInstanceOf(RangeError);
          }
        },
      ),
      { seed: SEED },
    );
  });
});

describe('columns of a curve', () => {
  test('come back exactly as they were, gaps included', () => {
    const orNull = fc.option(anyC, { nil: null });
    const anyTile: fc.Arbitrary<Tile> = fc.tuple(anyMs, orNull, orNull, orNull);
    fc.assert(
      fc.property(fc.array(anyTile, { maxLength: 200 }), (tiles) => {
        expect(decodeTiles(encodeTiles(tiles))).toEqual(tiles);
      }),
      { seed: SEED },
    );
  });
});
