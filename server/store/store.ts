/**
 * The store as the rest of the server sees it. Writing is handed to one writer thread and never waited for;
 * reading goes through a second, read-only connection. Knows neither SQL nor the engine.
 */
import { join } from 'node:path';
import { Arrivals } from './arrivals.ts';
import { Backlog } from './backlog.ts';
import { ifRead } from './damage.ts';
import { problemOf, unfitSqlite } from './database.ts';
import { deleted } from './deleting.ts';
import { copy, type CopyResult } from './copying.ts';
import { readyDataFile } from './datafile.ts';
import { putBack, type RestoreResult } from './exchange.ts';
import { Judgements } from './judgements.ts';
import { makeFolder } from './folder.ts';
import { inUseBy, lockFolder } from './lock.ts';
import { goingIn, Reader, type Standstill } from './reader.ts';
import { isDone, untilDone } from './patience.ts';
import { WriterThread } from './writer-thread.ts';
import type { IncomingRun } from './incoming.ts';
import type {
  Checkpoint,
  NewRun,
  RunChoices,
  RunPage,
  RunQuery,
  RunToResume,
  StoreHealth,
  StoredRun,
  Stretch,
  Turn,
} from './records.ts';
import type { PurgeEntry } from './batch.ts';
import type { CardEntry } from '../core/record/card.ts';
import type { NoteInfo, Tile } from '../core/show/wire.ts';
import type { RecordedInput } from '../core/record/input.ts';
import type { Learned, Reading } from '../core/record/run.ts';

/** The one file that holds it all; kept copies begin with the same word. */
const DATA_FILE = 'bowlside.sqlite';

export function dataFileIn(folder: string): string {
  return join(folder, DATA_FILE);
}

/** How long closing tries to write what still waits, ms, and how often (ours: a stop must not hang on a dead disk). */
const LAST_WORDS_MS = 5_000;
const RETRY_MS = 100;

export interface Store {
  /** Where the data lie, absolute. */
  readonly folder: string;
  /** What had to be done on opening, in words for the person: a corrupt file kept aside, a migration made. */
  readonly notices: readonly string[];
  beginRun(run: NewRun): void;
  append(run: string, turn: Turn, checkpoint?: Checkpoint): void;
  /** `learned`: what it taught of its bowl; absent or null: what its last checkpoint said stays. */
  endRun(run: string, endedAtMs: number, learned?: Learned | null): void;
  /** A whole run from elsewhere, on disk when it resolves. Rejects where there is one of that name or the disk refuses: nothing comes later then. */
  bringIn(run: NewRun, content: IncomingRun): Promise<void>;
  annotate(run: string, note: NoteInfo): void;
  /** Called after each commit with the run and the highest `seq` and the count of turns of it now on disk. Gives how to stop that. */
  onCommitted(listener: (run: string, seq: number, turns: number) => void): () => void;
  /** Called whenever it becomes another. Gives how to stop that. */
  onHealth(listener: (health: StoreHealth) => void): () => void;
  health(): StoreHealth;
  /** An entry of the run's card. */
  changeCard(run: string, entry: CardEntry): void;
  /** The run's card, oldest entry first, with those that wait for the disk. Empty for an unknown run. */
  cardOf(run: string): readonly CardEntry[];
  /** Into the bin (ISO 8601 moment), or out of it again (null). A run that is going stays where it is. */
  bin(run: string, binnedAtWall: string | null): void;
  /**
   * Deletes for good a run that lies in the bin, in small pieces between those of recording. At once it can no longer be opened. True
   * when nothing is left of it; false where it does not lie there, or the disk refuses: what has begun is gone on with by the next `emptyBin`.
   */
  purge(run: string): Promise<boolean>;
  /** The same for all that has lain there since before a moment, ISO 8601. */
  emptyBin(before: string): Promise<void>;
  /** Second logs beside the first. */
  readonly judgements: Judgements;
  runs(query: RunQuery): RunPage;
  /** What the list can be narrowed to. */
  choices(): RunChoices;
  /** Whether there is a run of that name, on disk or on its way there. */
  has(run: string): boolean;
  /**
   * The stored run, or null where there is none of that name: quick however long the run. Throws where its contents are damaged on disk,
   * as the next three do.
   */
  openRun(run: string): StoredRun | null;
  /** Its readings in the order they came, every channel; all of them, or those of a stretch. Empty for an unknown run. */
  readingsOf(run: string, stretch?: Stretch): Reading[];
  inputsOf(run: string): RecordedInput[];
  /** One by one, for a run too long to be held at once; they throw where it is deleted or another file put in place, so that no part is taken for it. */
  eachInputOf(run: string, turns: number): Iterable<RecordedInput>;
  eachReadingOf(run: string): Iterable<Reading>;
  /** The curve of a run, or of a stretch of it, as at most `columns` columns, without touching its readings. Empty for an unknown run. */
  tilesOf(run: string, columns: number, stretch?: Stretch): Tile[];
  /**
   * What the last `most` runs of this bowl that taught anything taught of it, newest first; simulated ones apart from real ones.
   * Empty where the disk does not say: no run waits for what is known of its bowl.
   */
  learnedBefore(bowl: string, simulated: boolean, most: number): Learned[];
  /** The newest run of this bowl that was never ended, if its last input is younger than `withinMs` by wall clock. Older ones are ended where they stopped. */
  runToResume(bowl: string, nowWallMs: number, withinMs: number): RunToResume | null;
  /** A copy of what is on disk as of now, in one file that stands for itself, checked. Recording goes on. `signal` gives it up. */
  backUp(to: string, signal: AbortSignal): Promise<CopyResult>;
  /**
   * Goes on with a backup, once it is checked and brought up to date, in place of the present file, which is kept as `aside`: if `isFree` says
   * then that no run is going. Runs that were going when the backup was made are ended where it ends. `signal` gives it up while it is checked.
   */
  restore(backup: string, aside: string, isFree: () => boolean, signal: AbortSignal): Promise<RestoreResult>;
  /** Everything appended so far is on disk, or the promise says why not. A disk that stalls is waited for. */
  flush(): Promise<void>;
  close(): Promise<void>;
}

