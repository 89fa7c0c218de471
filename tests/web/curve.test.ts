/** The page's curve: every peak survives at every zoom, every gap stays a gap, and never more than two points per column. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Tile, WireReading } from '../../server/core/show/wire.ts';
import { Curve } from '../../web/curve.ts';

const SEED = 20261125;
const GOOD = 0;
const SUSPECT = 1;
const REJECTED = 2;

const values = (line: { valueC: readonly number[] }): number[] => line.valueC.filter((value) => !Number.isNaN(value));

/** One reading a second, the estimate half a degree under it. */
function everySecond(valuesC: readonly number[], fromMs = 0): WireReading[] {
  return valuesC.map((valueC, i) => [fromMs + i * 1000, valueC, GOOD, valueC - 0.5]);
}

function curveOf(readings: readonly WireReading[]): Curve {
  const curve = new Curve();
  curve.addReadings(readings);
  return curve;
}

/* Not a double: those crowd near zero. */
const share = fc.nat(10_000).map((n) => n / 10_000);

/** Making a run takes longest: each is looked at in several places. */
const RUNS = 75;
const several = <T>(one: fc.Arbitrary<T>): fc.Arbitrary<T[]> => fc.array(one, { minLength: 4, maxLength: 4 });

/** Runs of up to four hours, long enough for every level of the pyramid: noise, and a single peak and trough somewhere in it. */
const longRun = fc
  .record({ length: fc.integer({ min: 1, max: 4 * 3600 }), noise: fc.nat(1_000_000), peak: share, trough: share })
  .map(({ length, noise, peak, trough }) => {
    const valuesC = Array.from({ length }, (_, i) => 30 + 3 * Math.sin(i / 300) + (((i + noise) * 7919) % 1009) / 5000);
    valuesC[Math.floor(trough * (length - 1))] = 12 + (noise % 7);
    valuesC[Math.floor(peak * (length - 1))] = 50 + (noise % 13);
    return valuesC;
  });

describe('what is drawn of a curve', () => {
  it('holds the highest and the lowest value of any span at any zoom', () => {
    const zoom = fc.record({ from: share, part: share, count: fc.integer({ min: 1, max: 900 }) });
    fc.assert(
      fc.property(longRun, several(zoom), (valuesC, zooms) => {
        const curve = curveOf(everySecond(valuesC));
        for (const { from, part, count } of zooms) {
          const totalMs = valuesC.length * 1000;
          const fromMs = Math.floor(from * totalMs);
          const toMs = fromMs + Math.max(1000, part * totalMs);
          const shown = valuesC.slice(Math.ceil(fromMs / 1000), Math.floor(toMs / 1000) + 1).map(Math.fround);
          if (shown.length === 0) continue;
          const drawn = new Set(values(curve.columns('reading', { fromMs, toMs }, count)));
          expect(drawn).toContain(Math.max(...shown));
          expect(drawn).toContain(Math.min(...shown));
        }
      }),
      { seed: SEED, numRuns: RUNS },
    );
  });

  it('shows a peak of a single sample in twelve hours on a hundred columns', () => {
    const valuesC = Array.from({ length: 12 * 3600 }, () => 31.5);
    valuesC[17_171] = 34.25;
    const curve = curveOf(everySecond(valuesC));
    const whole = { fromMs: 0, toMs: valuesC.length * 1000 };
    const [reading, estimate] = (['reading', 'estimate'] as const).map((line) => curve.columns(line, whole, 100));
    expect(Math.max(...values(reading!))).toBe(34.25);
    expect(Math.max(...values(estimate!))).toBe(33.75);
  });

  it('has at most two points per column, and one row beyond either end', () => {
    const curve = curveOf(everySecond(Array.from({ length: 9_000 }, (_, i) => 30 + Math.sin(i))));
    const estimate = curve.columns('estimate', { fromMs: 1_000_000, toMs: 5_000_000 }, 350);
    expect(estimate.atMs.length).toBeLessThanOrEqual(2 * (350 + 1) + 4);
    expect(estimate.atMs[0]).toBeLessThan(1_000_000);
    expect(estimate.atMs.at(-1)).toBeGreaterThan(5_000_000);
  });

  it('never goes back in time', () => {
    const curve = curveOf(everySecond(Array.from({ length: 2_000 }, (_, i) => 30 + 3 * Math.sin(i * 1.7))));
    const { atMs } = curve.columns('estimate', { fromMs: 100_000, toMs: 1_900_000 }, 77);
    expect(atMs).toEqual(atMs.toSorted((a, b) => a - b));
  });

  it('shows the same columns again when the window slides by less than one', () => {
    const curve = curveOf(everySecond(Array.from({ length: 4_000 }, (_, i) => 30 + Math.sin(i * 1.3))));
    const inside = ({ atMs, valueC }: { atMs: number[]; valueC: number[] }): [number, number][] =>
      atMs.map((at, i): [number, number] => [at, valueC[i]!]).filter(([at]) => at > 1_100_000 && at < 1_900_000);
    expect(inside(curve.columns('estimate', { fromMs: 1_000_000, toMs: 2_000_000 }, 100))).toEqual(
      inside(curve.columns('estimate', { fromMs: 1_004_000, toMs: 2_004_000 }, 100)),
    );
  });

  it('is nothing for a span of no length', () => {
    expect(curveOf(everySecond([31, 32])).columns('reading', { fromMs: 5_000, toMs: 5_000 }, 100).atMs).toEqual([]);
  });
});

