/** Ohms and millivolts against published tables, from 0 to 120 °C and just below 0; and the wrong numbers that go round. */
import { describe, expect, test } from 'vitest';
import { platinumC, platinumOhms } from '../../server/core/sensor/platinum.ts';
import { betaC, steinhartHartC, steinhartHartThrough } from '../../server/core/sensor/thermistor.ts';
import { publishedC, thermocoupleC, thermocoupleMv } from '../../server/core/sensor/thermocouple.ts';

describe('platinum, IEC 60751', () => {
  /** °C, and ohms of Pt100: the standard's table to two decimals. 0 and 100 were seen printed, the others reckoned by its equation. */
  const TABLE = [
    [0, 100.0],
    [10, 103.9],
    [20, 107.79],
    [25, 109.73],
    [27, 110.51],
    [28, 110.9],
    [29, 111.29],
    [30, 111.67],
    [31, 112.06],
    [32, 112.45],
    [34, 113.22],
    [35, 113.61],
    [40, 115.54],
    [45, 117.47],
    [50, 119.4],
    [55, 121.32],
    [60, 123.24],
    [80, 130.9],
    [100, 138.51],
    [120, 146.07],
  ] as const;

  /** Two decimals: half a hundredth of an ohm, which is 0.013 °C. */
  const OHMS = 0.0051;
  const DEGREES = 0.015;

  test.each(TABLE)('%d °C is %d Ω, and back; of Pt1000 ten times that', (tempC, ohms) => {
    expect(Math.abs(platinumOhms(tempC, 100) - ohms)).toBeLessThan(OHMS);
    expect(Math.abs(platinumC(ohms, 100)! - tempC)).toBeLessThan(DEGREES);
    expect(Math.abs(platinumC(10 * ohms, 1000)! - tempC)).toBeLessThan(DEGREES);
  });

  test('1 to 4 °C as they are printed in a copy of the table', () => {
    for (const [tempC, ohms] of [
      [1, 100.39],
      [2, 100.78],
      [3, 101.17],
      [4, 101.56],
    ] as const)
      expect(Math.abs(platinumOhms(tempC, 100) - ohms)).toBeLessThan(OHMS);
  });

  test('a tenth of an ohm at the ice point is 0.256 °C (a metrology site: 0.25)', () => {
    expect(platinumC(100.1, 100)!).toBeCloseTo(0.256, 3);
  });

  test('below 0 °C the inverse is that of the longer equation', () => {
    for (const tempC of [-200, -100, -40, -20, -1, -0.01])
      expect(platinumC(platinumOhms(tempC, 1000), 1000)!).toBeCloseTo(tempC, 6);
    // Its table gives 60.26 Ω at −100 °C (from memory, textbook).
    expect(platinumOhms(-100, 100)).toBeCloseTo(60.26, 2);
  });

  test('the coefficient C that a calculator page prints, −4.2735e−12, is another curve below 0 °C', () => {
    const theirs = (tempC: number): number =>
      100 * (1 + 3.9083e-3 * tempC - 5.775e-7 * tempC ** 2 - 4.2735e-12 * (tempC - 100) * tempC ** 3);
    expect(Math.abs(platinumOhms(-100, 100) - theirs(-100))).toBeGreaterThan(0.001);
    expect(Math.abs(platinumOhms(-200, 100) - 18.52)).toBeLessThan(OHMS);
    expect(Math.abs(theirs(-200) - 18.52)).toBeGreaterThan(OHMS);
  });

  test('a broken wire, a short and a number that is none are no temperature', () => {
    for (const ohms of [Infinity, 5000, 0, -1, NaN]) expect(platinumC(ohms, 100)).toBe(null);
  });
});

