/** A check of a probe: what it was held against, and what it read there. Kept with the thermometer, and in the header of each run it measures. */
import { ALTITUDE_M, STATION_HPA } from '../show/checkable.ts';
import { type Fields, list, object, oneOf, optional, type Shape, union, wallTime, wholeFrom, within } from './shape.ts';

/** What a probe may be held against: melting ice, a thermometer that is trusted, the steam over boiling water. */
export const STANDARDS = ['ice', 'thermometer', 'steam'] as const;
export type StandardName = (typeof STANDARDS)[number];

/** The air over boiling water: its pressure at the place, or the altitude where that is not known. */
export type Air =
  { readonly by: 'station'; readonly hpa: number } | { readonly by: 'altitude'; readonly altitudeM: number };

export interface CheckPoint {
  readonly against: StandardName;
  /** What it should have read, °C, and how far off that itself may be, either way. */
  readonly trueC: number;
  readonly withinC: number;
  /** Mean of what it read while steady, °C, not corrected; one standard deviation of those readings, and the step they come in. */
  readonly readC: number;
  readonly spreadC: number;
  readonly stepC: number;
  readonly readings: number;
  /** Of a boiling point. */
  readonly air?: Air;
}

export interface ProbeCheck {
  readonly checkedAtWall: string;
  /** One for each standard at most. */
  readonly points: readonly CheckPoint[];
}

/** What could be read or true in any of these places, °C (ours). */
const POINT_C = [-20, 130] as const;
/** A standard that may be further off is none, °C (ours). */
const STANDARD_WITHIN_MOST_C = 2;

export const airShape: Shape = union('by', {
  station: object({ by: oneOf(['station']), hpa: within(...STATION_HPA) }),
  altitude: object({ by: oneOf(['altitude']), altitudeM: within(...ALTITUDE_M) }),
});

const POINT: Fields<CheckPoint> = {
  against: oneOf(STANDARDS),
  trueC: within(...POINT_C),
  withinC: within(0, STANDARD_WITHIN_MOST_C),
  readC: within(...POINT_C),
  spreadC: within(0, POINT_C[1]),
  stepC: within(0, POINT_C[1]),
  readings: wholeFrom(1),
  air: optional(airShape),
};
export const checkPointShape: Shape = object(POINT);
export const checkPointsShape: Shape = list(checkPointShape, STANDARDS.length);

const CHECK: Fields<ProbeCheck> = { checkedAtWall: wallTime, points: checkPointsShape };
export const probeCheckShape: Shape = object(CHECK);
