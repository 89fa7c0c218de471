/** A profile as a course to be walked: its edges and its turning point. Pure; shared by the engine and the page. */
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
