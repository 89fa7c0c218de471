/** What is told of the thermometers of a bowl to whoever asks: what is known of each probe, and how a check of one stands. */
import type { CheckPoint, ProbeCheck } from '../record/check.ts';
import type { Role } from '../record/command.ts';
import type { Correction } from '../record/run.ts';
import type { ElectricUnit, Sensor } from '../record/sensor.ts';
import type { Uncertainty } from './correction.ts';
import type { Reference, Standard } from './standard.ts';
import type { Steadiness } from './steady.ts';

/** The lag that a run would begin with now. */
export interface UsedLag {
  /** Seconds to 63.2 % of a step in chocolate. */
  readonly lagS: number;
  readonly from: 'flag' | 'measured' | 'said';
  /** ISO 8601; null where it was not measured. */
  readonly measuredAtWall: string | null;
}

export interface ProbeKnown {
  /** Of the thermometer in the chocolate. */
  readonly lag: UsedLag | null;
  /** Those that give the bowl something, the chocolate's first; empty where nothing that is read is used. */
  readonly probes: readonly ProbeInUse[];
  /** Where uncertainties are reckoned, °C. */
  readonly atC: number;
  /** The newest line of the thermometer in the chocolate, as it came; null before the first. */
  readonly lastLine: string | null;
  readonly numbers: readonly NumberKnown[];
}

/** One channel of one thermometer. `channel` null: the thermometer has no other, so that what is said is said of the thermometer. */
export interface ProbeNamed {
  readonly source: string;
  readonly channel: string | null;
}

/** What a probe that is in something can be there. */
export type RoleInUse = Exclude<Role, 'ignored'>;

export interface ProbeInUse extends ProbeNamed {
  readonly role: RoleInUse;
  readonly correction: Correction;
  /** null: unchecked. */
  readonly check: ProbeCheck | null;
  /** It was so long ago that it is to be made again. */
  readonly isOld: boolean;
  readonly uncertainty: Uncertainty | null;
}

/** One number of the newest line. */
export interface NumberKnown {
  /** Of its channel. */
  readonly key: string;
  readonly value: number;
  /** As the line says; null: nothing but a number, or a temperature. */
  readonly unit: ElectricUnit | null;
  /** What was said of it; null: nothing, so it is taken as printed, or where it has such a unit not at all. */
  readonly sensor: Sensor | null;
  /** What it is most likely of, where its unit says that it is no temperature. */
  readonly likely: Sensor | null;
  /** What it makes, °C, not corrected; null: no temperature. */
  readonly valueC: number | null;
  /** What it measures in this line; null: nothing that is used. */
  readonly role: Role | null;
}

/** What a page says when it asks how a check stands. */
export interface CheckAsked {
  /** Which probe is checked; absent: the chocolate's. */
  readonly probe?: ProbeNamed;
  /** What it is held in now; null: that is not clear yet. */
  readonly standard: Standard | null;
  /** The points noted so far. */
  readonly points: readonly CheckPoint[];
  /** False: only what comes of the points is asked, and no probe is watched or held back for it. Absent: it is watched. */
  readonly isWatched?: boolean;
}

export interface CheckStands {
  readonly steadiness: Steadiness;
  /** What it should read; null: not said yet what it is held against. */
  readonly reference: Reference | null;
  /** What may be noted now; null: it is not steady, or not held against anything. */
  readonly point: CheckPoint | null;
  /** What the points so far give. */
  readonly outcome: CheckOutcome;
  /** The day and hour of this computer, ISO 8601: a check bears them, as a page's clock may be of another year. */
  readonly atWall: string;
}

export type CheckOutcome =
  | { readonly is: 'nothing' }
  /** One of the points is more than `mostC`, °C, off: no correction of that is to be believed. */
  | { readonly is: 'too-far-off'; readonly mostC: number }
  /** `atC`: where the uncertainty is reckoned, °C. */
  | { readonly is: 'found'; readonly correction: Correction; readonly atC: number; readonly uncertainty: Uncertainty };
