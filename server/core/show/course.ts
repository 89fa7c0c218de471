/** A profile as a course to be walked: its edges, its turning point, where to begin again. Pure; shared by the engine and the page. */
import type { Phase, Profile } from '../record/profile.ts';

/** The edge of the band met first on this heading, °C: low going up, high going down. A hold has none: its low edge stands in. */
export function nearEdgeC(phase: Phase): number {
  return phase.heading === 'down' ? phase.bandC[1] : phase.bandC[0];
}

/** Position of the phase with this id, or -1. */
export function phaseIndex(profile: Profile, id: string): number {
  return profile.phases.findIndex((phase) => phase.id === id);
}

/** Position of the first `down` phase, or -1 where the profile makes no seed. */
export function firstDownIndex(profile: Profile): number {
  return profile.phases.findIndex((phase) => phase.heading === 'down');
}

/** The phase to enter after temper is lost. */
export function onLostIndex(profile: Profile): number {
  if (profile.onLost !== undefined) return phaseIndex(profile, profile.onLost);
  return Math.max(
    0,
    profile.phases.findIndex((phase) => phase.heading === 'up'),
  );
}

/** The ceiling met first on the course, °C; null where no phase sets one. */
export function firstCeilingC(profile: Pick<Profile, 'phases'>): number | null {
  return profile.phases.find(({ ceilingC }) => ceilingC !== undefined)?.ceilingC ?? null;
}

/** The lowest temperature at which any phase says that no seed is left, °C; null where the profile does not say. */
export function lowestLostC(profile: Pick<Profile, 'phases'>): number | null {
  const limits = profile.phases.flatMap((phase) => phase.lostAboveC ?? []);
  return limits.length > 0 ? Math.min(...limits) : null;
}
