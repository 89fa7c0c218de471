/** All that the engine remembers of a run: plain data with a version, safe to write down and read back. */
import { NO_BELIEF } from './bowl/belief.ts';
import type { Belief } from './bowl/belief.ts';
import type { Expectations } from './bowl/expectations.ts';
import { MOLTEN_C } from './bowl/stretch.ts';
import { bathsOf } from './learned.ts';
import { plausibleWindowC } from './reading/plausible.ts';
import { type Recognition, recognitionOf } from './reading/recognition.ts';
import { ENGINE_VERSION } from './record/run.ts';
import type { Condition } from './record/command.ts';
import type { Profile } from './record/profile.ts';
import type { RunHeader } from './record/run.ts';
import { UNSTARTED } from './watch/watch.ts';
import type { Watch } from './watch/watch.ts';

export interface State {
  /** ENGINE_VERSION of the engine that made it: another engine must step from the start instead. */
  readonly version: number;
  readonly header: RunHeader;
  readonly expectations: Expectations;
  readonly belief: Readonly<Belief>;
  readonly watch: Readonly<Watch>;
  /** Number of the last event; 0 before the first. */
  readonly seq: number;
  /** Moment of the first input; null before it. The forecast's half-second grid counts from here. */
  readonly startedAtMs: number | null;
  /** Moment of the last recorded input. */
  readonly atMs: number;
  /** Lines and values not used, by reason. */
  readonly rejected: Readonly<Record<string, number>>;
  /** The newest line as it came, shortened; null before the first. */
  readonly lastLine: string | null;
  /** How the thermometer's lines are read. */
  readonly recognition: Recognition;
  /** The same of each companion that has spoken, by source. */
  readonly beside: Readonly<Record<string, Recognition>>;
  readonly ended: boolean;
}

export function initialState(header: RunHeader): State {
  return {
    version: ENGINE_VERSION,
    header,
    expectations: expectationsOf(header),
    belief: NO_BELIEF,
    watch: UNSTARTED,
    seq: 0,
    startedAtMs: null,
    atMs: 0,
    rejected: {},
    lastLine: null,
    recognition: recognitionOf(header.format),
    beside: {},
    ended: false,
  };
}

export function expectationsOf({ profile, condition, probeLagS, learned }: RunHeader): Expectations {
  return {
    plausibleC: plausibleWindowC(profile),
    lowestBoundC: Math.min(...profile.phases.flatMap(({ bandC, floorC }) => [...bandC, floorC ?? Infinity])),
    lagS: probeLagS,
    baths: bathsOf(learned),
    wallS: learned?.coastS ?? null,
    melting: meltingOf(profile, condition),
  };
}

/** Temperatures as they are published and judged: to the hundredth, so that a log does not hang on the last bits of a float. */
export function hundredth(valueC: number): number {
  return Math.round(valueC * 100) / 100;
}

/** A profile that never goes over what crystals stand has no end of melting to wait for. */
function meltingOf({ phases }: Profile, condition: Condition | null): Expectations['melting'] {
  const meltsOut = phases.some(({ bandC }) => bandC[0] > MOLTEN_C);
  if (!meltsOut || condition === 'melted' || condition === 'tempered') return 'none';
  return condition === 'solid' ? 'solid' : 'perhaps';
}
