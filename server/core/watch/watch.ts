/** What the watch remembers between readings, and the turn in which it is changed. Plain data; no rule is made here. */
import type { CueName, EventBody, Standing, StandingReason } from '../record/event.ts';
import type { Phase, Profile } from '../record/profile.ts';
import type { Alarms } from './alarms.ts';

export interface Watch {
  /** Position in the profile; null before the run has started. */
  readonly phase: number | null;
  readonly enteredAtMs: number;
  /** Since when the near edge has stayed reached; null while it is not. */
  readonly dwellSinceMs: number | null;
  /** Whether the near edge has been reached at all in this phase. */
  readonly bandReached: boolean;
  /** Whether the direction has turned since the phase was entered: until then bounds of the phase before stay armed. */
  readonly turned: boolean;
  /** Last reading that was judged, milliseconds. */
  readonly judgedAtMs: number | null;
  /** Lowest estimate of this phase since it turned, °C. */
  readonly lowestC: number | null;
  /** A `down` phase has been satisfied, and temper not lost since. */
  readonly seeded: boolean;
  readonly alarms: Alarms;
  /** The last of each cue, with the rate it was given at. */
  readonly cues: Readonly<Partial<Record<CueName, SpentCue>>>;
  /** Since when there has been no progress towards the band; null while there is. */
  readonly stalledSinceMs: number | null;
  readonly toppedUpAtMs: number | null;
  readonly stripDueAtMs: number | null;
  readonly standing: Standing;
  readonly why: StandingReason;
  /** Degrees times seconds above the working ceiling since it was last proven. */
  readonly doseCS: number;
  /** Since when the estimate has been in the lower half of the working band; null while it is not. */
  readonly lowSinceMs: number | null;
  /** Temper was lost earlier in this run. */
  readonly wasLost: boolean;
  /** The probe's being out has been told. */
  readonly outTold: boolean;
  /** Last half-second of the forecast's grid that was looked at. */
  readonly gridAt: number;
}

export interface SpentCue {
  readonly atMs: number;
  readonly rateCPerS: number;
  /** Milliseconds after `atMs` at which the moment to act comes. */
  readonly inMs: number;
  /** The person said that it was done. */
  readonly heeded: boolean;
  /** The course has changed since: the cue may be given again. */
  readonly done: boolean;
}

export const UNSTARTED: Watch = {
  phase: null,
  enteredAtMs: 0,
  dwellSinceMs: null,
  bandReached: false,
  turned: false,
  judgedAtMs: null,
  lowestC: null,
  seeded: false,
  alarms: {},
  cues: {},
  stalledSinceMs: null,
  toppedUpAtMs: null,
  stripDueAtMs: null,
  standing: 'not-made-yet',
  why: 'seed-not-made',
  doseCS: 0,
  lowSinceMs: null,
  wasLost: false,
  outTold: false,
  gridAt: -1,
};

/** One step's work on the watch: `watch` is replaced, never changed in place, and what is to be said is said in order. */
export interface Turn {
  readonly atMs: number;
  readonly profile: Profile;
  watch: Watch;
  say(body: EventBody): void;
}

/** The phase the turn is in. Call only when the run has started. */
export function currentPhase(turn: Turn): Phase {
  return turn.profile.phases[turn.watch.phase!]!;
}

export function amend(turn: Turn, change: Partial<Watch>): void {
  turn.watch = { ...turn.watch, ...change };
}
