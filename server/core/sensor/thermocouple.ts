/**
 * Thermocouples of type K and T by the ITS-90 functions (NIST Monograph 175, SRD 60; the same in ASTM E230 and IEC 60584-1): millivolts from
 * °C, and back. A thermocouple tells a difference: what is measured at its cold end is between there and its tip. The way to the tip's
 * temperature leads over the sum of emfs; temperatures can't be added, for the curve is none that is straight.
 */

export type ThermocoupleType = 'K' | 'T';

/** Coefficients of a polynomial, from the constant on. */
type Polynomial = readonly number[];

interface Curve {
  /** °C to mV, below 0 and from there on. */
  readonly reference: readonly [below: Polynomial, above: Polynomial];
  /** What is added to it from 0 °C on: a0 exp[a1 (t − a2)²]. */
  readonly hump: readonly [a0: number, a1: number, a2: number] | null;
  /** mV to °C, as published: within 0.05 °C of the reference function. */
  readonly inverse: readonly [below: Polynomial, above: Polynomial];
  /** What of it is used here, °C: the range in which the published inverse holds. */
  readonly rangeC: readonly [number, number];
}

const CURVES: Readonly<Record<ThermocoupleType, Curve>> = {
  K: {
    reference: [
      [
        0, 0.39450128025e-1, 0.23622373598e-4, -0.32858906784e-6, -0.49904828777e-8, -0.67509059173e-10,
        -0.57410327428e-12, -0.31088872894e-14, -0.10451609365e-16, -0.19889266878e-19, -0.16322697486e-22,
      ],
      [
        -0.17600413686e-1, 0.38921204975e-1, 0.1855877003e-4, -0.99457592874e-7, 0.31840945719e-9, -0.56072844889e-12,
        0.56075059059e-15, -0.32020720003e-18, 0.97151147152e-22, -0.12104721275e-25,
      ],
    ],
    hump: [0.1185976, -0.1183432e-3, 126.9686],
    inverse: [
      [
        0, 2.5173462e1, -1.1662878, -1.0833638, -8.977354e-1, -3.7342377e-1, -8.6632643e-2, -1.0450598e-2,
        -5.1920577e-4,
      ],
      [
        0, 2.508355e1, 7.860106e-2, -2.503131e-1, 8.31527e-2, -1.228034e-2, 9.804036e-4, -4.41303e-5, 1.057734e-6,
        -1.052755e-8,
      ],
    ],
    rangeC: [-200, 500],
  },
  T: {
    reference: [
      [
        0, 0.38748106364e-1, 0.44194434347e-4, 0.11844323105e-6, 0.20032973554e-7, 0.90138019559e-9, 0.22651156593e-10,
        0.36071154205e-12, 0.38493939883e-14, 0.28213521925e-16, 0.14251594779e-18, 0.48768662286e-21, 0.1079553927e-23,
        0.13945027062e-26, 0.79795153927e-30,
      ],
      [
        0, 0.38748106364e-1, 0.3329222788e-4, 0.20618243404e-6, -0.21882256846e-8, 0.10996880928e-10,
        -0.30815758772e-13, 0.4547913529e-16, -0.27512901673e-19,
      ],
    ],
    hump: null,
    inverse: [
      [0, 2.5949192e1, -2.1316967e-1, 7.9018692e-1, 4.2527777e-1, 1.3304473e-1, 2.0241446e-2, 1.2668171e-3],
      [0, 2.5928e1, -7.602961e-1, 4.637791e-2, -2.165394e-3, 6.048144e-5, -7.293422e-7],
    ],
    rangeC: [-200, 400],
  },
};

/** The published inverse is made exact by steps of Newton's method, until it moves by less than this, °C (ours). */
const NEAR_ENOUGH_C = 1e-9;
const STEPS_MOST = 8;
/** Half the stretch over which a slope is taken, °C (ours: the curve is straight over it to a billionth). */
const SLOPE_C = 0.01;

/** mV between a tip at `tempC` and a cold end at 0 °C, by the reference function. */
export function thermocoupleMv(tempC: number, type: ThermocoupleType): number {
  const { reference, hump } = CURVES[type];
  const polynomial = tempC < 0 ? reference[0] : reference[1];
  const [a0, a1, a2] = hump ?? [0, 0, 0];
  return valueAt(polynomial, tempC) + (tempC < 0 ? 0 : a0 * Math.exp(a1 * (tempC - a2) ** 2));
}

/** °C by the published inverse function, cold end at 0 °C; within 0.05 °C of the reference function. null outside of its range. */
export function publishedC(mv: number, type: ThermocoupleType): number | null {
  const { inverse, rangeC } = CURVES[type];
  const [lowest, highest] = rangeC.map((tempC) => thermocoupleMv(tempC, type)) as [number, number];
  return mv >= lowest && mv <= highest ? valueAt(mv < 0 ? inverse[0] : inverse[1], mv) : null;
}

/**
 * °C of the tip, from what is measured at the cold end, mV, and the temperature there, °C: the emf that the cold end lacks is added, and
 * of the sum the temperature taken. null outside of the range of the functions, as with a broken wire.
 */
export function thermocoupleC(mv: number, type: ThermocoupleType, coldC: number): number | null {
  const wholeMv = mv + thermocoupleMv(coldC, type);
  const fromC = publishedC(wholeMv, type);
  return fromC === null ? null : exactC(wholeMv, type, fromC);
}

function exactC(mv: number, type: ThermocoupleType, fromC: number): number {
  let tempC = fromC;
  for (let step = 0; step < STEPS_MOST; step += 1) {
    const slope = (thermocoupleMv(tempC + SLOPE_C, type) - thermocoupleMv(tempC - SLOPE_C, type)) / (2 * SLOPE_C);
    const byC = (thermocoupleMv(tempC, type) - mv) / slope;
    tempC -= byC;
    if (Math.abs(byC) < NEAR_ENOUGH_C) break;
  }
  return tempC;
}

function valueAt(polynomial: Polynomial, x: number): number {
  return polynomial.reduceRight((sum, coefficient) => sum * x + coefficient, 0);
}
