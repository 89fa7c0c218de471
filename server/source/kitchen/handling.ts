/**
 * People at the bowl: one who follows the profile well, and those who go wrong in the ways people do. They know the
 * truth of the bowl and the profile; they never hear the engine. Any profile will do: phases count by heading and place.
 */
import { firstDownIndex } from '../../core/show/course.ts';
import { onLostIndex } from '../../core/show/profile-limits.ts';
import type { Phase, Profile } from '../../core/record/profile.ts';
import { roomAir } from './bowl.ts';
import type { Bench } from './bench.ts';
import type { Chance } from './chance.ts';
import {
  coolTo,
  creepTo,
  keep,
  topUp,
  wait,
  warmByTurnsTo,
  warmTo,
  type BathHabit,
  type Hands,
  type Window,
} from './hands.ts';

export const HANDLINGS = [
  /** Takes it off at the right moment, coasts into the bands, short reheats. */
  'well',
  /** As well, but lands between the working band and its ceiling and dips there for a while. */
  'grazes',
  /** Heats by turns, on and off. */
  'cycles',
  /** Rewarms past the ceiling, then stirs down. */
  'overshoots',
  /** Leaves it on a lukewarm bath while dipping: creeps over the ceiling. */
  'drifts',
  /** Turns back to the heat before the seeding band was reached. */
  'under-cools',
  /** Cools below the floor. */
  'undershoots',
  /** Heats until no seed is left and carries on regardless. */
  'loses',
  /** The same, but goes back to where the profile says and tempers again. */
  'recovers',
] as const;
export type Handling = (typeof HANDLINGS)[number];

/** Baths and times of one person on one day. */
export interface Habits {
  readonly meltBath: BathHabit;
  readonly coldBath: BathHabit;
  readonly rewarmBath: BathHabit;
  readonly reheatBath: BathHabit;
  /** Waited in a band beyond what the profile asks for, s, from and to. */
  readonly patienceS: readonly [number, number];
  /** How long they dip, s. */
  readonly workS: number;
  /** What is poured in while dipping, and when, s after it began. */
  readonly topUps: readonly { readonly afterS: number; readonly dropC: number; readonly tempC: number }[];
}

/** A day's habits within what kitchens do: baths of 10–22 °C and 35–70 °C, dipping for 20 to 90 minutes. */
export function habitsOf(chance: Chance): Habits {
  const workS = chance.between(20, 90) * 60;
  const settleS = (): number => (chance.happens(0.5) ? Infinity : chance.between(40, 120) * 60);
  const topUps = chance.happens(0.35)
    ? [{ afterS: chance.between(0.2, 0.6) * workS, dropC: chance.between(0.7, 2.5), tempC: chance.between(22, 26) }]
    : [];
  return {
    meltBath: { tempC: chance.between(54, 70), settleS: Infinity },
    coldBath: { tempC: chance.between(10, 22), settleS: settleS() },
    rewarmBath: { tempC: chance.between(35, 48), settleS: settleS() },
    reheatBath: { tempC: chance.between(36, 46), settleS: settleS() },
    patienceS: [35, 90],
    workS,
    topUps,
  };
}

/** Who works which bowl today, and how. */
export interface Worker {
  readonly handling: Handling;
  readonly profile: Profile;
  readonly habits: Habits;
  readonly bench: Bench;
  readonly chance: Chance;
}

/** Works the bowl along the profile, from the phase at `fromIndex` on, until the dipping is over. */
export function* handled(worker: Worker, fromIndex = 0): Hands {
  const { handling, profile, habits, bench } = worker;
  const firstDown = firstDownIndex(profile);
  for (const [index, phase] of profile.phases.entries()) {
    if (index < fromIndex) continue;
    bench.work(phase.id);
    if (phase.heading === 'down') yield* cool(worker, phase);
    else if (phase.heading === 'hold') yield* dip(worker, phase);
    else if (index < firstDown) yield* melt(worker, phase);
    else if (yield* rewarm(worker, phase)) break;
  }
  if (handling === 'recovers') {
    // Lost once, by now: the second time it is done well.
    const again: Habits = { ...habits, workS: Math.min(habits.workS, SECOND_WORK_S), topUps: [] };
    yield* handled({ ...worker, handling: 'well', habits: again }, onLostIndex(profile));
  }
}
const SECOND_WORK_S = 1200;

function* melt(worker: Worker, phase: Phase): Hands {
  const { habits, bench, chance } = worker;
  const [lowC, highC] = phase.bandC;
  const landC = lowC + (highC - lowC) * chance.between(0.3, 0.75);
  yield* warmTo(bench, landC, { ...habits.meltBath, tempC: Math.max(habits.meltBath.tempC, landC + 7) });
  yield* keep(bench, { fromC: lowC + 0.2, aimC: lowC + 1.2 }, habits.meltBath, dwellS(worker, phase));
}