export type OpenedStore =
  | { readonly ok: true; readonly store: Store }
  | {
      readonly ok: false;
      readonly reason: 'in-use' | 'newer-data' | 'old-sqlite' | 'unusable-folder';
      /** One sentence for the person. */
      readonly message: string;
    };

/**
 * Opens the data folder (absolute; made where missing), sets right what is wrong with it, and starts writing.
 * Returns at once; does not throw for anything a disk can do. `writerScript`: as built; that of the process that copies lies beside it.
 */
export function openStore(folder: string, { writerScript }: { readonly writerScript: URL }): OpenedStore {
  const unfit = unfitSqlite();
  if (unfit !== null) return { ok: false, reason: 'old-sqlite', message: unfit };
  try {
    makeFolder(folder);
    return opened(folder, writerScript);
  } catch (error) {
    const message = `${folder} cannot be used: ${problemOf(error)}. Name another folder with --data.`;
    return { ok: false, reason: 'unusable-folder', message };
  }
}

function opened(folder: string, writerScript: URL): OpenedStore {
  const lock = lockFolder(folder);
  if (!lock.ok) return { ok: false, reason: 'in-use', message: inUseBy(folder, lock.pid) };
  try {
    const file = dataFileIn(folder);
    const ready = readyDataFile(file, Date.now());
    if (ready.ok) return { ok: true, store: new FileStore(folder, file, writerScript, ready.notices, lock.release) };
    lock.release();
    return ready;
  } catch (error) {
    lock.release();
    throw error;
  }
}

class FileStore implements Store {
  readonly folder: string;
  readonly #file: string;
  readonly notices: string[];
  readonly #release: () => void;
  readonly #writerScript: URL;
  readonly #copyScript: URL;
  #reader: Reader;
  #thread: WriterThread;
  readonly judgements: Judgements;
  readonly #backlog: Backlog;
  readonly #arrivals: Arrivals;
  readonly #onCommitted = new Set<Parameters<Store['onCommitted']>[0]>();
  readonly #onHealth = new Set<(health: StoreHealth) => void>();
  #isClosing = false;
  /** The newest turn handed over, by run. */
  readonly #turns = new Map<string, number>();

