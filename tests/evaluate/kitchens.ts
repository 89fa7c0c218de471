/**
 * The kitchens that the figures are taken from: seeded bowls, people, probes and mishaps, with the truth kept beside
 * what the probe said. The tuning seeds and the report seeds never meet.
 */
import { bowlOf, filled, STOCK_MELTING, type Kitchen } from '../../server/source/kitchen/bowl.ts';
import { TICK_S } from '../../server/source/kitchen/bench.ts';
import { chance, type Chance } from '../../server/source/kitchen/chance.ts';
import { courseOf, type Course } from '../../server/source/kitchen/course.ts';
import { habitsOf, handled, type Handling } from '../../server/source/kitchen/handling.ts';
import { sampled, type Mishap, type ProbeMake, type Sample } from '../../server/source/kitchen/probe.ts';
import { ENGINE_VERSION, NO_CORRECTION, type RunHeader } from '../../server/core/record/run.ts';
import type { Profile } from '../../server/core/record/profile.ts';

export const SEED_SETS = { tuning: 1_000, report: 1_000_000 } as const;
export type SeedSet = keyof typeof SEED_SETS;

/** A run with its truth. */
export interface Case {
  readonly seed: number;
  readonly handling: Handling;
  readonly profile: Profile;
  readonly header: RunHeader;
  readonly course: Course;
  readonly samples: readonly Sample[];
  readonly mishaps: readonly Mishap[];
  readonly probe: ProbeMake;
  readonly hz: number;
  readonly hours: number;
}

/** Longest run, s: three hours of dipping are the most that the job knows. */
const LONGEST_S = 4 * 3600;
/** Share of each handling: half of the runs are well handled, as most days are. */
const HANDLING_TURN: readonly Handling[] = [
  'well',
  'overshoots',
  'well',
  'drifts',
  'under-cools',
  'grazes',
  'recovers',
  'well',
  'undershoots',
  'overshoots',
  'cycles',
  'loses',
];

export function caseOf(seed: number, turn: number, profiles: readonly Profile[]): Case {
  const luck = chance(seed);
  const profile = profiles[turn % profiles.length];
  const handling = HANDLING_TURN[Math.floor(turn / profiles.length) % HANDLING_TURN.length];
  if (profile === undefined || handling === undefined) throw new RangeError('no profile or handling for this turn');
  const kitchen = kitchenOf(luck);
  const habits = habitsOf(luck);
  const course = courseOf(kitchen, (bench) => handled({ handling, profile, habits, bench, chance: luck }), LONGEST_S);
  const seconds = course.kitchens.length * TICK_S;
  const probe = probeOf(luck);
  const mishaps = mishapsOf(luck, seconds);
  const hz = luck.logBetween(0.5, 10);
  const samples = sampled(
    { course: course.kitchens, gridS: TICK_S, make: probe, mishaps },
    momentsOf(luck, hz, seconds),
    luck,
  );
  const header: RunHeader = {
    engine: ENGINE_VERSION,
    profile,
    condition: kitchen.solidKg > 0 ? 'solid' : 'melted',
    probeLagS: probe.lagS * luck.between(0.8, 1.2),
    correction: NO_CORRECTION,
    roles: {},
    decimalComma: false,
  };
  return { seed, handling, profile, header, course, samples, mishaps, probe, hz, hours: seconds / 3600 };
}

function kitchenOf(luck: Chance): Kitchen {
  const kg = luck.logBetween(0.3, 5);
  const steel = luck.happens(0.65);
  const bowl = bowlOf({
    kg,
    wall: steel ? 'steel' : 'glass',
    thicknessMm: steel ? luck.between(0.7, 1.5) : luck.between(3, 6),
    stirWPerM2K: luck.logBetween(45, 200),
    waterWPerM2K: luck.between(200, 500),
  });
  const solid = luck.happens(0.8);
  const latentJPerKg = luck.pick([46_000, 44_000]);
  const tempC = solid ? luck.between(20, 26) : luck.between(36, 41);
  return filled(bowl, { kg, tempC, solid }, luck.between(18, 24), { ...STOCK_MELTING, latentJPerKg });
}

function probeOf(luck: Chance): ProbeMake {
  return {
    lagS: luck.between(1, 12),
    stepC: luck.pick([0.01, 0.01, 0.0625, 0.1, 0.1, 0.25]),
    swirlS: luck.between(2, 9),
    calmC: luck.between(0.03, 0.06),
    swirlPerC: luck.between(0.01, 0.03),
  };
}

function momentsOf(luck: Chance, hz: number, seconds: number): number[] {
  const moments: number[] = [];
  const unevenness = luck.pick([0, 0.1, 0.3]);
  for (let atS = 0; atS < seconds; atS += (1 + unevenness * luck.between(-1, 1)) / hz) {
    moments.push(Math.round(atS * 1000) / 1000);
  }
  return moments;
}

/** Two runs in three have their mishaps; the third is calm. */
function mishapsOf(luck: Chance, seconds: number): Mishap[] {
  if (luck.happens(1 / 3)) return [];
  const mishaps: Mishap[] = [];
  const times = (perHour: number): number[] => {
    const count = Math.floor((perHour * seconds) / 3600 + luck.unit());
    return Array.from({ length: count }, () => luck.between(60, seconds - 60));
  };
  for (const fromS of times(1)) {
    const longS = luck.happens(0.12) ? luck.between(65, 180) : luck.between(5, 45);
    mishaps.push({
      kind: 'lifted',
      fromS,
      toS: fromS + longS,
      mediumC: luck.between(18, 24),
      lagS: luck.between(10, 40),
    });
  }
  for (const fromS of times(0.7)) {
    mishaps.push({
      kind: 'gun',
      fromS,
      toS: fromS + luck.between(5, 25),
      mediumC: luck.between(75, 110),
      lagS: luck.between(6, 15),
    });
  }
  for (const fromS of times(1)) mishaps.push({ kind: 'gap', fromS, toS: fromS + luck.logBetween(3, 120) });
  for (const fromS of times(0.4)) mishaps.push({ kind: 'stuck', fromS, toS: fromS + luck.between(15, 60) });
  for (const atS of times(4)) mishaps.push({ kind: 'spike', atS, byC: luck.between(1, 25) * luck.pick([-1, 1]) });
  for (const atS of times(0.3)) mishaps.push({ kind: 'power-on', atS });
  return mishaps;
}
