/**
 * At what temperature water boils: by the pressure of the air that stands on it, or by the altitude where nobody knows it.
 * The steam over boiling water has that temperature; the water itself is a few hundredths hotter.
 */

/**
 * Coefficients n1 to n10 of the saturation equation of IAPWS-IF97, region 4 (release R7-97(2012), table 34); here from index 0.
 */
const N = [
  0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.1202082470247e5, -0.32325550322333e7,
  0.1491510861353e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3,
] as const;

const KELVIN_AT_0_C = 273.15;
const HPA_PER_MPA = 10_000;

/**
 * °C at which water boils under `hpa`, the pressure at this very place (station pressure): the backward equation of IAPWS-IF97, region 4
 * (R7-97(2012), equation 31). The pressure in a weather report is reduced to sea level, and wrong here by 3.3 °C at 1,000 m.
 * 1013.25 hPa gives 99.974 °C, not 100: that was the definition of an older scale.
 */
export function boilingC(hpa: number): number {
  const [n1, n2, n3, n4, n5, n6, n7, n8, n9, n10] = N;
  const b = (hpa / HPA_PER_MPA) ** 0.25;
  const e = b ** 2 + n3 * b + n6;
  const f = n1 * b ** 2 + n4 * b + n7;
  const g = n2 * b ** 2 + n5 * b + n8;
  const d = (2 * g) / (-f - Math.sqrt(f ** 2 - 4 * e * g));
  return (n10 + d - Math.sqrt((n10 + d) ** 2 - 4 * (n9 + n10 * d))) / 2 - KELVIN_AT_0_C;
}

/** hPa at an altitude, m, in the standard atmosphere (ICAO Doc 7488, ISO 2533); the weather moves it by some per cent. */
export function standardHpa(altitudeM: number): number {
  return 1013.25 * (1 - (0.0065 * altitudeM) / 288.15) ** 5.25588;
}
