/** What belongs to a run beside its trace and log: the header that `step` depends on, and the dense readings. */
import type { ProbeCheck } from './check.ts';
import type { Condition, Role } from './command.ts';
import type { Profile } from './profile.ts';
import type { RejectReason } from './event.ts';
import type { Format } from './format.ts';
import type { Sensors } from './sensor.ts';

/** Raised whenever `step` would answer an old trace differently, or its state changes shape. */
export const ENGINE_VERSION = 4;

/** A probe slower than this shows yesterday's chocolate; the words were meant for something else, s (ours). */
export const PROBE_LAG_MAX_S = 300;

/** Everything that `step` depends on besides the inputs. */
export interface RunHeader {
  readonly engine: number;
  readonly profile: Profile;
  /** null: nobody said. */
  readonly condition: Condition | null;
  /** First-order lag of the probe in chocolate, seconds (63.2 % of a step); null: not measured. */
  readonly probeLagS: number | null;
  /** corrected = gain × raw + offsetC. */
  readonly correction: Correction;
  /** The check that the correction comes from; absent or null: none, so nobody knows how far off the probe is. */
  readonly check?: ProbeCheck | null;
  /** Channels with a correction of their own, by key, which then goes before that of their thermometer; absent: none has. */
  readonly corrections?: Readonly<Record<string, Corrected>>;
  /** Role by channel key (a label, the position in the line as text, or `FIRST_LEFT`); absent: by label, else the first channel is the chocolate. */
  readonly roles: Readonly<Record<string, Role>>;
  /** What the numbers of the line are, by channel key; absent: temperatures as printed, all of them. */
  readonly sensors?: Sensors;
  /** How `31,4` is to be read; null: not asked yet. */
  readonly decimalComma: boolean | null;
  /** How the thermometer was found to write before the run began; absent: not known, and found out from the run's own lines. */
  readonly format?: Format;
  /** What earlier runs of the same bowl taught of it; absent: nothing is known of it. */
  readonly learned?: Learned;
  /** Thermometers beside the one in the chocolate, by the source that their inputs carry; absent: it is the only one. */
  readonly companions?: Readonly<Record<string, Companion>>;
}

/** A correction, and the check that it comes from; absent or null: none. */
export type Corrected = Pick<RunHeader, 'correction' | 'check'>;

/**
 * What is known of a thermometer beside the one in the chocolate. It gives what its roles say and nothing else: a channel that nobody has
 * named is no chocolate. The correction is of whatever it gives.
 */
export type Companion = Pick<RunHeader, 'correction' | 'check' | 'corrections' | 'roles' | 'sensors' | 'decimalComma'>;

/** As a channel's key in `roles`: the first place of a line that neither a person nor its label has given a role. */
export const FIRST_LEFT = '';

/** What runs taught of the bowl itself. Seconds, from `LEARNED_LEAST_S` to `LEARNED_MOST_S`; null: never seen. */
export interface Learned {
  /** How many runs taught it. */
  readonly runs: number;
  /** Time constant of the approach to the bath, on the heat and on the cold. */
  readonly heatCourseS: number | null;
  readonly coldCourseS: number | null;
  /** Time constant of the wall, which is how long a bowl goes on at its rate after leaving its bath, from `COAST_LEAST_S` to `COAST_MOST_S`; absent: as null. */
  readonly coastS?: number | null;
}

/** Nothing that holds a melt is quicker or slower than this, s (ours: far outside of the bowls in the kitchens we simulate). */
export const LEARNED_LEAST_S = 30;
export const LEARNED_MOST_S = 10_000;
/** No wall gives up what it holds sooner or later than this, s (ours: thin steel, scraped, 15; thick glass, hardly stirred, 300). */
export const COAST_LEAST_S = 5;
export const COAST_MOST_S = 1000;

export interface Correction {
  readonly offsetC: number;
  readonly gain: number;
}

export const NO_CORRECTION: Correction = { offsetC: 0, gain: 1 };

export type Quality =
  | 'good'
  /** Kept and drawn as a gap: does not fit the bowl, the estimate goes on without it. */
  | 'suspect'
  /** Kept with a reason, drawn as a gap. */
  | 'rejected';

/** One temperature from the wire, with what was made of it. Values are rounded to 0.01 °C. */
export interface Reading {
  readonly atMs: number;
  readonly role: Role;
  /** Corrected value, °C. */
  readonly valueC: number;
  readonly quality: Quality;
  readonly reason?: RejectReason;
  /** What the chocolate itself is estimated to be, °C; null for other roles and before the first good reading. */
  readonly estimateC: number | null;
}
