/** What the store keeps and gives back: plain shapes shared by its two halves and by those who call it. */
import type { CardEntry } from '../core/record/card.ts';
import type { RunEvent } from '../core/record/event.ts';
import type { RecordedInput } from '../core/record/input.ts';
import type { Learned, Reading, RunHeader } from '../core/record/run.ts';
import type { RunSummary } from '../core/show/listed.ts';
import type { NoteInfo } from '../core/show/wire.ts';

/** A run as it begins. `startedAtMs`: feed clock of its first input; wall time is a label. */
export interface NewRun {
  readonly run: string;
  readonly bowl: string;
  /** What it was called when the run began, where there were several; null, or absent: it was the only one. */
  readonly bowlName?: string | null;
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

/** In which order runs are listed. `worst`: furthest over the ceiling first. */
export const RUN_ORDERS = ['newest', 'oldest', 'longest', 'worst', 'name'] as const;

/** Which runs of the list are wanted: those that fit everything given. */
export interface RunQuery {
  /** Each word of it stands somewhere in title, name, centre, lot or tags; case does not matter. */
  readonly words?: string;
  readonly coating?: string;
  readonly profile?: string;
  readonly tag?: string;
  readonly standing?: string;
  /** A verdict, or `none`: not judged yet. */
  readonly verdict?: string;
  readonly simulated?: 'yes' | 'no';
  /** Those in the bin instead of the others. */
  readonly bin?: 'yes';
  readonly order?: (typeof RUN_ORDERS)[number];
  /** How many, and after how many that come before them. */
  readonly most: number;
  readonly after: number;
}

/** `total`: how many fit, on all pages. */
export interface RunPage {
  readonly total: number;
  readonly runs: readonly RunSummary[];
}

/** What of the runs on record the list can be narrowed to, each in the order it is shown. */
export interface RunChoices {
  readonly coatings: readonly string[];
  /** `title`: as the newest run by it has it. */
  readonly profiles: readonly { readonly id: string; readonly title: string }[];
  readonly tags: readonly string[];
}

/** Turns that went by while the disk took nothing for so long that memory ran out: inputs and readings are gone, events are not. */
export interface LostSpan {
  /** Turns of the run, counted from 1, both included. */
  readonly fromTurn: number;
  readonly toTurn: number;
  readonly fromMs: number;
  readonly toMs: number;
}

/** A stored run without what grows with every second of it: its raw inputs and its readings. */
export interface StoredRun extends NewRun {
  /** Of so many inputs this is what came. */
  readonly turns: number;
  readonly endedAtMs: number | null;
  /** Empty but for the rarest of runs. */
  readonly lost: readonly LostSpan[];
  readonly events: readonly RunEvent[];
  readonly notes: readonly NoteInfo[];
  /** Oldest first; `cardOf` adds them up. */
  readonly card: readonly CardEntry[];
  readonly binnedAtWall: string | null;
  /** When it was brought in from a file, ISO 8601; null: it was recorded here. */
  readonly importedAtWall: string | null;
}

/** A stretch of a run, feed clock, both ends included. */
export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

/** A run that stopped longer ago than this is over, ms (design: resume). */
export const RESUME_WITHIN_MS = 2 * 3_600_000;

/** A run that was going when the server stopped: restore `checkpoint` (null: from the start), then step `inputsSince`. */
export interface RunToResume {
  readonly run: NewRun;
  readonly checkpoint: Omit<Checkpoint, 'learned'> | null;
  readonly inputsSince: readonly RecordedInput[];
  /** Of all its inputs those that are neither lines nor readings: what people and the link said. */
  readonly said: readonly RecordedInput[];
  /** Recorded turns, those that were lost counted in. */
  readonly turns: number;
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
