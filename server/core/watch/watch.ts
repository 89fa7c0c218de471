/** What the watch remembers between readings, and the turn in which it is changed. Plain data; no rule is made here. */
import type { CueName, EventBody, Standing, StandingReason } from '../record/event.ts';
import type { Phase, Profile } from '../record/profile.ts';
import type { Alarms } from './alarms.ts';

/** A step works in place on its own copy (`copyWatch`). */
export interface Watch {
  /** Position in the profile; null before the run has started. */
  phase: number | null;
  enteredAtMs: number;
  /** The phase left for it; null at the start. Its bounds stay armed until the direction has turned. */
  left: number | null;
  /** Since when the near edge has stayed reached; null while it is not. */
  dwellSinceMs: number | null;
  /** Since when nobody has seen it left again, though not every moment was seen: gaps count. null: it is not reached, or was left. */
  keptSinceMs: number | null;
  /** It has been kept for the time it needs, or nobody saw that it was not. */
  perhapsKept: boolean;
  /** Whether the near edge has been reached at all in this phase. */
  bandReached: boolean;
  /** Whether the direction has turned since the phase was entered: until then bounds of the phase before stay armed. */
  turned: boolean;
  /** Last reading that was judged, milliseconds. */
  judgedAtMs: number | null;
  /** Highest estimate of this phase, °C. */
  highestC: number | null;
  /** Lowest estimate of a `down` phase since it has turned and fallen, °C. */
  lowestC: number | null;
  /** A `down` phase has been satisfied, and temper not lost since. */
  seeded: boolean;
  /** Since then the estimate has been under every phase's lost limit: only then is a limit of another phase armed. */
  coolEnough: boolean;
  alarms: Alarms;
  /** The last of each cue, with the rate it was given at. */
  cues: Readonly<Partial<Record<CueName, SpentCue>>>;
  /** Since when there has been no progress towards the band; null while there is. */
  stalledSinceMs: number | null;
  /** Since when the reading does not stand for the bowl; null while it does. */
  unmixedSinceMs: number | null;
  toppedUpAtMs: number | null;
  stripDueAtMs: number | null;
  standing: Standing;
  why: StandingReason;
  /** Degrees times seconds above the working ceiling since it was last proven. */
  doseCS: number;
  /** Since when the estimate has been in the lower half of the working band; null while it is not. */
  lowSinceMs: number | null;
  /** Temper was lost earlier in this run. */
  wasLost: boolean;
  /** The probe's being out has been told. */
  outTold: boolean;
  /** Last half-second of the forecast's grid that was looked at. */
  gridAt: number;
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

export const UNSTARTED: Readonly<Watch> = {
  phase: null,
  enteredAtMs: 0,
  left: null,
  dwellSinceMs: null,
  keptSinceMs: null,
  perhapsKept: false,
  bandReached: false,
  turned: false,
  judgedAtMs: null,
  highestC: null,
  lowestC: null,
  seeded: false,
  coolEnough: false,
  alarms: {},
  cues: {},
  stalledSinceMs: null,
  unmixedSinceMs: null,
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

export function copyWatch(w: Readonly<Watch>): Watch {
  return {
    phase: w.phase,
    enteredAtMs: w.enteredAtMs,
    left: w.left,
    dwellSinceMs: w.dwellSinceMs,
    keptSinceMs: w.keptSinceMs,
    perhapsKept: w.perhapsKept,
    bandReached: w.bandReached,
    turned: w.turned,
    judgedAtMs: w.judgedAtMs,
    highestC: w.highestC,
    lowestC: w.lowestC,
    seeded: w.seeded,
    coolEnough: w.coolEnough,
    alarms: w.alarms,
    cues: w.cues,
    stalledSinceMs: w.stalledSinceMs,
    unmixedSinceMs: w.unmixedSinceMs,
    toppedUpAtMs: w.toppedUpAtMs,
    stripDueAtMs: w.stripDueAtMs,
    standing: w.standing,
    why: w.why,
    doseCS: w.doseCS,
    lowSinceMs: w.lowSinceMs,
    wasLost: w.wasLost,
    outTold: w.outTold,
    gridAt: w.gridAt,
  };
}

/** One step's work on the watch, and its voice: what is said is said in order. */
export interface Turn {
  readonly atMs: number;
  readonly profile: Profile;
  readonly watch: Watch;
  say(body: EventBody): void;
}

/** The phase the turn is in. Call only when the run has started. */
export function currentPhase(turn: Turn): Phase {
  return turn.profile.phases[turn.watch.phase!]!;
}
