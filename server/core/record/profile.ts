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