  constructor(folder: string, file: string, writerScript: URL, notices: readonly string[], release: () => void) {
    this.folder = folder;
    this.notices = [...notices];
    this.#release = release;
    this.#file = file;
    this.#writerScript = writerScript;
    this.#copyScript = new URL('copy-process.js', writerScript);
    this.#reader = new Reader(file);
    this.#backlog = new Backlog({
      post: (entries) => this.#thread.post(entries),
      committed: ({ run, seq, turns }) => this.#onCommitted.forEach((listener) => listener(run, seq, turns)),
      health: (health) => this.#onHealth.forEach((listener) => listener(health)),
    });
    this.judgements = new Judgements(
      () => this.#reader,
      (entry) => this.#backlog.add(entry),
    );
    const isThere = (run: string): boolean => this.#reader.standstillOf(run) !== null;
    this.#arrivals = new Arrivals(this.#backlog, { isThere, purge: (run) => this.purge(run) });
    this.#thread = this.#newThread();
  }

  beginRun(run: NewRun): void {
    // A disk that can't be read keeps no run from beginning.
    if (ifRead(() => this.#turnsOf(run.run)) !== null) throw new Error(`there is a run ${run.run} already`);
    this.#turns.set(run.run, 0);
    this.#backlog.add({ kind: 'begin', run, wallMs: Date.now() });
  }

  append(run: string, turn: Turn, checkpoint?: Checkpoint): void {
    const number = this.#knownTurnsOf(run) + 1;
    this.#turns.set(run, number);
    const entry = { kind: 'turn', run, turn: number, wallMs: Date.now() } as const;
    this.#backlog.add({ ...entry, content: turn, checkpoint: checkpoint ?? null });
  }

  endRun(run: string, endedAtMs: number, learned: Learned | null = null): void {
    this.#knownTurnsOf(run);
    this.#backlog.add({ kind: 'end', run, endedAtMs, learned });
  }

  async bringIn(run: NewRun, content: IncomingRun): Promise<void> {
    if (this.has(run.run)) throw new Error(`there is a run ${run.run} already`);
    await this.#arrivals.bringIn(run, content);
  }

  annotate(run: string, note: NoteInfo): void {
    this.#knownTurnsOf(run);
    this.#backlog.add({ kind: 'note', run, note });
  }

  onCommitted(listener: (run: string, seq: number, turns: number) => void): () => void {
    this.#onCommitted.add(listener);
    return () => this.#onCommitted.delete(listener);
  }

  onHealth(listener: (health: StoreHealth) => void): () => void {
    this.#onHealth.add(listener);
    return () => this.#onHealth.delete(listener);
  }

  health(): StoreHealth {
    return this.#backlog.health();
  }

  changeCard(run: string, entry: CardEntry): void {
    this.#knownTurnsOf(run);
    this.#backlog.add({ kind: 'card', run, entry });
  }

  cardOf(run: string): readonly CardEntry[] {
    const kept = this.#reader.card(run);
    const known = new Set(kept.map((entry) => JSON.stringify(entry)));
    // One that was just written may still be among those that wait.
    const waiting = this.#backlog.waiting((entry) => entry.kind === 'card').filter((line) => line.run === run);
    return [...kept, ...waiting.map(({ entry }) => entry).filter((entry) => !known.has(JSON.stringify(entry)))];
  }

  bin(run: string, binnedAtWall: string | null): void {
    this.#knownTurnsOf(run);
    this.#backlog.add({ kind: 'bin', run, binnedAtWall });
  }

  purge(run: string): Promise<boolean> {
    // What cannot be read cannot be deleted either.
    return this.#purged({ kind: 'purge', run, before: null }).catch(() => false);
  }

  async emptyBin(before: string): Promise<void> {
    const reader = this.#reader;
    try {
      const overdue = this.#isClosing ? [] : reader.binnedBefore(before);
      for (const run of overdue.filter((name) => !this.#arrivals.isHidden(name)))
        if (reader === this.#reader) await this.#purged({ kind: 'purge', run, before });
    } catch {
      // What cannot be read cannot be deleted either; the rest waits for the next time.
    }
  }

  runs(query: RunQuery): RunPage {
    return this.#reader.runs(query);
  }

  choices(): RunChoices {
    return this.#reader.choices();
  }

  has(run: string): boolean {
    return this.#arrivals.isGoing(run) || this.#turnsOf(run) !== null;
  }

  openRun(run: string): StoredRun | null {
    return this.#reader.storedRun(run);
  }

  eachInputOf(run: string, turns: number): Iterable<RecordedInput> {
    return this.#reader.eachInput(run, turns);
  }

  eachReadingOf(run: string): Iterable<Reading> {
    return this.#reader.eachReading(run);
  }

  inputsOf(run: string): RecordedInput[] {
    return this.#reader.inputs(run, 0);
  }

  readingsOf(run: string, stretch?: Stretch): Reading[] {
    return this.#reader.readings(run, stretch);
  }

  tilesOf(run: string, columns: number, stretch?: Stretch): Tile[] {
    return this.#reader.tiles(run, columns, stretch);
  }

  learnedBefore(bowl: string, simulated: boolean, most: number): Learned[] {
    return ifRead(() => this.#reader.learned(bowl, simulated, most)) ?? [];
  }

  runToResume(bowl: string, nowWallMs: number, withinMs: number): RunToResume | null {
    const [newest, ...older] = this.#reader.goingRuns(bowl);
    // Whatever becomes of the disk, it can be gone on with.
    if (newest !== undefined) this.#turns.set(newest.run, newest.turns);
    for (const { run, lastAtMs } of older) this.endRun(run, lastAtMs);
    if (newest === undefined) return null;
    // A clock that was set back meanwhile makes the run look younger than nothing: gone on with, like a young one.
    const found = nowWallMs - newest.lastWallMs < withinMs ? this.#resumable(newest) : null;
    if (found === null) this.endRun(newest.run, newest.lastAtMs);
    return found;
  }

  backUp(to: string, signal: AbortSignal): Promise<CopyResult> {
    return copy(this.#copyScript, { kind: 'back-up', from: this.#file, to }, signal);
  }

  async restore(backup: string, aside: string, isFree: () => boolean, signal: AbortSignal): Promise<RestoreResult> {
    let going: readonly Standstill[] = [];
    const result = await putBack(this.#copyScript, { backup, file: this.#file, aside, isFree, signal }, this.#backlog, {
      // Once it is in place nothing is asked of it: whatever became of the disk then, the answer is that it was put back.
      lookAt: (successor) => (going = goingIn(successor)),
      closeWriter: () => this.#thread.close(),
      openWriter: () => (this.#thread = this.#newThread()),
      closeReader: () => this.#reader.close(),
      openReader: () => (this.#reader = new Reader(this.#file)),
    });
    if (!result.ok) return result;
    this.#turns.clear();
    for (const { run, turns } of going) this.#turns.set(run, turns);
    for (const { run, lastAtMs } of going) this.endRun(run, lastAtMs);
    return result;
  }

  flush(): Promise<void> {
    return this.#backlog.flush();
  }

  async close(): Promise<void> {
    this.#isClosing = true;
    await untilDone(() => isDone(this.flush()), RETRY_MS, LAST_WORDS_MS);
    this.#backlog.stop();
    this.#reader.close();
    await this.#thread.close();
    this.#release();
  }

  async #purged(piece: PurgeEntry): Promise<boolean> {
    const reader = this.#reader;
    const isOver = (): boolean => this.#isClosing || reader !== this.#reader;
    const isGone = await deleted(piece, reader, this.#backlog, isOver);
    if (isGone) this.#turns.delete(piece.run);
    return isGone;
  }

  /** null where the run's own data are damaged; that is noted and must not keep the server from starting. */
  #resumable(newest: Standstill): RunToResume | null {
    try {
      return this.#reader.runToResume(newest);
    } catch (error) {
      this.notices.push(`The run that was going cannot be gone on with: ${problemOf(error)}. It has been ended.`);
      return null;
    }
  }

  #newThread(): WriterThread {
    return new WriterThread(this.#writerScript, this.#file, {
      committed: (progress) => this.#backlog.committed(progress),
      failed: (reason) => this.#backlog.failed(reason),
    });
  }

  #knownTurnsOf(run: string): number {
    const turns = this.#turnsOf(run);
    if (turns === null) throw new Error(`there is no run ${run}`);
    return turns;
  }

  #turnsOf(run: string): number | null {
    const known = this.#turns.get(run) ?? this.#reader.standstillOf(run)?.turns ?? null;
    if (known !== null) this.#turns.set(run, known);
    return known;
  }
}
