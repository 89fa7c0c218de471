/**
 * How a story is told: a small simulated bowl and its hands, the thermometer's raw lines, and what else came in.
 * Everything is seeded; the same story comes out on every machine.
 */
import { ENGINE_VERSION, NO_CORRECTION, type RunHeader } from '../../../server/core/record/run.ts';
import type { Command, Condition } from '../../../server/core/record/command.ts';
import type { RecordedInput } from '../../../server/core/record/input.ts';
import { phaseIndex } from '../../../server/core/show/course.ts';
import type { Profile } from '../../../server/core/record/profile.ts';
import { TICK_S, type Bench } from '../../../server/source/kitchen/bench.ts';
import { bowlOf, filled, type Kitchen } from '../../../server/source/kitchen/bowl.ts';
import { chance } from '../../../server/source/kitchen/chance.ts';
import { courseOf, type Course } from '../../../server/source/kitchen/course.ts';
import { handled, type Habits, type Handling } from '../../../server/source/kitchen/handling.ts';
import { sampled, type Mishap, type ProbeMake } from '../../../server/source/kitchen/probe.ts';

export interface Story {
  readonly name: string;
  /** What it shows, in a sentence. */
  readonly shows: string;
  readonly header: RunHeader;
  readonly inputs: readonly RecordedInput[];
}

/** A moment of the run, s, from its course: `when.phase('cool') + 30`. */
export interface When {
  /** When the hands turned to this phase for the first time. */
  phase(id: string): number;
  /** When the chocolate first went over this (up) from the moment given, or under it (down); NaN if never. */
  over(limitC: number, fromS: number): number;
  /** When the bowl was last taken off the heat before this moment. */
  offHeat(beforeS: number): number;
  readonly endS: number;
}

export interface Telling {
  readonly name: string;
  readonly shows: string;
  readonly profile: Profile;
  readonly handling: Handling;
  readonly seed: number;
  readonly condition?: Condition;
  /** Phase it starts at; absent: the first. */
  readonly startAt?: string;
  readonly habits?: Partial<Habits>;
  readonly mishaps?: (when: When) => readonly Mishap[];
  /** Inputs besides the thermometer's lines. */
  readonly also?: (when: When) => readonly RecordedInput[];
  /** The line that says this temperature, as this thermometer puts it. */
  readonly line?: (valueC: number, index: number) => string;
}

export const STORY_SOURCE = 'story-thermometer';
const PERSON = 'ana';

/** A reading every second keeps a story of half an hour under 150 KB. */
const EVERY_S = 1;
const LONGEST_S = 5400;
const ROOM_C = 20;
const KG = 0.3;
const PROBE: ProbeMake = { lagS: 4, stepC: 0.0625, swirlS: 4, calmC: 0.03, swirlPerC: 0.012 };

const HABITS: Habits = {
  meltBath: { tempC: 70, settleS: Infinity },
  coldBath: { tempC: 15, settleS: Infinity },
  rewarmBath: { tempC: 37, settleS: Infinity },
  reheatBath: { tempC: 39, settleS: Infinity },
  patienceS: [25, 50],
  workS: 600,
  topUps: [],
};

export function told(telling: Telling): Story {
  const { profile, seed } = telling;
  const luck = chance(seed);
  const startAt = telling.startAt ?? profile.phases[0]?.id ?? '';
  const habits = { ...HABITS, ...telling.habits };
  const from = phaseIndex(profile, startAt);
  const work = (bench: Bench) => handled({ handling: telling.handling, profile, habits, bench, chance: luck }, from);
  const course = courseOf(kitchenFor(telling), work, LONGEST_S);
  const when = whenOf(course);
  const mishaps = telling.mishaps?.(when) ?? [];
  const moments = Array.from({ length: Math.floor(when.endS / EVERY_S) }, (_, index) => 0.5 + index * EVERY_S);
  const samples = sampled({ course: course.kitchens, gridS: TICK_S, make: PROBE, mishaps }, moments, luck);
  const line = telling.line ?? ((valueC: number) => valueC.toFixed(2));
  const inputs: RecordedInput[] = [
    { atMs: 0, source: STORY_SOURCE, kind: 'link', up: true },
    command(0, { name: 'start', phase: startAt }),
    ...samples.map(({ atS, valueC }, index) => lineAt(atS, line(valueC, index))),
    ...(telling.also?.(when) ?? []),
  ];
  inputs.sort((one, other) => one.atMs - other.atMs);
  inputs.push({ atMs: Math.round(when.endS * 1000), source: STORY_SOURCE, kind: 'end' });
  const header: RunHeader = {
    engine: ENGINE_VERSION,
    profile,
    condition: telling.condition ?? 'solid',
    probeLagS: PROBE.lagS,
    correction: NO_CORRECTION,
    roles: {},
    decimalComma: null,
  };
  return { name: telling.name, shows: telling.shows, header, inputs };
}

export function lineAt(atS: number, text: string): RecordedInput {
  return { atMs: Math.round(atS * 1000), source: STORY_SOURCE, kind: 'line', text };
}

export function linkAt(atS: number, up: boolean, why?: string): RecordedInput {
  const input = { atMs: Math.round(atS * 1000), source: STORY_SOURCE, kind: 'link', up } as const;
  return why === undefined ? input : { ...input, why };
}

export function command(atS: number, what: Command): RecordedInput {
  return { atMs: Math.round(atS * 1000), source: PERSON, kind: 'command', command: what };
}

/** A thin steel bowl, scraped all the time: the run is over in half an hour. */
function kitchenFor({ profile, condition, startAt }: Telling): Kitchen {
  const bowl = bowlOf({ kg: KG, wall: 'steel', thicknessMm: 0.7, stirWPerM2K: 200, waterWPerM2K: 450 });
  if (condition !== 'tempered') return filled(bowl, { kg: KG, tempC: 23, solid: true }, ROOM_C);
  const band = profile.phases.find((phase) => phase.id === startAt)?.bandC ?? [31, 32];
  return filled(bowl, { kg: KG, tempC: (band[0] + band[1]) / 2, solid: false }, ROOM_C);
}

function whenOf(course: Course): When {
  const { kitchens, phases } = course;
  return {
    endS: kitchens.length * TICK_S,
    phase: (id) => orNaN(phases.indexOf(id)) * TICK_S,
    over: (limitC, fromS) =>
      orNaN(kitchens.findIndex((kitchen, tick) => tick * TICK_S >= fromS && kitchen.chocolateC > limitC)) * TICK_S,
    offHeat: (beforeS) => {
      const isOff = (tick: number): boolean =>
        kitchens[tick]?.around.kind === 'air' && kitchens[tick - 1]?.around.kind === 'hot-bath';
      let tick = Math.floor(beforeS / TICK_S);
      while (tick > 0 && !isOff(tick)) tick -= 1;
      return tick * TICK_S;
    },
  };
}

function orNaN(index: number): number {
  return index < 0 ? Number.NaN : index;
}
