/**
 * What a profile is: the curve a coating is taken along, phase by phase. Data only; nothing here knows a coating by name.
 * Parsing with exact complaints lives in profile-file.ts.
 */

/** Which way the chocolate is meant to go: warmer, cooler, or kept where it is. */
export type Heading = 'up' | 'down' | 'hold';

/** Lower and upper edge, °C, low < high. */
export type Band = readonly [lowC: number, highC: number];

export interface Phase {
  readonly id: string;
  readonly heading: Heading;
  readonly bandC: Band;
  /** Never above this, °C. Before the first `down` phase it is the scorch ceiling, after it the working ceiling. */
  readonly ceilingC?: number;
  /** Never below this, °C. */
  readonly floorC?: number;
  /** How long the near edge must stay reached before the next phase, seconds. Absent means 0. */
  readonly holdS?: number;
  /** At and above this no seed is left, °C; armed once a `down` phase has been satisfied. */
  readonly lostAboveC?: number;
  /** The profile's own words for what to do in this phase. */
  readonly cue?: string;
}

export interface Profile {
  readonly id: string;
  readonly title: string;
  /** dark, milk, white, or whatever the profile's author works with; a label only. */
  readonly coating: string;
  /** Where the numbers come from. */
  readonly source: string;
  /** A source for a single number, keyed by its path: `phases.cool.bandC`. */
  readonly sources?: Readonly<Record<string, string>>;
  /** Phase entered after temper is lost; absent means the first `up` phase. */
  readonly onLost?: string;
  readonly phases: readonly Phase[];
}

/** The edge of the band met first on this heading, °C: low going up, high going down. A hold has none: its low edge stands in. */
export function nearEdgeC(phase: Phase): number {
  return phase.heading === 'down' ? phase.bandC[1] : phase.bandC[0];
}

/** The edge of the band met last on this heading, °C. */
export function farEdgeC(phase: Phase): number {
  return phase.heading === 'down' ? phase.bandC[0] : phase.bandC[1];
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

/** The lowest temperature at which any phase says that no seed is left, °C; null where the profile does not say. */
export function lowestLostC(profile: Profile): number | null {
  const limits = profile.phases.flatMap((phase) => phase.lostAboveC ?? []);
  return limits.length > 0 ? Math.min(...limits) : null;
}
