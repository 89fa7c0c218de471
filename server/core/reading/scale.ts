/** The three temperature scales, by the names thermometers give them, and the way from each to °C. Exact by definition. */

export type Scale = 'C' | 'F' | 'K';

const SCALES: Readonly<Record<Scale, readonly string[]>> = {
  C: ['c', '°c', '°', 'degc', 'deg.c', 'deg', 'degs', 'degree', 'degrees', 'celsius', 'centigrade', '°celsius'],
  F: ['f', '°f', 'degf', 'deg.f', 'fahrenheit', '°fahrenheit'],
  K: ['k', '°k', 'degk', 'kelvin', 'kelvins'],
};

const SCALE_BY_NAME: ReadonlyMap<string, Scale> = new Map(
  (['C', 'F', 'K'] as const).flatMap((scale) => SCALES[scale].map((name) => [name, scale] as const)),
);

/** Ice point and size of a degree: 32 °F = 0 °C, 212 − 32 °F span 100 °C (the degree's definition, not water's boiling point). */
const FAHRENHEIT_AT_0_C = 32;
const C_PER_FAHRENHEIT = 5 / 9;
/** 0 °C = 273.15 K, by the definition of the Celsius scale (SI brochure). */
const KELVIN_AT_0_C = 273.15;

/** The scale a unit names, in lower case with U+00B0 for the degree sign; null for any other word. */
export function scaleNamed(unit: string): Scale | null {
  return SCALE_BY_NAME.get(unit) ?? null;
}

/** °C for a value on its scale. */
export function celsius(value: number, scale: Scale): number {
  if (scale === 'F') return (value - FAHRENHEIT_AT_0_C) * C_PER_FAHRENHEIT;
  return scale === 'K' ? value - KELVIN_AT_0_C : value;
}