function* cool(worker: Worker, phase: Phase): Hands {
  const { handling, habits, bench, chance } = worker;
  const [lowC, highC] = phase.bandC;
  if (handling === 'under-cools') {
    yield* coolTo(bench, highC + chance.between(0.5, 1.5), habits.coldBath);
    return yield* wait(bench, chance.between(0, 40));
  }
  const floorC = phase.floorC ?? lowC;
  const landC =
    handling === 'undershoots' ? floorC - chance.between(0.45, 1.5) : lowC + (highC - lowC) * chance.between(0.35, 0.7);
  yield* coolTo(bench, landC, habits.coldBath);
  const window = { fromC: lowC + 0.15, aimC: lowC + (highC - lowC) * 0.6 };
  yield* keep(bench, window, habits.reheatBath, dwellS(worker, phase));
}

/** As long as the profile asks for, and some patience. */
function dwellS({ habits, chance }: Worker, phase: Phase): number {
  return (phase.holdS ?? 0) + chance.between(...habits.patienceS);
}

/** Returns true where the day is over for this bowl: the temper is gone. */
function* rewarm(worker: Worker, phase: Phase): Generator<void, boolean, void> {
  const { handling, habits, bench, chance } = worker;
  const [lowC, highC] = phase.bandC;
  const { ceilingC, lostC } = limitsOf(phase);
  if (handling === 'overshoots') {
    const mostC = chance.happens(0.2) ? FARTHEST_OVER_C : lostC - ceilingC - 0.35;
    yield* warmTo(bench, ceilingC + chance.between(0.25, mostC), habits.rewarmBath);
    yield* stirDown(worker, highC - 0.2);
  } else if (handling === 'cycles') {
    yield* warmByTurnsTo(bench, lowC + (highC - lowC) * chance.between(0.3, 0.8), habits.rewarmBath, chance);
  } else if (handling === 'grazes') {
    yield* warmTo(bench, chance.between(highC + 0.1, ceilingC - 0.2), habits.rewarmBath);
  } else if ((handling === 'loses' || handling === 'recovers') && chance.happens(0.5)) {
    yield* lose(worker, phase);
    return true;
  } else {
    yield* warmTo(bench, lowC + (highC - lowC) * chance.between(0.3, 0.8), habits.rewarmBath);
  }
  yield* keep(bench, keptIn(phase), habits.reheatBath, dwellS(worker, phase));
  return false;
}

/** Nobody who looks at the bowl at all overshoots by more, °C. One in five may: with the seed gone, and none the wiser. */
const FARTHEST_OVER_C = 3;

function* dip(worker: Worker, phase: Phase): Hands {
  const { handling, habits, bench, chance } = worker;
  const { ceilingC, lostC } = limitsOf(phase);
  const troubleAfterS = chance.between(0.15, 0.5) * habits.workS;
  if (handling === 'drifts') {
    yield* keep(bench, keptIn(phase), habits.reheatBath, troubleAfterS);
    const overC = chance.between(0.25, Math.min(1.2, lostC - ceilingC - 0.4));
    yield* creepTo(bench, ceilingC + overC, chance.between(0.3, 1.5), MOST_CREEP_S);
    yield* stirDown(worker, phase.bandC[1] - 0.2);
  }
  if (handling === 'loses' || handling === 'recovers') {
    yield* keep(bench, keptIn(phase), habits.reheatBath, troubleAfterS);
    return yield* lose(worker, phase);
  }
  for (const { afterS, dropC, tempC } of habits.topUps) {
    yield* keep(bench, keptIn(phase), habits.reheatBath, afterS);
    yield* topUp(bench, dropC, tempC);
  }
  const doneS = habits.topUps.reduce((sum, { afterS }) => sum + afterS, 0);
  yield* keep(bench, keptIn(phase), habits.reheatBath, Math.max(0, habits.workS - doneS));
}
const MOST_CREEP_S = 3000;

/** Where a profile sets no limits, the band's upper edge and 2 °C more stand in, °C. */
function limitsOf(phase: Phase): { readonly ceilingC: number; readonly lostC: number } {
  const ceilingC = phase.ceilingC ?? phase.bandC[1];
  return { ceilingC, lostC: phase.lostAboveC ?? ceilingC + 2 };
}

/** Where a working bowl is kept: never below the band, aimed at its upper half. */
function keptIn(phase: Phase): Window {
  const [lowC, highC] = phase.bandC;
  return { fromC: lowC + 0.15 * (highC - lowC), aimC: lowC + 0.7 * (highC - lowC) };
}

function* lose(worker: Worker, phase: Phase): Hands {
  const { handling, habits, bench, chance } = worker;
  const { lostC } = limitsOf(phase);
  const landC = lostC + chance.between(0.5, 1.6);
  yield* warmTo(bench, landC, habits.rewarmBath);
  yield* keep(bench, { fromC: lostC + 0.38, aimC: landC }, habits.rewarmBath, chance.between(75, 150));
  if (handling === 'recovers') return;
  yield* stirDown(worker, phase.bandC[1]);
  yield* wait(bench, 300);
}

/** Off the heat and stirred until it is back: over cold water, or with patience in the room's air. */
function* stirDown({ habits, bench, chance }: Worker, toC: number): Hands {
  if (chance.happens(0.5)) return yield* coolTo(bench, toC, habits.coldBath);
  bench.place(roomAir(bench.now().roomC));
  const untilS = bench.atS() + MOST_PATIENCE_S;
  while (bench.now().chocolateC > toC && bench.atS() < untilS) yield;
}
const MOST_PATIENCE_S = 900;
