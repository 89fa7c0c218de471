/**
 * The lag of a probe: its definition, what a ramp shows of it, and published response times. Sources beside each; the 0.5, 0.632, 0.9, 3.32
 * of a first-order step and r·τ of a ramp are exact mathematics, and are also printed on a cable maker's page of reaction times.
 */
import { describe, expect, test } from 'vitest';
import { lagFromPlunge, type MeasuredLag } from '../../server/core/bowl/plunge.ts';
import { estimateAt } from '../../server/core/engine.ts';
import { tipAfter } from '../../server/source/kitchen/probe.ts';
import { Bowl } from '../support/bowl.ts';
import { shipped } from '../support/shipped.ts';

/** A dry probe rests for half a minute, then its reading rises by 25 °C as `share` says of the seconds since the plunge. */
function measured(share: (seconds: number) => number, hz: number, lastS: number): MeasuredLag {
  const plungeS = 30.04;
  const readings = Array.from({ length: Math.round((plungeS + lastS) * hz) }, (_, index) => ({
    atMs: Math.round((index / hz) * 1000),
    valueC: 20 + 25 * (index / hz <= plungeS ? 0 : share(index / hz - plungeS)),
  }));
  const outcome = lagFromPlunge(readings);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome));
  return outcome;
}

describe('the time constant is the time to 63.2 % of a step (definition)', () => {
  test.each([2, 5, 10, 20])('τ = %d s, as the simulated probe steps: the plunge measures it within 1 %', (tauS) => {
    const lag = measured((seconds) => tipAfter(0, 1, 1, tauS, seconds), 5, 10 * tauS + 10);
    expect(Math.abs(lag.to63S / tauS - 1)).toBeLessThan(0.01);
    expect(Math.abs(lag.by90S / tauS - 1)).toBeLessThan(0.01);
    expect(lag.ratio).toBeCloseTo(3.32, 1);
    expect(lag.rise).toBe('first-order');
  });

  test.each([
    [0.693, 0.5],
    [1, 0.632],
    [2.303, 0.9],
    [3, 0.95],
    [4.61, 0.99],
  ])('the simulated probe has gone, after %d τ, %d of a step', (times, share) => {
    expect(tipAfter(0, 1, 1, 7, times * 7)).toBeCloseTo(share, 3);
  });
});

describe('on a ramp r the reading is off by r·τ (definition), and the estimate is not once the lag is known', () => {
  /** °C by °C/min and seconds; own arithmetic, to two decimals. */
  const table = [
    [1, 2, 0.03],
    [1, 5, 0.08],
    [1, 10, 0.17],
    [1, 20, 0.33],
    [2, 2, 0.07],
    [2, 5, 0.17],
    [2, 10, 0.33],
    [2, 20, 0.67],
    [3, 2, 0.1],
    [3, 5, 0.25],
    [3, 10, 0.5],
    [3, 20, 1.0],
    [5, 2, 0.17],
    [5, 5, 0.42],
    [5, 10, 0.83],
    [5, 20, 1.67],
  ] as const;
  /** Of the reading's error so much may be left, for a bowl is taken to ease off and a ramp does not; and a rounding of 0.01 °C either way. */
  const LEFT = 0.15;
  const ROUNDED_C = 0.02;

  test.each(table)(
    '%d °C/min, τ = %d s: the reading is off by %d °C, the simulated probe too',
    (cPerMin, tauS, offC) => {
      const bowl = new Bowl(shipped('dark'), 25, { probeLagS: tauS });
      bowl
        .start('melt')
        .hold(60)
        .ramp(25 + 4 * cPerMin, cPerMin);
      const readingOffC = bowl.tempC - bowl.readings.at(-1)!.valueC;
      expect(Math.abs(readingOffC - offC)).toBeLessThanOrEqual(0.01);
      let tipC = 0;
      for (let s = 0; s < 300; s += 1) tipC = tipAfter(tipC, (s * cPerMin) / 60, ((s + 1) * cPerMin) / 60, tauS, 1);
      expect(5 * cPerMin - tipC).toBeCloseTo(offC, 2);
      const estimateOffC = bowl.tempC - estimateAt(bowl.state, bowl.atMs)!.tempC;
      expect(Math.abs(estimateOffC)).toBeLessThanOrEqual(LEFT * offC + ROUNDED_C);
    },
  );
});

describe('published response times', () => {
  /** Cable maker's page of reaction times (sab-cable.com), t50 and t90 in seconds; flow of water or air 0.2 m/s. */
  const water = [
    ['thermocouple 3 mm', 1.2, 2.9],
    ['thermocouple 4.5 mm', 2.5, 5.9],
    ['thermocouple 6 mm', 4.0, 9.6],
    ['resistance 3 mm', 5.2, 9.8],
    ['resistance 6 mm', 10.4, 23.2],
  ] as const;
  const air = [
    ['thermocouple 1.5 mm', 8, 25],
    ['thermocouple 3 mm', 23, 80],
  ] as const;

  /** A rise through both published points: 1 − e^(−ln 2·(t/t50)^k), of first order where k = 1. */
  function through(t50: number, t90: number): (seconds: number) => number {
    const k = Math.log(Math.LN10 / Math.LN2) / Math.log(t90 / t50);
    return (seconds) => 1 - Math.exp(-Math.LN2 * (seconds / t50) ** k);
  }

  test.each(water)(
    '%s in water (t50 %d s, t90 %d s) is not of first order, and is to go by t90/2.303',
    (_, t50, t90) => {
      const lag = measured(through(t50, t90), 20, 12 * t90);
      expect(lag.rise).toBe('soaking');
      expect(Math.abs(lag.lagS / (t90 / 2.303) - 1)).toBeLessThan(0.08);
      expect(lag.lowS).toBeLessThan(t90 / 2.303);
      expect(lag.highS).toBeGreaterThan(t90 / 2.303);
    },
  );

  test.each(air)(
    '%s in air (t50 %d s, t90 %d s) is of first order: t50/0.693 and t90/2.303 are both its lag',
    (_, t50, t90) => {
      const lag = measured(through(t50, t90), 5, 290);
      expect(lag.rise).toBe('first-order');
      for (const tauS of [t50 / 0.693, t90 / 2.303]) expect(Math.abs(lag.lagS / tauS - 1)).toBeLessThan(0.08);
    },
  );
});
