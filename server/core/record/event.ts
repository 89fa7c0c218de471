/** What the engine can say: sparse, numbered `seq` 1, 2, 3… within a run. Readings and estimates are dense and live beside this. */
import type { ProbeCheck } from './check.ts';
import type { Act, Condition } from './command.ts';
import type { Sensor } from './sensor.ts';

export const ALARMS = [
  'temper-lost',
  'scorch',
  'overshoot',
  'scorch-ahead',
  'overshoot-ahead',
  'undershoot',
  'undershoot-ahead',
  'not-cooled-enough',
  'probe-silent',
  'probe-lifted',
  'below-working',
] as const;
export type AlarmName = (typeof ALARMS)[number];

/** critical: the batch or the bowl is going; warning: act now; notice: one soft chime, never takes over the page. */
export type Severity = 'critical' | 'warning' | 'notice';

export const CUES = [
  'off-heat',
  'off-cold',
  'will-not-reach',
  'stir',
  'strip-test',
  'cool-again',
  'stir-down',
  'warm-gently',
  'hold-there',
] as const;
export type CueName = (typeof CUES)[number];

export type Standing = 'not-made-yet' | 'in-temper' | 'unproven' | 'at-risk' | 'lost';

/** Why something the thermometer sent was not used. */
export type RejectReason =
  /* the line could not be read */
  | 'empty'
  | 'no-number'
  | 'not-a-temperature'
  | 'ambiguous'
  /** Readable, and not sure yet which of its values is what. */
  | 'unsure'
  | 'bad-checksum'
  | 'too-long'
  | 'broken-json'
  | 'device-fault'
  /* the value could not be believed */
  | 'power-on-value'
  | 'sentinel'
  | 'implausible'
  | 'spike'
  | 'stuck'
  | 'not-the-bowl';

export type EventBody =
  | { readonly kind: 'run-started'; readonly profile: string; readonly condition: Condition | null }
  | {
      readonly kind: 'phase-entered';
      readonly phase: string;
      readonly from: string | null;
      readonly by: 'reached' | 'hand' | 'recovery';
    }
  /** The near edge of the phase's band has been reached; its dwell begins. */
  | { readonly kind: 'band-reached'; readonly phase: string; readonly valueC: number }
  | {
      readonly kind: 'alarm-raised';
      readonly alarm: AlarmName;
      readonly severity: Severity;
      readonly phase: string;
      /** Estimate at that moment, °C; null where there is none. */
      readonly valueC: number | null;
      /** The bound that was crossed, °C; null for the two probe alarms. */
      readonly limitC: number | null;
      /** For the `-ahead` alarms: seconds until the bound is met. */
      readonly inS?: number;
      /** For the `-ahead` alarms: where the bowl ends even if it leaves the heat or the cold now, °C. */
      readonly peakC?: number;
    }
  | {
      readonly kind: 'alarm-cleared';
      readonly alarm: AlarmName;
      readonly lastedMs: number;
      /** The furthest the estimate went meanwhile, °C. */
      readonly extremeC: number | null;
    }
  | { readonly kind: 'alarm-acknowledged'; readonly alarm: AlarmName; readonly by?: string }
  | { readonly kind: 'alarm-quietened'; readonly alarm: AlarmName; readonly untilMs: number }
  | {
      readonly kind: 'cue';
      readonly cue: CueName;
      readonly phase: string;
      /** Seconds until the moment to act. */
      readonly inS?: number;
      /** Where the bowl ends: after the act it asks for, or for `will-not-reach` without one, °C. */
      readonly landsC?: number;
      /** For `will-not-reach`: a bath that would get it there in good time, °C. */
      readonly bathC?: number;
      /** For `stir`. */
      readonly why?: StirReason;
    }
  | { readonly kind: 'standing'; readonly standing: Standing; readonly why: StandingReason }
  | { readonly kind: 'act'; readonly act: Act }
  /** `source`: a thermometer beside the one in the chocolate; absent: that one. */
  | { readonly kind: 'link'; readonly up: boolean; readonly why?: string; readonly source?: string }
  /** The probe left the bowl, or came back, or its tip was warmed: readings in between say nothing about the chocolate. */
  | { readonly kind: 'probe'; readonly state: 'out' | 'in'; readonly sinceMs: number }
  /** Told at the 1st, 10th, 100th… of each reason, so that a flood of junk stays a handful of events. */
  | { readonly kind: 'rejected'; readonly reason: RejectReason; readonly count: number; readonly sample: string }
  /** `check`: where it comes from; absent: a person says it. `channel`: of this one alone; absent: of the chocolate. */
  | {
      readonly kind: 'correction-changed';
      readonly offsetC: number;
      readonly gain: number;
      readonly check?: ProbeCheck;
      readonly channel?: string;
    }
  /** `sensor`: what its number is; `lagS`: how late the chocolate's thermometer is from now on, s; absent: as before. */
  | {
      readonly kind: 'role-changed';
      readonly channel: string;
      readonly role: string;
      readonly sensor?: Sensor;
      readonly lagS?: number | null;
      readonly source?: string;
    }
  | { readonly kind: 'run-ended'; readonly by: 'hand' | 'trace' };

/** Why a reading does not stand for the bowl. */
export type StirReason = 'unstirred' | 'at-the-wall';

export type StandingReason =
  | 'seed-not-made'
  | 'seeded-and-rewarmed'
  | 'started-tempered'
  | 'forced-step'
  | 'gap'
  | 'over-ceiling'
  | 'low-for-long'
  | 'above-lost'
  | 'strip-test-good'
  | 'strip-test-bad'
  | 'made-again';

export type RunEvent = EventBody & {
  /** 1, 2, 3… within the run, no holes. */
  readonly seq: number;
  /** When it holds true from, ms of the feed's clock. */
  readonly atMs: number;
};
