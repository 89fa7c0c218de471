/** What the store keeps and gives back: plain shapes shared by its two halves and by those who call it. */
import type { RunEvent, Standing, AlarmName } from '../core/record/event.ts';
import type { RecordedInput } from '../core/record/input.ts';
import type { Learned, Reading, RunHeader } from '../core/record/run.ts';
import type { NoteInfo, Tile } from '../core/show/wire.ts';

/** A run as it begins. `startedAtMs`: feed clock of its first input; wall time is a label. */
export interface NewRun {
  readonly run: string;
  readonly bowl: string;
  readonly header: RunHeader;
  readonly simulated: boolean;
  readonly startedAtMs: number;
  readonly startedAtWall: string;
  readonly source: string;
}

/** One turn of the engine: what went in and all that came out of it, recorded together or not at all. */
export interface Turn {
  readonly input: RecordedInput;
  readonly events: readonly RunEvent[];
  readonly readings: readonly Reading[];
}

/** The engine's state as JSON after the turn it is recorded with, and what the run has taught of its bowl by then. */
export interface Checkpoint {
  readonly atMs: number;
  readonly state: string;
  /** null: nothing. */
  readonly learned: Learned | null;
}

/** The line of a run in the list of runs. */
export interface RunSummary {
  readonly run: string;
  readonly bowl: string;
  readonly title: string;
  readonly coating: string;
  readonly profile: string;
  readonly simulated: boolean;
  readonly startedAtWall: string;
  readonly durationMs: number;
  /** null while it is going. */
  readonly endedAtMs: number | null;
  readonly standing: Standing | null;
  readonly worstAlarm: AlarmName | null;
  /** How far over the ceiling it went, °C; null: never over. */
  readonly worstOverC: number | null;
  /** Up to 120 columns of the whole curve, for a small picture. */
  readonly tiles: readonly Tile[];
}

/** Turns that went by while the disk took nothing for so long that memory ran out: inputs and readings are gone, events are not. */
export interface LostSpan {
  /** Turns of the run, counted from 1, both included. */
  readonly fromTurn: number;
  readonly toTurn: number;
  readonly fromMs: number;
  readonly toMs: number;
}

/** All of a stored run but its raw inputs. */
export interface StoredRun extends NewRun {
  readonly endedAtMs: number | null;
  /** Empty but for the rarest of runs. */
  readonly lost: readonly LostSpan[];
  readonly events: readonly RunEvent[];
  readonly readings: readonly Reading[];
  readonly notes: readonly NoteInfo[];
}

/** A run that was going when the server stopped: restore `checkpoint` (null: from the start), then step `inputsSince`. */
export interface RunToResume {
  readonly run: NewRun;
  readonly checkpoint: Omit<Checkpoint, 'learned'> | null;
  readonly inputsSince: readonly RecordedInput[];
  /** Last recorded input, feed clock, and the wall clock when it was recorded. */
  readonly lastAtMs: number;
  readonly lastAtWall: string;
  readonly events: readonly RunEvent[];
  readonly readings: readonly Reading[];
  readonly notes: readonly NoteInfo[];
}

export type StoreHealth =
  | { readonly recording: true }
  /** Readings are kept in memory, up to a bound, and written when the disk takes them again. */
  | { readonly recording: false; readonly sinceWallMs: number; readonly reason: string; readonly waiting: number };
