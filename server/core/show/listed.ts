/** A run in the list of runs, and what server and page both keep to there. */
import type { Verdict } from '../record/card.ts';
import type { AlarmName, Standing } from '../record/event.ts';
import type { Tile } from './wire.ts';

/** Longest name of a run, characters (ours: a line of a run sheet). */
export const RUN_NAME_MAX_CHARS = 120;
/** So long a run lies in the bin, days (ours: a month to miss it in). */
export const BIN_DAYS = 30;

/** A phase and the moment it was entered, feed clock. */
export interface Visit {
  readonly phase: string;
  readonly atMs: number;
}

/** The line of a run in the list of runs. */
export interface RunSummary {
  readonly run: string;
  readonly bowl: string;
  /** What it was called when the run began; null: it was the only one, or elsewhere. */
  readonly bowlName: string | null;
  readonly title: string;
  readonly coating: string;
  readonly profile: string;
  readonly simulated: boolean;
  /** Of its first line, which is kept to look back at; the run itself began with its first phase (`beganAtMs`). */
  readonly startedAtWall: string;
  readonly beganAtWall: string;
  /** From its first phase to its end, or to what was recorded last. */
  readonly durationMs: number;
  /** null while it is going. */
  readonly endedAtMs: number | null;
  readonly standing: Standing | null;
  readonly worstAlarm: AlarmName | null;
  /** How far over the ceiling it went, °C; null: never over. */
  readonly worstOverC: number | null;
  /** Phases as they were entered, oldest first. */
  readonly visits: readonly Visit[];
  readonly startedAtMs: number;
  /** What its card says of it now. */
  readonly name: string | null;
  readonly centre: string | null;
  readonly lot: string | null;
  readonly kg: number | null;
  readonly tags: readonly string[];
  readonly verdict: Verdict | null;
  /** Since when it lies in the bin, ISO 8601; null: it does not. */
  readonly binnedAtWall: string | null;
  /** When it was brought in from a file, ISO 8601; null: it was recorded here. */
  readonly importedAtWall: string | null;
  /** Up to 120 columns of the whole curve, for a small picture. */
  readonly tiles: readonly Tile[];
}
