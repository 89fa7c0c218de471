/**
 * Which bounds hold now. By position in the profile, never by a phase's or a coating's name.
 * Bounds of the phase before stay armed until the direction has turned, so that nothing is unwatched across the change.
 */
import type { AlarmName } from '../record/event.ts';
import { firstDownIndex } from '../show/course.ts';
import { lowestLostC } from '../show/profile-limits.ts';
import type { Profile } from '../record/profile.ts';
import type { Watch } from './watch.ts';

export interface Bound {
  readonly limitC: number;
  readonly alarm: AlarmName;
  /** The alarm that foretells it; null where none does. */
  readonly ahead: AlarmName | null;
}

/** The ceiling over the chocolate now; null where the profile sets none. */
export function armedCeiling(profile: Profile, watch: Watch): Bound | null {
  const at = watch.phase!;
  return (
    ceilingOf(profile, at) ??
    leftBound(watch, (left) => ceilingOf(profile, left)) ??
    (watch.bandReached && profile.phases[at]!.heading === 'down' ? nextCeiling(profile, at) : null) ??
    scorchCeiling(profile)
  );
}

/** The floor under the chocolate now; null where the profile sets none. */
export function armedFloor(profile: Profile, watch: Watch): Bound | null {
  const at = watch.phase!;
  return floorOf(profile, at) ?? leftBound(watch, (left) => floorOf(profile, left));
}

/** A bound of the phase left, while the direction has not turned. */
function leftBound(watch: Readonly<Watch>, boundOf: (left: number) => Bound | null): Bound | null {
  return watch.turned || watch.left === null ? null : boundOf(watch.left);
}

/** At and above this no seed is left, °C; null while there is no seed to lose or the profile does not say. */
export function armedLostC(profile: Profile, watch: Watch): number | null {
  const at = watch.phase!;
  const down = firstDownIndex(profile);
  if (!watch.seeded && !(down >= 0 && at > down)) return null;
  return profile.phases[at]!.lostAboveC ?? (watch.coolEnough ? lowestLostC(profile) : null);
}

/** After the first `down` phase a ceiling guards the seed; before it, the chocolate itself. */
function ceilingOf(profile: Profile, at: number): Bound | null {
  const limitC = profile.phases[at]?.ceilingC;
  if (limitC === undefined) return null;
  const down = firstDownIndex(profile);
  return down >= 0 && at > down
    ? { limitC, alarm: 'overshoot', ahead: 'overshoot-ahead' }
    : { limitC, alarm: 'scorch', ahead: 'scorch-ahead' };
}

/** Once the seeding band has been reached there is seed, and the ceiling that will guard it guards it already. */
function nextCeiling(profile: Profile, at: number): Bound | null {
  const next = profile.phases.findIndex((phase, index) => index > at && phase.ceilingC !== undefined);
  return next < 0 ? null : ceilingOf(profile, next);
}

/** What burns, burns in every phase: the ceiling of the first melting stays armed where no lower one is. */
export function scorchCeiling(profile: Profile): Bound | null {
  const first = profile.phases.findIndex((phase) => phase.ceilingC !== undefined);
  const bound = first < 0 ? null : ceilingOf(profile, first);
  return bound?.alarm === 'scorch' ? bound : null;
}

function floorOf(profile: Profile, at: number): Bound | null {
  const phase = profile.phases[at];
  if (phase?.floorC === undefined) return null;
  return phase.heading === 'hold'
    ? { limitC: phase.floorC, alarm: 'below-working', ahead: null }
    : { limitC: phase.floorC, alarm: 'undershoot', ahead: 'undershoot-ahead' };
}
