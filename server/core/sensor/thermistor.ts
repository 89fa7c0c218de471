/** Thermistors: °C from ohms by the equation of Steinhart and Hart, or by beta. What the constants are stands in the part's own data sheet. */

/** 0 °C and 25 °C, K (SI brochure). */
const KELVIN_AT_0_C = 273.15;
const KELVIN_AT_25_C = 298.15;

/** No thermistor is made to measure beyond these, °C (ours: outside, the constants mean nothing). */
export const THERMISTOR_C = [-80, 300] as const;

/** 1/T = A + B ln R + C (ln R)³, with T in K and R in ohms (Steinhart & Hart, Deep-Sea Research 15 (1968) 497–503). */
export interface SteinhartHart {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** R = R25 exp[beta (1/T − 1/298.15 K)]. */
export interface Beta {
  readonly ohmsAt25C: number;
  /** Kelvin. */
  readonly betaK: number;
}

/** °C at `ohms`; null where it is no resistance of such a part: a broken or shorted wire, or other constants than its own. */
export function steinhartHartC(ohms: number, { a, b, c }: SteinhartHart): number | null {
  const ln = Math.log(ohms);
  return celsiusOf(1 / (a + b * ln + c * ln ** 3));
}

/** The same by beta, which is good near 25 °C and drifts away from it: at 31 °C by some hundredths, at 100 °C by a degree. */
export function betaC(ohms: number, { ohmsAt25C, betaK }: Beta): number | null {
  return celsiusOf(1 / (1 / KELVIN_AT_25_C + Math.log(ohms / ohmsAt25C) / betaK));
}

function celsiusOf(kelvin: number): number | null {
  const tempC = kelvin - KELVIN_AT_0_C;
  return tempC >= THERMISTOR_C[0] && tempC <= THERMISTOR_C[1] ? tempC : null;
}

/** A row of a part's table. */
export interface ThermistorPoint {
  readonly ohms: number;
  readonly tempC: number;
}

/**
 * The constants that go through three rows of a table (far apart: best the ends and the middle of what is to be measured); null where two
 * are of one resistance. Exact: three linear equations in a, b and c.
 */
export function steinhartHartThrough(
  points: readonly [ThermistorPoint, ThermistorPoint, ThermistorPoint],
): SteinhartHart | null {
  const [p, q, r] = points.map(({ ohms, tempC }) => ({ ln: Math.log(ohms), y: 1 / (tempC + KELVIN_AT_0_C) })) as [
    Linear,
    Linear,
    Linear,
  ];
  const slopeQ = (q.y - p.y) / (q.ln - p.ln);
  const slopeR = (r.y - p.y) / (r.ln - p.ln);
  const c = (slopeR - slopeQ) / (r.ln - q.ln) / (p.ln + q.ln + r.ln);
  const b = slopeQ - c * (p.ln ** 2 + p.ln * q.ln + q.ln ** 2);
  const a = p.y - (b + p.ln ** 2 * c) * p.ln;
  return [a, b, c].every(Number.isFinite) ? { a, b, c } : null;
}

interface Linear {
  readonly ln: number;
  readonly y: number;
}
