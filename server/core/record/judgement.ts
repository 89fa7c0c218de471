/** A second log of a stored trace: by which engine and which numbers, when, and what came of it. The first log is never touched. */
import type { AlarmName, Standing } from './event.ts';
import type { RunHeader } from './run.ts';

export interface Judgement {
  readonly id: string;
  /** ISO 8601. */
  readonly judgedAtWall: string;
  /** What the trace was judged under: the run's own, but for the engine, and for the profile where another was wanted. */
  readonly header: RunHeader;
  /** The numbers are the run's own. */
  readonly isOwnProfile: boolean;
  /** Inputs that were judged, and events that came of them. */
  readonly inputs: number;
  readonly events: number;
  /** The first event in which the two logs differ, by its number; null: they are the same, word for word. */
  readonly differsFromSeq: number | null;
  /** Inputs of the run that never got to the disk: the second log knows nothing of them. */
  readonly hasLostInputs: boolean;
  readonly visits: readonly { readonly phase: string; readonly atMs: number }[];
  readonly standing: Standing | null;
  readonly worstAlarm: AlarmName | null;
  /** The furthest the estimate went over a ceiling whose alarm was raised, °C. */
  readonly worstOverC: number | null;
}
