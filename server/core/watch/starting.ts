/**
 * When a run begins by itself: the chocolate's profile is chosen, somebody said how it stands, and it warms or is warm.
 * Knows nothing of clocks or of whether the answer was given by a tap or a flag.
 */
import type { Condition } from '../record/command.ts';
import type { Phase, Profile } from '../record/profile.ts';
import { firstDownIndex, nearEdgeC, phaseIndex } from '../show/course.ts';

/** How far above its lowest the chocolate must have risen to be warming, °C (ours: ten times a probe's noise, half a minute of a bath). */
const RISEN_C = 0.5;
/** Chocolate at or above this is warm: no room fit for this work (18–22 °C) takes it there, °C (ours). */
const WARM_C = 27;

/** What has been seen of the chocolate since the choice was made, °C. */
export interface Waiting {
  readonly tempC: number;
  /** Its lowest estimate since then. */
  readonly lowestC: number;
}

/** How it was said to stand: in words, or by naming the phase it is in. */
export type Answer = { readonly condition: Condition } | { readonly startAt: string };

/**
 * The id of the phase to begin the run at, or null while it is too early. A `startAt` the profile does not have gives null.
 * The profile has at least one phase.
 */
export function phaseToStart(profile: Profile, answer: Answer, seen: Waiting): string | null {
  const warms = seen.tempC >= WARM_C || seen.tempC - seen.lowestC >= RISEN_C;
  if (!warms) return null;
  if ('startAt' in answer) return phaseIndex(profile, answer.startAt) < 0 ? null : answer.startAt;
  return phaseFor(profile, answer.condition, seen.tempC).id;
}

/** The phase that chocolate of this condition and temperature stands at. */
export function phaseFor(profile: Profile, condition: Condition, tempC: number | null): Phase {
  switch (condition) {
    case 'solid':
      return melting(profile);
    case 'melted':
      return isThroughMelting(profile, tempC) ? cooling(profile) : melting(profile);
    case 'tempered':
      return profile.phases.find((phase) => phase.heading === 'hold') ?? profile.phases.at(-1)!;
  }
}

/** What somebody says of the chocolate by naming the phase it is in. */
export function conditionAt(phase: Phase): Condition {
  switch (phase.heading) {
    case 'up':
      return 'solid';
    case 'down':
      return 'melted';
    case 'hold':
      return 'tempered';
  }
}

/** Liquid is not yet melted: below the melt's near edge old crystals may be left, and the melt has to be finished first. */
function isThroughMelting(profile: Profile, tempC: number | null): boolean {
  return tempC !== null && tempC >= nearEdgeC(melting(profile));
}

function melting(profile: Profile): Phase {
  return profile.phases.find((phase) => phase.heading === 'up') ?? profile.phases[0]!;
}

function cooling(profile: Profile): Phase {
  return profile.phases[firstDownIndex(profile)] ?? profile.phases.at(-1)!;
}
