/**
 * The bench a bowl is worked at: where hands put it into a bath, take it out, stir something in, and what they
 * can foresee of it. Time goes on only by `tick`; nothing here knows what the chocolate is meant to do.
 */
import { later, roomAir, settledC, toppedUp, type Kitchen, type Surroundings } from './bowl.ts';

/** How often the bench is looked at, s. */
export const TICK_S = 0.5;
/** Out of the cold the wall evens out within this, s; out of the warmth the peak is past by then. */
export const COAST_S = { up: 240, down: 90 } as const;

export interface Bench {
  /** The kitchen as it is: the truth, not what a probe says. */
  now(): Kitchen;
  /** Seconds since the bench was set up. */
  atS(): number;
  /** Sets the bowl into other surroundings. */
  place(around: Surroundings): void;
  /** Stirs chocolate in. */
  pour(added: { readonly kg: number; readonly tempC: number; readonly solid: boolean }): void;
  /** Says which phase the hands are working on from here. */
  work(phase: string): void;
}

/** A bench and the means to let time pass over it. */
export interface RunningBench extends Bench {
  tick(): void;
  /** The phase the hands said last; empty before. */
  phase(): string;
  /** Moments at which the kitchen was changed, s, in order. */
  changesS(): readonly number[];
}

export function setUp(kitchen: Kitchen): RunningBench {
  let current = kitchen;
  let ticks = 0;
  let phase = '';
  const changesS: number[] = [];
  const changed = (next: Kitchen): void => {
    current = next;
    changesS.push(ticks * TICK_S);
  };
  return {
    now: () => current,
    atS: () => ticks * TICK_S,
    phase: () => phase,
    changesS: () => changesS,
    place: (around) => changed({ ...current, around }),
    pour: (added) => changed(toppedUp(current, added)),
    work(name) {
      phase = name;
    },
    tick() {
      current = later(current, TICK_S);
      ticks += 1;
    },
  };
}

/** How far the chocolate still goes, °C, if the bowl were set into the room's air now: its peak after heat, where it evens out after cold. */
export function coastsToC(kitchen: Kitchen, heading: 'up' | 'down'): number {
  let now: Kitchen = { ...kitchen, around: roomAir(kitchen.roomC) };
  let extremeC = now.chocolateC;
  for (let second = 0; second < COAST_S[heading]; second += 1) {
    now = later(now, 1);
    if (heading === 'up' && now.chocolateC < extremeC) break;
    extremeC = now.chocolateC;
  }
  return extremeC;
}

/** True once taking the bowl off the heat now would still carry the chocolate to `landC`. */
export function carriesUpTo(kitchen: Kitchen, landC: number): boolean {
  // Without losses it settles at the weighted mean: no coast goes beyond that, so most moments need no look ahead.
  return Math.max(settledC(kitchen), kitchen.chocolateC) >= landC && coastsToC(kitchen, 'up') >= landC;
}

/** True once taking the bowl off the cold now would still carry the chocolate down to `landC`. */
export function carriesDownTo(kitchen: Kitchen, landC: number): boolean {
  if (kitchen.chocolateC <= landC) return true;
  return lowestCoastC(kitchen) <= landC && coastsToC(kitchen, 'down') <= landC;
}

/** No coast out of the cold ends lower: evened out with the wall, less all that the room could take meanwhile, °C. */
function lowestCoastC(kitchen: Kitchen): number {
  const { airWPerK, topWPerK, wallJPerK } = kitchen.bowl;
  const lossCPerS =
    ((airWPerK + topWPerK) * Math.max(0, kitchen.chocolateC - kitchen.roomC)) / (wallJPerK + kitchen.chocolateJPerK);
  return settledC(kitchen) - lossCPerS * COAST_S.down;
}