describe('thermocouples, ITS-90 (NIST Monograph 175, SRD 60)', () => {
  /** °C; K and T in mV to three decimals; what the published inverse makes of the unrounded mV, °C. Reckoned from the published coefficients. */
  const TABLE = [
    [0, 0.0, 0.0, 0.0, 0.0],
    [10, 0.397, 9.953, 0.391, 10.024],
    [20, 0.798, 19.972, 0.79, 20.021],
    [25, 1.0, 24.99, 0.992, 25.015],
    [27, 1.081, 26.997, 1.074, 27.012],
    [28, 1.122, 28.0, 1.114, 28.011],
    [30, 1.203, 30.006, 1.196, 30.008],
    [31, 1.244, 31.009, 1.238, 31.007],
    [32, 1.285, 32.012, 1.279, 32.006],
    [34, 1.366, 34.017, 1.362, 34.003],
    [40, 1.612, 40.029, 1.612, 39.996],
    [45, 1.817, 45.034, 1.823, 44.991],
    [50, 2.023, 50.033, 2.036, 49.988],
    [60, 2.436, 60.021, 2.468, 59.985],
    [80, 3.267, 79.982, 3.358, 79.992],
    [100, 4.096, 99.969, 4.279, 100.005],
    [120, 4.92, 119.992, 5.228, 120.011],
  ] as const;

  test.each(TABLE)('at %d °C: K %d mV, its inverse %d °C; T %d mV, its inverse %d °C', (tempC, k, kC, t, tC) => {
    expect(Math.abs(thermocoupleMv(tempC, 'K') - k)).toBeLessThan(0.0005 + 1e-9);
    expect(Math.abs(thermocoupleMv(tempC, 'T') - t)).toBeLessThan(0.0005 + 1e-9);
    expect(Math.abs(publishedC(thermocoupleMv(tempC, 'K'), 'K')! - kC)).toBeLessThan(0.0005 + 1e-9);
    expect(Math.abs(publishedC(thermocoupleMv(tempC, 'T'), 'T')! - tC)).toBeLessThan(0.0005 + 1e-9);
  });

  test('the published inverse is within 0.05 °C (K) and 0.03 °C (T) of the reference function; ours is exact', () => {
    for (const [type, off] of [
      ['K', 0.05],
      ['T', 0.03],
    ] as const)
      for (let tempC = 0; tempC <= 120; tempC += 1) {
        const mv = thermocoupleMv(tempC, type);
        expect(Math.abs(publishedC(mv, type)! - tempC)).toBeLessThan(off);
        expect(thermocoupleC(mv, type, 0)!).toBeCloseTo(tempC, 6);
      }
  });

  test('below 0 °C too, on the other functions', () => {
    for (const type of ['K', 'T'] as const)
      for (const tempC of [-190, -40, -18, -5, -0.5])
        expect(thermocoupleC(thermocoupleMv(tempC, type), type, 0)!).toBeCloseTo(tempC, 6);
    // The NIST tables give −1.527 mV (K) and −1.475 mV (T) at −40 °C (from memory, textbook).
    expect(thermocoupleMv(-40, 'K')).toBeCloseTo(-1.527, 3);
    expect(thermocoupleMv(-40, 'T')).toBeCloseTo(-1.475, 3);
  });

  test('worked examples: 42 °C, 300 °C, 1.1 mV over 23 °C (a public reference implementation)', () => {
    expect(thermocoupleMv(42, 'K')).toBeCloseTo(1.6938477049901346, 10);
    expect(thermocoupleMv(300, 'K')).toBeCloseTo(12.209, 3);
    expect(thermocoupleC(1.1, 'K', 23)!).toBeCloseTo(49.907928030075773, 6);
  });

  test('type T against 22 °C: 0, 10 and 20 °C give −0.8703, −0.4793 and −0.0807 mV (a physics laboratory’s page)', () => {
    for (const [mv, tempC] of [
      [-0.8703, 0],
      [-0.4793, 10],
      [-0.0807, 20],
    ] as const)
      expect(Math.abs(thermocoupleC(mv, 'T', 22)! - tempC)).toBeLessThan(0.002);
  });

  test('4.096 mV at terminals of 25 °C is 124.3 °C (package documentation), neither 100.0 nor 125.0', () => {
    const tempC = thermocoupleC(4.096, 'K', 25)!;
    expect(tempC).toBeCloseTo(124.31, 2);
    const coldForgotten = thermocoupleC(4.096, 'K', 0)!;
    expect(coldForgotten).toBeCloseTo(100.0, 1);
    expect(Math.abs(tempC - (coldForgotten + 25))).toBeGreaterThan(0.6);
  });

  test('a straight line of 41.276 µV/°C (an amplifier’s data sheet) is off by 0.15 °C at the work and 0.27 at the melt', () => {
    const boardC = 22;
    const straight = (tempC: number): number =>
      boardC + (thermocoupleMv(tempC, 'K') - thermocoupleMv(boardC, 'K')) / 0.041276;
    expect(Math.abs(straight(31) - 31 - -0.15)).toBeLessThan(0.02);
    expect(Math.abs(straight(45) - 45 - -0.27)).toBeLessThan(0.02);
    for (const tempC of [31, 45]) {
      const mv = thermocoupleMv(tempC, 'K') - thermocoupleMv(boardC, 'K');
      expect(thermocoupleC(mv, 'K', boardC)!).toBeCloseTo(tempC, 6);
    }
  });

  test('a broken wire, or a number that is none, is no temperature', () => {
    for (const mv of [Infinity, -Infinity, NaN, 100, -10]) expect(thermocoupleC(mv, 'K', 22)).toBe(null);
    expect(thermocoupleC(1.2, 'K', NaN)).toBe(null);
  });
});

