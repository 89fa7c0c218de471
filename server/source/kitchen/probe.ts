/**
 * The thermometer in the simulated bowl: a tip that follows what it is in with a first-order lag, stirring that moves
 * hotter and colder chocolate past it, steps of the converter, and everything that goes wrong with probes in kitchens.
 * Knows the kitchen's temperatures only; nothing of people or profiles.
 */
import type { Chance } from './chance.ts';
import type { Kitchen } from './bowl.ts';

export interface ProbeMake {
  /** First-order lag in stirred chocolate, 1 to 12 s. */
  readonly lagS: number;
  /** Steps of the converter, 0.01 to 0.25 °C. */
  readonly stepC: number;
  /** How long stirring noise resembles itself, 2 to 9 s. */
  readonly swirlS: number;
  /** Stirring noise with no difference between wall and chocolate, °C, and what each degree of it adds. */
  readonly calmC: number;
  readonly swirlPerC: number;
}

/** Something that befalls the probe, seconds of the run. `lagS`: how fast the tip follows meanwhile. */
export type Mishap =
  /** Out of the bowl, or its tip in warm air from a gun: the tip heads for `mediumC`. */
  | {
      readonly kind: 'lifted' | 'gun';
      readonly fromS: number;
      readonly toS: number;
      readonly mediumC: number;
      readonly lagS: number;
    }
  | { readonly kind: 'gap' | 'stuck'; readonly fromS: number; readonly toS: number }
  | { readonly kind: 'spike'; readonly atS: number; readonly byC: number }
  /** The first value after power came back: this converter's 85.0, once. */
  | { readonly kind: 'power-on'; readonly atS: number };

export const POWER_ON_C = 85;
/** Stirring noise of the reading stays between these, °C (deviation). */
const LEAST_SWIRL_C = 0.03;
const MOST_SWIRL_C = 0.3;

/** The tip after `stepS` in a medium that went evenly from one temperature to another; exact for a first-order lag. */
export function tipAfter(tipC: number, fromC: number, toC: number, lagS: number, stepS: number): number {
  const perS = (toC - fromC) / stepS;
  return toC - perS * lagS + (tipC - fromC + perS * lagS) * Math.exp(-stepS / lagS);
}

/** Carries the noise forward: a first-order random walk back to zero, of deviation 1, correlated over `swirlS`. */
export function swirlAfter(swirl: number, swirlS: number, stepS: number, chance: Chance): number {
  const kept = Math.exp(-stepS / swirlS);
  return swirl * kept + Math.sqrt(1 - kept * kept) * chance.normal();
}

/** Deviation of the stirring noise, °C: it grows with the difference between wall and chocolate. */
export function swirlC(make: ProbeMake, kitchen: Kitchen): number {
  const grown = make.calmC + make.swirlPerC * Math.abs(kitchen.wallC - kitchen.chocolateC);
  return Math.min(MOST_SWIRL_C, Math.max(LEAST_SWIRL_C, grown));
}

/** The nearest step of the converter, °C. */
export function inSteps(valueC: number, stepC: number): number {
  return shortened(Math.round(valueC / stepC) * stepC);
}

function shortened(valueC: number): number {
  return Math.round(valueC * 10_000) / 10_000;
}

/** What the probe said at a moment. */
export interface Sample {
  readonly atS: number;
  readonly valueC: number;
}

/** A probe in a bowl for a whole course: kitchens `gridS` apart, and what befalls it. Of mishaps that overlap the first wins. */
export interface Immersion {
  readonly course: readonly Kitchen[];
  readonly gridS: number;
  readonly make: ProbeMake;
  readonly mishaps: readonly Mishap[];
}

/** What the probe says: one sample per moment of `timesS`, which go forward, without those lost in a gap. */
export function sampled(immersion: Immersion, timesS: readonly number[], chance: Chance): Sample[] {
  const { course, gridS, make, mishaps } = immersion;
  const samples: Sample[] = [];
  let tipC = chocolateAt(course, gridS, 0);
  let swirl = chance.normal();
  let lastS = 0;
  let shownC = inSteps(tipC, make.stepC);
  for (const atS of timesS) {
    if (atS > lastS) {
      tipC = tipThrough(immersion, tipC, lastS, atS);
      swirl = swirlAfter(swirl, make.swirlS, atS - lastS, chance);
    }
    lastS = atS;
    const kitchen = course[Math.min(course.length - 1, Math.floor(atS / gridS))];
    if (kitchen === undefined || happening(mishaps, 'gap', atS)) continue;
    const stirredC = awayAt(mishaps, atS) === undefined ? swirlC(make, kitchen) * swirl : 0;
    if (!happening(mishaps, 'stuck', atS)) shownC = inSteps(tipC + stirredC, make.stepC);
    samples.push({ atS, valueC: mishapsOf(samples.at(-1)?.atS ?? -1, atS, shownC, mishaps) });
  }
  return samples;
}

/** Spikes and the power-on value fall on the first sample at or after their moment. */
function mishapsOf(beforeS: number, atS: number, shownC: number, mishaps: readonly Mishap[]): number {
  let valueC = shownC;
  for (const mishap of mishaps) {
    if (mishap.kind !== 'spike' && mishap.kind !== 'power-on') continue;
    if (mishap.atS <= beforeS || mishap.atS > atS) continue;
    valueC = mishap.kind === 'spike' ? shortened(valueC + mishap.byC) : POWER_ON_C;
  }
  return valueC;
}

function happening(mishaps: readonly Mishap[], kind: Mishap['kind'], atS: number): boolean {
  return mishaps.some((mishap) => mishap.kind === kind && 'fromS' in mishap && mishap.fromS <= atS && atS < mishap.toS);
}

type Away = Extract<Mishap, { kind: 'lifted' | 'gun' }>;

/** What keeps the tip from feeling the chocolate at this moment. */
function awayAt(mishaps: readonly Mishap[], atS: number): Away | undefined {
  return mishaps.find(
    (one): one is Away => (one.kind === 'lifted' || one.kind === 'gun') && one.fromS <= atS && atS < one.toS,
  );
}

/** The tip at a later moment. A long wait is walked in short pieces, so that a mishap inside it is felt. */
function tipThrough({ course, gridS, make, mishaps }: Immersion, tipC: number, fromS: number, toS: number): number {
  let nowC = tipC;
  for (let atS = fromS; atS < toS; atS += gridS) {
    const nextS = Math.min(toS, atS + gridS);
    const away = awayAt(mishaps, atS);
    const [mediumC, mediumToC] = away
      ? [away.mediumC, away.mediumC]
      : [chocolateAt(course, gridS, atS), chocolateAt(course, gridS, nextS)];
    nowC = tipAfter(nowC, mediumC, mediumToC, away?.lagS ?? make.lagS, nextS - atS);
  }
  return nowC;
}

/** Truth between the points of the course, evenly; the last point stands for all that follows. */
export function chocolateAt(course: readonly Kitchen[], gridS: number, atS: number): number {
  const place = Math.max(0, atS / gridS);
  const before = course[Math.min(course.length - 1, Math.floor(place))];
  const after = course[Math.min(course.length - 1, Math.floor(place) + 1)];
  if (before === undefined || after === undefined) return Number.NaN;
  return before.chocolateC + (after.chocolateC - before.chocolateC) * (place - Math.floor(place));
}