describe('a gap in the curve', () => {
  const withHole = curveOf([...everySecond([31, 31, 31]), ...everySecond([32, 32, 32], 62_000)]);

  it('lifts the pen, and is told with its ends', () => {
    expect(withHole.columns('estimate', { fromMs: 0, toMs: 70_000 }, 700).valueC.filter(Number.isNaN)).toHaveLength(1);
    expect(withHole.holes(0, 70_000, 0, 64_000)).toEqual([{ fromMs: 2_000, toMs: 62_000 }]);
  });

  it('still lifts the pen where it is narrower than a column', () => {
    expect(
      withHole.columns('estimate', { fromMs: 0, toMs: 400_000 }, 4).valueC.filter(Number.isNaN).length,
    ).toBeLessThanOrEqual(1);
    const long = curveOf([
      ...everySecond(Array.from({ length: 300 }, () => 31)),
      ...everySecond(
        Array.from({ length: 300 }, () => 31),
        310_000,
      ),
    ]);
    expect(long.columns('estimate', { fromMs: 0, toMs: 600_000 }, 10).valueC.some(Number.isNaN)).toBe(true);
  });

  it('is no gap for one late reading', () => {
    const curve = curveOf([...everySecond([31, 31, 31, 31]), ...everySecond([31], 6_000)]);
    expect(curve.columns('reading', { fromMs: 0, toMs: 10_000 }, 100).valueC.some(Number.isNaN)).toBe(false);
  });

  it('grows with the pace: twelve seconds are none at one reading in five, and are one at one a second', () => {
    const slow = curveOf([0, 5, 10, 15, 20, 32].map((s): WireReading => [s * 1000, 31, GOOD, 31]));
    const fast = curveOf([0, 1, 2, 3, 4, 16].map((s): WireReading => [s * 1000, 31, GOOD, 31]));
    expect(slow.holes(0, 40_000, 0, 32_000)).toEqual([]);
    expect(fast.holes(0, 40_000, 0, 16_000)).toEqual([{ fromMs: 4_000, toMs: 16_000 }]);
  });

  it('is left by rejected and suspect readings, whose values are drawn nowhere', () => {
    const bad = (s: number, quality: 1 | 2): WireReading => [s * 1000, 85, quality, 31];
    const curve = curveOf([
      ...everySecond([31, 31, 31]),
      bad(3, REJECTED),
      bad(4, SUSPECT),
      bad(5, REJECTED),
      bad(6, SUSPECT),
      ...everySecond([31], 7_000),
    ]);
    expect(Math.max(...values(curve.columns('reading', { fromMs: 0, toMs: 8_000 }, 100)))).toBe(31);
    expect(curve.holes(0, 8_000, 0, 7_000)).toEqual([{ fromMs: 2_000, toMs: 7_000 }]);
  });

  it('stays open until now where nothing has come since', () => {
    const curve = curveOf(everySecond([31, 31, 31]));
    expect(curve.holes(0, 60_000, 0, 4_000)).toEqual([]);
    expect(curve.holes(0, 60_000, 0, 40_000)).toEqual([{ fromMs: 2_000, toMs: 40_000 }]);
    expect(curve.estimateAt(4_000)).toBe(30.5);
    expect(curve.estimateAt(40_000)).toBeNull();
  });

  it('is left by empty tiles, though the tiles come on time', () => {
    const curve = new Curve();
    curve.addTiles(
      [0, 10, 20, 30, 40, 50].map((s): Tile => (s === 30 ? [s * 1000, null, null, null] : [s * 1000, 31, 31.2, 31.1])),
    );
    expect(curve.holes(0, 60_000, 0, 50_000)).toEqual([{ fromMs: 30_000, toMs: 40_000 }]);
  });
});

describe('the columns of a stored curve', () => {
  it('go on with the readings that follow them', () => {
    const curve = new Curve();
    curve.addTiles([0, 10, 20].map((s): Tile => [s * 1000, 31, 33, 32]));
    curve.addReadings(everySecond([32, 32, 32], 25_000));
    expect(curve.lastAtMs()).toBe(27_000);
    expect(curve.holes(0, 30_000, 0, 27_000)).toEqual([]);
    expect(Math.max(...values(curve.columns('reading', { fromMs: 0, toMs: 30_000 }, 3)))).toBe(33);
  });

  it('are not taken twice', () => {
    const curve = curveOf(everySecond([31, 32, 33]));
    curve.addReadings(everySecond([41, 42]));
    expect(curve.lastAtMs()).toBe(2_000);
    expect(Math.max(...values(curve.columns('reading', { fromMs: 0, toMs: 10_000 }, 10)))).toBe(33);
  });
});

describe('a value of the curve', () => {
  it('has an estimate only from the first one on', () => {
    const curve = curveOf([
      [0, 31, GOOD, null],
      [1_000, 31, GOOD, 30.75],
    ]);
    expect(curve.estimateAt(500)).toBeNull();
    expect(curve.estimateAt(1_000)).toBe(30.75);
    expect(curve.lastEstimateIn(0, 5_000)).toBe(30.75);
    expect(curve.lastEstimateIn(0, 500)).toBeNull();
  });

  it('has extremes that are those of a plain search', () => {
    fc.assert(
      fc.property(longRun, several(fc.tuple(share, share)), (valuesC, spans) => {
        const curve = curveOf(everySecond(valuesC));
        for (const [from, to] of spans) {
          const [a, b] = [Math.floor(from * valuesC.length), Math.floor(to * valuesC.length)];
          const inside = valuesC.slice(a, b + 1).map((value) => Math.fround(value - 0.5));
          const { low, high } = curve.estimateExtremes(a * 1000, b * 1000);
          expect([low, high]).toEqual(inside.length === 0 ? [NaN, NaN] : [Math.min(...inside), Math.max(...inside)]);
        }
      }),
      { seed: SEED, numRuns: RUNS },
    );
  });
});
