/** Where water boils, against published tables; and the ways in which 100 °C is wrong. */
import { describe, expect, test } from 'vitest';
import { boilingC, standardHpa } from '../../server/core/sensor/steam.ts';

describe('the boiling point', () => {
  /** MPa and K: check values of IAPWS-IF97, region 4 (R7-97(2012), table 36). */
  test.each([
    [0.1, 372.755919],
    [1, 453.035632],
    [10, 584.149488],
  ])('under %d MPa it is %d K', (mpa, kelvin) => {
    expect(Math.abs(boilingC(mpa * 10_000) + 273.15 - kelvin)).toBeLessThan(1e-6);
  });

  /** hPa, °C: reckoned by the same equation. */
  test.each([
    [950, 98.178],
    [970, 98.757],
    [1000, 99.606],
    [1013.25, 99.974],
    [1040, 100.706],
  ])('under %d hPa it is %d °C', (hpa, tempC) => {
    expect(Math.abs(boilingC(hpa) - tempC)).toBeLessThan(0.0006);
  });

  /** Inches of mercury and °F: a nineteenth-century table for measuring heights by a boiling thermometer (Weather Warnings for Watchers). */
  test.each([
    [30, 212.13],
    [29, 210.43],
    [28, 208.67],
    [27, 206.87],
    [26, 205.01],
    [25, 203.09],
    [24, 201.11],
    [23, 199.05],
  ])('under %d inches of mercury it is %d °F, as it was measured then', (inches, fahrenheit) => {
    expect(Math.abs(boilingC(inches * 33.8639) * 1.8 + 32 - fahrenheit)).toBeLessThan(0.1);
  });

  test('one standard atmosphere is 99.974 °C on today’s scale, not 100', () => {
    expect(boilingC(1013.25)).toBeCloseTo(99.974, 3);
    expect(Math.abs(boilingC(1013.25) - 100)).toBeGreaterThan(0.02);
  });

  test('Antoine’s equation with the constants that go round is up to 0.06 °C off', () => {
    const antoine = (hpa: number): number => 1730.63 / (8.07131 - Math.log10(hpa * 0.750062)) - 233.426;
    expect(antoine(1013.25)).toBeCloseTo(99.997, 2);
    expect(antoine(701.09) - boilingC(701.09)).toBeGreaterThan(0.05);
  });
});

describe('altitude', () => {
  /** hPa and m: levels of the standard atmosphere (ICAO 1964). */
  test.each([
    [1000, 111],
    [950, 540],
    [900, 988],
    [850, 1457],
    [800, 1949],
    [700, 3012],
  ])('%d hPa stands at %d m', (hpa, altitudeM) => {
    expect(Math.abs(standardHpa(altitudeM) - hpa)).toBeLessThan(0.15);
  });

  /** m (geopotential) and °C: both equations together. */
  test.each([
    [0, 99.974],
    [500, 98.312],
    [1000, 96.649],
    [1500, 94.983],
    [2000, 93.315],
    [3000, 89.972],
  ])('at %d m water boils at %d °C', (altitudeM, tempC) => {
    expect(Math.abs(boilingC(standardHpa(altitudeM)) - tempC)).toBeLessThan(0.005);
  });

  test('it falls by half a degree in 150 m (rule of thumb)', () => {
    expect(boilingC(standardHpa(0)) - boilingC(standardHpa(150))).toBeCloseTo(0.5, 1);
  });

  test('the pressure of a weather report, reduced to sea level, is 3.3 °C wrong at 1,000 m', () => {
    expect(boilingC(1013.25) - boilingC(standardHpa(1000))).toBeCloseTo(3.3, 1);
  });
});
