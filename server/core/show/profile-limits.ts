/** What a profile says of its limits, and where it begins again once temper is lost. Pure; shared by the engine and the page. */
import type { Profile } from '../record/profile.ts';
import { phaseIndex } from './course.ts';

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
