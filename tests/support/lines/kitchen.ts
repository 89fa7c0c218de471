/** What the things around a bowl read, moment by moment, for made-up thermometers to write down. Seeded; all of it invented. */

export interface Moment {
  readonly atMs: number;
  /** Number of the line, from 0. */
  readonly n: number;
  readonly chocolateC: number;
  readonly bathC: number;
  readonly roomC: number;
  readonly humidity: number;
  readonly pressureHpa: number;
  readonly batteryV: number;
  readonly rssi: number;
  readonly counts: number;
  readonly setC: number;
}

/** Small, quick, the same everywhere (mulberry32). From 0 up to 1. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

export interface KitchenOptions {
  readonly seed: number;
  readonly lines: number;
  readonly everyMs: number;
  /** How far the probe's readings lie apart while the bowl does nothing, °C. */
  readonly noiseC?: number;
}

export function moments({ seed, lines, everyMs, noiseC = 0.08 }: KitchenOptions): Moment[] {
  const random = seeded(seed);
  const normal = () => random() + random() + random() - 1.5;
  const start = {
    chocolateC: 26 + 18 * random(),
    bathC: 36 + 20 * random(),
    roomC: 18 + 8 * random(),
    humidity: 35 + 25 * random(),
    pressureHpa: 990 + 40 * random(),
  };
  const rateCPerS = (random() - 0.3) / 40;
  const firstN = Math.floor(random() * 400);
  let atMs = 2_000 + Math.floor(random() * 20_000);
  return Array.from({ length: lines }, (_, at) => {
    if (at > 0) atMs += Math.round(everyMs * (1 + 0.04 * normal()));
    const passedS = (at * everyMs) / 1000;
    return {
      atMs,
      n: firstN + at,
      chocolateC: start.chocolateC + rateCPerS * passedS + noiseC * normal(),
      bathC: start.bathC - 0.004 * passedS + 0.1 * normal(),
      roomC: start.roomC + 0.05 * normal(),
      humidity: start.humidity + 0.3 * normal(),
      pressureHpa: start.pressureHpa + 0.1 * normal(),
      batteryV: 3.9 - 0.0001 * passedS,
      rssi: -60 - Math.floor(8 * random()),
      counts: 500 + Math.floor(6 * random()),
      setC: 32,
    };
  });
}
