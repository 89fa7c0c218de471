/** Formats that are no temperature at all, or mean two things. */
import { fixed, c, xor, hex, one, NOTHING } from './format.ts';
import type { LineFormat } from './format.ts';

export const ODD: readonly LineFormat[] = [
  // None of it a temperature.
  one(
    'a counter alone',
    (m) => String(m.n),
    () => NOTHING,
    { none: true },
  ),
  one(
    'milliseconds alone',
    (m) => String(m.atMs),
    () => NOTHING,
    { none: true },
  ),
  one(
    'pressure and humidity',
    (m) => `P: ${fixed(m.pressureHpa, 1)} hPa RH: ${fixed(m.humidity, 1)} %`,
    () => NOTHING,
    { none: true },
  ),
  one(
    'a place from above',
    (m) =>
      `$GPGGA,1235${19 + (m.n % 40)},4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*${hex(xor(`GPGGA,1235${19 + (m.n % 40)},4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,`))}`,
    () => NOTHING,
    { none: true },
  ),
  // Two meanings.
  one(
    'whole, comma, whole humidity',
    (m) => `${fixed(m.chocolateC, 0)},${fixed(m.humidity, 0)}`,
    (m) => ({ 1: c(m.chocolateC, 0), 2: c(m.humidity, 0) }),
    { asks: true },
  ),
  one(
    'bare, decimal comma, two decimals, still',
    (m) => `31,${42 + (m.n % 2)}`,
    (m) => ({ 1: c(31.42 + 0.01 * (m.n % 2)) }),
    { asks: true },
  ),
];