describe('thermistors', () => {
  /** A generic set of constants for 10 kΩ, and rows of the table of that part as it is widely printed: ohms, °C. */
  const GENERIC = { a: 1.129148e-3, b: 2.34125e-4, c: 8.76741e-8 };
  const GENERIC_TABLE = [
    [32650, 0],
    [10000, 25],
    [8056, 30],
    [5324, 40],
    [3601, 50],
    [678.6, 100],
  ] as const;

  test.each(GENERIC_TABLE)('%d Ω is %d °C', (ohms, tempC) => {
    expect(Math.abs(steinhartHartC(ohms, GENERIC)! - tempC)).toBeLessThan(0.01);
  });

  test.each([
    [9164.6, 27],
    [7720.9, 31],
    [7401.6, 32],
    [4367.0, 45],
  ] as const)('%d Ω is %d °C, reckoned from the same constants', (ohms, tempC) => {
    expect(Math.abs(steinhartHartC(ohms, GENERIC)! - tempC)).toBeLessThan(0.01);
  });

  test.each([
    [8037.1, 30],
    [7700.1, 31],
    [7379.3, 32],
    [4348.1, 45],
    [3588.2, 50],
  ] as const)('by beta 3950 of 10 kΩ, %d Ω is %d °C', (ohms, tempC) => {
    expect(Math.abs(betaC(ohms, { ohmsAt25C: 10_000, betaK: 3950 })! - tempC)).toBeLessThan(0.01);
  });

  test('three rows of an instrument manual’s table give the constants of the others', () => {
    const fitted = steinhartHartThrough([
      { ohms: 32128, tempC: 0 },
      { ohms: 9814, tempC: 25 },
      { ohms: 3542, tempC: 50 },
    ])!;
    expect(fitted.a).toBeCloseTo(1.10415912e-3, 10);
    expect(fitted.b).toBeCloseTo(2.38917947e-4, 11);
    expect(fitted.c).toBeCloseTo(6.93162653e-8, 13);
    for (const [ohms, tempC] of [
      [19549, 10],
      [12262, 20],
      [7908, 30],
    ] as const)
      expect(Math.abs(steinhartHartC(ohms, fitted)! - tempC)).toBeLessThan(0.003);
    // Its row for 40 °C, 5331 Ω, is a misprint.
    expect(steinhartHartC(5331, fitted)!).toBeCloseTo(39.53, 2);
  });

  test('two rows of one resistance give no constants', () => {
    const row = { ohms: 9814, tempC: 25 };
    expect(steinhartHartThrough([row, row, { ohms: 3542, tempC: 50 }])).toBe(null);
  });

  test('the constants copied all over hobby pages belong to another part: 10 kΩ would be 24.68 °C', () => {
    const copied = { a: 1.009249522e-3, b: 2.378405444e-4, c: 2.019202697e-7 };
    expect(steinhartHartC(10_000, copied)!).toBeCloseTo(24.68, 2);
    expect(Math.abs(steinhartHartC(10_000, copied)! - 25)).toBeGreaterThan(0.3);
  });

  test('a broken wire, a short and a number that is none are no temperature', () => {
    for (const ohms of [Infinity, 0, -5, NaN, 1e9]) {
      expect(steinhartHartC(ohms, GENERIC)).toBe(null);
      expect(betaC(ohms, { ohmsAt25C: 10_000, betaK: 3950 })).toBe(null);
    }
  });
});
