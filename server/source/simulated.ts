/**
 * The simulated bowl: a small bowl of chocolate, worked well along a profile in real time, with a plain thermometer in
 * it. Gives raw lines as a thermometer would; what becomes of them, and what the engine says, it never learns.
 */
import { setUp, TICK_S, type RunningBench } from './kitchen/bench.ts';
import { bowlOf, filled, type Kitchen } from './kitchen/bowl.ts';
import { chance, type Chance } from './kitchen/chance.ts';
import { handled, type Habits } from './kitchen/handling.ts';
import { inSteps, swirlAfter, swirlC, tipAfter, type ProbeMake } from './kitchen/probe.ts';
import type { Hands } from './kitchen/hands.ts';
import type { Clock, Source, SourceListener } from './source.ts';
import type { Profile } from '../core/record/profile.ts';

export const SIMULATED_SOURCE = 'simulated-bowl';

/** A reading every half second, as many plain thermometers give. */
const READING_MS = TICK_S * 1000;
/** After a longer sleep of the machine the bowl goes on from where it was, ms. Ours. */
const LONGEST_CATCH_UP_MS = 600_000;
/** A bowl begun longer ago than this is worked from then on, ms. Ours: two seconds of the machine's time. */
const LONGEST_BEFORE_MS = 6 * 3_600_000;

/** A thermometer of good make: a thin tip, steps of a sixteenth of a degree. */
const PROBE: ProbeMake = { lagS: 4, stepC: 0.0625, swirlS: 4, calmC: 0.03, swirlPerC: 0.008 };

/** Baths that take this small bowl through melting in about seven minutes and through the rest in about fourteen. */
const HABITS: Habits = {
  meltBath: { tempC: 70, settleS: Infinity },
  coldBath: { tempC: 15, settleS: Infinity },
  rewarmBath: { tempC: 36, settleS: Infinity },
  reheatBath: { tempC: 39, settleS: Infinity },
  patienceS: [15, 35],
  workS: Infinity,
  topUps: [],
};
const ROOM_C = 20;
const KG = 0.3;
/** Left by the stove while the bench was set up: softening at the edges already. */
const START_C = 26;
const STILL_SOLID = 0.5;

export interface SimulatedOptions {
  readonly clock: Clock;
  /** The curve that the hands at the simulated bowl follow. */
  readonly profile: Profile;
  /** What its lines carry; absent: the usual name. */
  readonly id?: string;
  /** The same seed works the same bowl. */
  readonly seed: number;
  /** Feed clock at which the bowl was begun, where it goes on from an earlier start; absent: now. */
  readonly begunAtMs?: number;
}

/** A source that needs no thermometer. It starts with the chocolate solid, and goes on working the bowl until it is closed. */
export function simulatedSource({ clock, profile, id = SIMULATED_SOURCE, seed, begunAtMs }: SimulatedOptions): Source {
  let bowl = workedBowl(profile, chance(seed));
  let heard: SourceListener | null = null;
  let tickedMs = 0;
  let timer: NodeJS.Timeout | null = null;
  let closed = false;

  function run(listener: SourceListener): void {
    const startMs = clock.nowMs();
    heard = listener;
    tickedMs = Math.max(begunAtMs ?? startMs, startMs - LONGEST_BEFORE_MS);
    for (; tickedMs + READING_MS <= startMs; tickedMs += READING_MS) bowl.tick();
    listener.link({ state: 'simulated' });
    listener.input({ atMs: startMs, source: id, kind: 'link', up: true });
    timer = setInterval(() => {
      const atMs = clock.nowMs();
      tickedMs = Math.max(tickedMs, atMs - LONGEST_CATCH_UP_MS);
      for (; tickedMs + READING_MS <= atMs; tickedMs += READING_MS) bowl.tick();
      listener.input({ atMs, source: id, kind: 'line', text: bowl.readingC().toFixed(2) });
    }, READING_MS);
  }

  return {
    id,
    simulated: true,
    start(listener) {
      if (timer === null && !closed) run(listener);
    },
    beginAnew(next) {
      bowl = workedBowl(next, chance(seed));
      if (timer === null) return;
      const atMs = clock.nowMs();
      tickedMs = atMs;
      for (const up of [false, true]) heard?.input({ atMs, source: id, kind: 'link', up });
    },
    close() {
      closed = true;
      if (timer !== null) clearInterval(timer);
      timer = null;
      return Promise.resolve();
    },
  };
}

/** A bowl, the hands at it and the probe in it, tick by tick. */
export interface WorkedBowl {
  tick(): void;
  /** What the thermometer says, °C. */
  readingC(): number;
  /** What the chocolate is, °C, and what the hands are doing: for tests. */
  truth(): { readonly chocolateC: number; readonly phase: string };
}

export function workedBowl(profile: Profile, luck: Chance): WorkedBowl {
  const bench = setUp(atTheStart());
  const hands = handled({ handling: 'well', profile, habits: HABITS, bench, chance: luck });
  let tipC = bench.now().chocolateC;
  let swirl = luck.normal();
  return {
    tick() {
      const beforeC = bench.now().chocolateC;
      oneTick(bench, hands);
      tipC = tipAfter(tipC, beforeC, bench.now().chocolateC, PROBE.lagS, TICK_S);
      swirl = swirlAfter(swirl, PROBE.swirlS, TICK_S, luck);
    },
    readingC: () => inSteps(tipC + swirl * swirlC(PROBE, bench.now()), PROBE.stepC),
    truth: () => ({ chocolateC: bench.now().chocolateC, phase: bench.phase() }),
  };
}

/** Where the profile has no phase to hold in, the hands are done at its end and the bowl stands in the room. */
function oneTick(bench: RunningBench, hands: Hands): void {
  hands.next();
  bench.tick();
}

function atTheStart(): Kitchen {
  const bowl = bowlOf({ kg: KG, wall: 'steel', thicknessMm: 0.7, stirWPerM2K: 200, waterWPerM2K: 450 });
  const solid = filled(bowl, { kg: KG, tempC: START_C, solid: true }, ROOM_C);
  return { ...solid, solidKg: KG * STILL_SOLID };
}
