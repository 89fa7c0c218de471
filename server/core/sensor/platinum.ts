/**
 * Platinum resistance thermometers by IEC 60751: ohms from °C and back. Knows no wires: the resistance is that of the element alone.
 *
 *   t ≥ 0 °C:  R = R0 (1 + A t + B t²)
 *   t < 0 °C:  R = R0 (1 + A t + B t² + C (t − 100) t³)
 */

/** Coefficients of IEC 60751, per °C to the power of 1, 2 and 4. */
const A = 3.9083e-3;
const B = -5.775e-7;
const C = -4.183e-12;

/** The standard's equations hold between these, °C, both included. */
export const PLATINUM_C = [-200, 850] as const;

/** Below 0 °C the inverse is found step by step: so near, °C (ours: far below what any thermometer tells apart). */
const NEAR_ENOUGH_C = 1e-9;
const STEPS_MOST = 20;

/** Ohms at `tempC`, °C, of an element with `ohmsAt0C` at 0 °C (100 or 1000, or as measured at the ice point). */
export function platinumOhms(tempC: number, ohmsAt0C: number): number {
  const below = tempC < 0 ? C * (tempC - 100) * tempC ** 3 : 0;
  return ohmsAt0C * (1 + A * tempC + B * tempC ** 2 + below);
}

/** °C at `ohms`; null outside of the standard's range, where a wire is broken or shorted. */
export function platinumC(ohms: number, ohmsAt0C: number): number | null {
  const [lowest, highest] = PLATINUM_C.map((tempC) => platinumOhms(tempC, ohmsAt0C)) as [number, number];
  if (!(ohms >= lowest && ohms <= highest)) return null;
  const tempC = (-A + Math.sqrt(A ** 2 - 4 * B * (1 - ohms / ohmsAt0C))) / (2 * B);
  return tempC >= 0 ? tempC : belowZeroC(ohms, ohmsAt0C, tempC);
}

/** Newton's method from where the equation for above 0 °C would have it. */
function belowZeroC(ohms: number, ohmsAt0C: number, fromC: number): number {
  let tempC = fromC;
  for (let step = 0; step < STEPS_MOST; step += 1) {
    const slope = ohmsAt0C * (A + 2 * B * tempC + C * (4 * tempC - 300) * tempC ** 2);
    const byC = (platinumOhms(tempC, ohmsAt0C) - ohms) / slope;
    tempC -= byC;
    if (Math.abs(byC) < NEAR_ENOUGH_C) break;
  }
  return tempC;
}
