/**
 * The store as the rest of the server sees it. Writing is handed to one writer thread and never waited for;
 * reading goes through a second, read-only connection.
 */
import type {
  Checkpoint,
  NewRun,
  RunSummary,
  RunToResume,
  StoreHealth,
  StoredRun,
  Turn,
} from './records.ts';
import type { NoteInfo } from '../core/show/wire.ts';
import type { RecordedInput } from '../core/record/input.ts';

export interface Store {
  /** Where the data lie, absolute. */
  readonly folder: string;
  /** What had to be done on opening, in words for the person: a corrupt file kept aside, a migration made. */
  readonly notices: readonly string[];
  beginRun(run: NewRun): void;
  append(run: string, turn: Turn, checkpoint?: Checkpoint): void;
  endRun(run: string, endedAtMs: number): void;
  annotate(run: string, note: NoteInfo): void;
  /** Called after each commit with the run and the highest `seq` and the count of turns of it now on disk. */
  onCommitted(listener: (run: string, seq: number, turns: number) => void): void;
  onHealth(listener: (health: StoreHealth) => void): void;
  health(): StoreHealth;
  runs(): RunSummary[];
  /** The stored run, or null where there is none of that name. */
  openRun(run: string): StoredRun | null;
  inputsOf(run: string): RecordedInput[];
  /** The newest run of this bowl that was never ended, if its last input is younger than `withinMs` by wall clock. Older ones are ended where they stopped. */
  runToResume(bowl: string, nowWallMs: number, withinMs: number): RunToResume | null;
  /** Everything appended so far is on disk, or the promise says why not. */
  flush(): Promise<void>;
  close(): Promise<void>;
}
