/** From points to a correction, and how far off it may be: by hand, by a thousand throws of dice, and by the bounds of sense. */
import { describe, expect, test } from 'vitest';
import { correctionOf, uncertaintyAt, usedPoints } from '../../../server/core/check/correction.ts';
import { referenceOf } from '../../../server/core/check/standard.ts';
import type { CheckPoint, StandardName } from '../../../server/core/record/check.ts';
import { chance } from '../../../server/source/kitchen/chance.ts';

function point(against: StandardName, trueC: number, readC: number, change: Partial<CheckPoint> = {}): CheckPoint {
  return { against, trueC, withinC: 0.2, readC, spreadC: 0.05, stepC: 0.1, readings: 61, ...change };
}

const ICE = point('ice', 0, 0.4);
const BESIDE = point('thermometer', 32, 32.7);
const STEAM = point('steam', 99.6, 101);

describe('a correction', () => {
  test('of one point shifts', () => {
    expect(correctionOf([ICE])).toEqual({ offsetC: -0.4, gain: 1 });
  });

  test('of two takes both to what they should have been', () => {
    const { offsetC, gain } = correctionOf([ICE, BESIDE])!;
    expect(gain * ICE.readC + offsetC).toBeCloseTo(0, 3);
    expect(gain * BESIDE.readC + offsetC).toBeCloseTo(32, 3);
  });

  test('goes through those nearest to the work: steam is the third', () => {
    expect(usedPoints([STEAM, ICE, BESIDE])).toEqual([BESIDE, ICE]);
    expect(usedPoints([STEAM, ICE])).toEqual([ICE, STEAM]);
    expect(correctionOf([STEAM, ICE, BESIDE])).toEqual(correctionOf([ICE, BESIDE]));
  });

  test('makes no scale of two points close together', () => {
    const close = point('ice', 15, 15.1);
    expect(correctionOf([BESIDE, close])).toEqual(correctionOf([BESIDE]));
  });

  test('is none where the probe is too far off to be believed, or nothing was checked', () => {
    expect(correctionOf([point('ice', 0, 5.1)])).toBe(null);
    expect(correctionOf([])).toBe(null);
    expect(uncertaintyAt([], 32)).toBe(null);
  });
});

describe('the uncertainty (JCGM 100, k = 2)', () => {
  test('of one point, at the point, as reckoned by hand', () => {
    const bias = 2 * Math.hypot(0.2 / Math.sqrt(3), 0.05 / 2, 0.05 / Math.sqrt(3));
    const noise = 2 * Math.hypot(0.05, 0.05 / Math.sqrt(3));
    const found = uncertaintyAt([ICE], 0)!;
    expect(found.biasC).toBeCloseTo(bias, 12);
    expect(found.noiseC).toBeCloseTo(noise, 12);
    expect(found.withinC).toBeCloseTo(Math.hypot(bias, noise), 12);
  });

  test('grows away from the point, and with a second point stays as it is there', () => {
    const alone = uncertaintyAt([ICE], 32)!;
    const both = uncertaintyAt([ICE, BESIDE], 32)!;
    expect(alone.biasC).toBeGreaterThan(uncertaintyAt([ICE], 0)!.biasC * 1.2);
    expect(both.biasC).toBeCloseTo(uncertaintyAt([BESIDE], 32)!.biasC, 12);
  });

  test('holds in 95 of 100 throws: probes that are off anyhow, checked and read', () => {
    const dice = chance(7);
    const even = (half: number): number => dice.between(-half, half);
    const throws = 2000;
    let held = 0;
    for (let each = 0; each < throws; each += 1) {
      const [offset, gain] = [even(2), 1 + even(0.02)];
      const reads = (tempC: number): number => Math.round((offset + gain * tempC) * 10) / 10;
      const checked = [0, 32].map((trueC, index) => {
        const off = even(0.2);
        return point(index === 0 ? 'ice' : 'thermometer', trueC, reads(trueC + off) + (0.05 / 2) * dice.normal());
      });
      const { offsetC, gain: by } = correctionOf(checked)!;
      const atC = 31.4;
      const shown = by * reads(atC + 0.05 * dice.normal()) + offsetC;
      if (Math.abs(shown - atC) <= uncertaintyAt(checked, atC)!.withinC) held += 1;
    }
    expect(held / throws).toBeGreaterThan(0.94);
    expect(held).toBeLessThan(throws);
  });
});

describe('a standard', () => {
  test('of melting ice is 0 °C, in a kitchen within 0.2 (common practice)', () => {
    expect(referenceOf({ against: 'ice' })).toEqual({ trueC: 0, withinC: 0.2 });
  });

  test('of steam hangs on the pressure at the place, and is better known by a barometer than by an altitude', () => {
    const byBarometer = referenceOf({ against: 'steam', air: { by: 'station', hpa: 1013.25 } });
    const byAltitude = referenceOf({ against: 'steam', air: { by: 'altitude', altitudeM: 0 } });
    expect(byBarometer.trueC).toBeCloseTo(99.974, 3);
    expect(byAltitude.trueC).toBeCloseTo(99.974, 3);
    // 0.0277 °C for each hPa.
    expect(byBarometer.withinC).toBeCloseTo(0.1 + 2 * 0.0277, 3);
    expect(byAltitude.withinC).toBeCloseTo(0.1 + 20 * 0.0277, 2);
  });

  test('that is a thermometer is as good as its papers say, and two tips in one pot a little less', () => {
    expect(referenceOf({ against: 'thermometer', trueC: 32.1, withinC: 0.5 })).toEqual({ trueC: 32.1, withinC: 0.6 });
  });
});
