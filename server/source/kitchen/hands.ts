/**
 * Single moves at the bench: warm until it carries, cool until it carries, keep warm, top up, leave on a lukewarm bath.
 * Each is a walk through time: one yield is one tick. They know the truth of the bowl; nothing of the engine.
 */
import { carriesDownTo, carriesUpTo, COAST_S, TICK_S, type Bench } from './bench.ts';
import { LIQUID_J_PER_KG_K, roomAir, type Kitchen, type Surroundings } from './bowl.ts';
import type { Chance } from './chance.ts';

/** Something done over time at a bench; every yield lets one tick pass. */
export type Hands = Generator<void, void, void>;

/** Less than this in so many seconds is no progress: the bath is renewed by so much. Ours. */
const STALLED_C = 0.3;
const STALLED_S = 240;
const HOTTER_C = 6;
const COLDER_C = 4;
const COLDEST_BATH_C = 8;
/** A bath with no flame under it goes to room temperature within about this, s. */
export interface BathHabit {
  readonly tempC: number;
  /** Time constant of the bath itself; Infinity: kept. */
  readonly settleS: number;
}

export function hotBath(habit: BathHabit, roomC: number): Surroundings {
  return { kind: 'hot-bath', tempC: habit.tempC, settlesAtC: roomC, settleS: habit.settleS };
}

export function coldBath(habit: BathHabit, roomC: number): Surroundings {
  return { kind: 'cold-bath', tempC: habit.tempC, settlesAtC: roomC, settleS: habit.settleS };
}

export function* wait(bench: Bench, seconds: number): Hands {
  const untilS = bench.atS() + seconds;
  while (bench.atS() < untilS) yield;
}

/** On the bath until the coast carries to `landC`, then off it until the coast is over. */
export function* warmTo(bench: Bench, landC: number, bath: BathHabit): Hands {
  let tempC = Math.max(bath.tempC, landC + 2);
  bench.place(hotBath({ ...bath, tempC }, bench.now().roomC));
  let sinceS = bench.atS();
  let fromC = bench.now().chocolateC;
  while (!carriesUpTo(bench.now(), landC)) {
    yield;
    if (bench.atS() - sinceS < STALLED_S) continue;
    if (bench.now().chocolateC - fromC < STALLED_C) {
      tempC += HOTTER_C;
      bench.place(hotBath({ ...bath, tempC }, bench.now().roomC));
    }
    sinceS = bench.atS();
    fromC = bench.now().chocolateC;
  }
  yield* coastInAir(bench, 'up');
}

/** The same by fits and starts: some seconds on the heat, some off it, until it carries. */
export function* warmByTurnsTo(bench: Bench, landC: number, bath: BathHabit, chance: Chance): Hands {
  while (!carriesUpTo(bench.now(), landC)) {
    bench.place(hotBath({ ...bath, tempC: Math.max(bath.tempC, landC + 4) }, bench.now().roomC));
    const offAtS = bench.atS() + chance.between(15, 45);
    while (bench.atS() < offAtS && !carriesUpTo(bench.now(), landC)) yield;
    bench.place(roomAir(bench.now().roomC));
    yield* wait(bench, chance.between(12, 35));
  }
  yield* coastInAir(bench, 'up');
}

/** On the cold until the coast carries down to `landC`, then out of it until the wall has evened out. */
export function* coolTo(bench: Bench, landC: number, bath: BathHabit): Hands {
  let tempC = Math.min(bath.tempC, landC - 2);
  bench.place(coldBath({ ...bath, tempC }, bench.now().roomC));
  let sinceS = bench.atS();
  let fromC = bench.now().chocolateC;
  while (!carriesDownTo(bench.now(), landC)) {
    yield;
    if (bench.atS() - sinceS < STALLED_S) continue;
    if (fromC - bench.now().chocolateC < STALLED_C) {
      tempC = Math.max(COLDEST_BATH_C, tempC - COLDER_C);
      bench.place(coldBath({ ...bath, tempC }, bench.now().roomC));
    }
    sinceS = bench.atS();
    fromC = bench.now().chocolateC;
  }
  yield* coastInAir(bench, 'down');
}

function* coastInAir(bench: Bench, heading: 'up' | 'down'): Hands {
  bench.place(roomAir(bench.now().roomC));
  const untilS = bench.atS() + COAST_S[heading];
  let lastC = bench.now().chocolateC;
  while (bench.atS() < untilS) {
    yield;
    const nowC = bench.now().chocolateC;
    const over = heading === 'up' ? nowC < lastC : lastC - nowC < SETTLED_C_PER_S * TICK_S;
    if (over) return;
    lastC = nowC;
  }
}
/** Evened out: it falls no faster than a bowl in the room's air does, °C/s. Ours. */
const SETTLED_C_PER_S = 0.006;

export interface Window {
  /** Back on the heat below this, °C. */
  readonly fromC: number;
  /** Off it so that the coast ends here, °C. */
  readonly aimC: number;
}

/** Keeps the chocolate in a window by short reheats, for so many seconds. */
export function* keep(bench: Bench, window: Window, bath: BathHabit, seconds: number): Hands {
  const untilS = bench.atS() + seconds;
  while (bench.atS() < untilS) {
    if (bench.now().chocolateC < window.fromC) yield* warmTo(bench, window.aimC, bath);
    yield;
  }
}

/** Leaves the bowl on a bath that would end a little above `toC`, until the chocolate has crept there or `longestS` is over. */
export function* creepTo(bench: Bench, toC: number, aboveC: number, longestS: number): Hands {
  const kitchen = bench.now();
  const tempC = bathForC(kitchen, toC + aboveC);
  bench.place(hotBath({ tempC, settleS: Infinity }, kitchen.roomC));
  const untilS = bench.atS() + longestS;
  while (bench.now().chocolateC < toC && bench.atS() < untilS) yield;
  bench.place(roomAir(kitchen.roomC));
}

/** The bath that holds the chocolate at `steadyC` against what the open surface loses, °C. */
function bathForC(kitchen: Kitchen, steadyC: number): number {
  const { bathWPerK, innerWPerK, topWPerK } = kitchen.bowl;
  const throughWPerK = 1 / (1 / bathWPerK + 1 / innerWPerK);
  return steadyC + (topWPerK * (steadyC - kitchen.roomC)) / throughWPerK;
}

/** Pours cooler liquid chocolate in, over some 20 s, so much that it takes `dropC` off. */
export function* topUp(bench: Bench, dropC: number, tempC: number): Hands {
  const kitchen = bench.now();
  const roomToDropC = Math.max(1, kitchen.chocolateC - tempC - dropC);
  const kg = (dropC * kitchen.chocolateJPerK) / (LIQUID_J_PER_KG_K * roomToDropC);
  for (let portion = 0; portion < PORTIONS; portion += 1) {
    bench.pour({ kg: kg / PORTIONS, tempC, solid: false });
    yield* wait(bench, PORTION_S);
  }
}
const PORTIONS = 5;
const PORTION_S = 4;
