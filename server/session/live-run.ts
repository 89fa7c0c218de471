/**
 * A run that is going: each input is stepped through the engine, handed to the store with all that came of it, and told when it is on
 * disk, or at once where it cannot wait. Knows neither sockets nor how a run begins.
 */
import { type State, step } from '../core/engine.ts';
import type { RunEvent } from '../core/record/event.ts';
import type { Input, RecordedInput } from '../core/record/input.ts';
import type { Learned } from '../core/record/run.ts';
import type { NoteInfo, RunInfo, ServerMessage } from '../core/show/wire.ts';
import type { Clock } from '../source/source.ts';
import type { Checkpoint, NewRun, RunToResume } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { type LearnedOf, nullIfNothing } from './learned.ts';
import { Told } from './told.ts';
import { type Brought, Untold } from './untold.ts';

/**
 * How much has to be stepped again after a crash, at the most: ms (design: invariant 8), and inputs (ours: by a program that has just begun in some
 * 40 ms of the processor, where a thousand of them take a fifth of a second).
 */
const CHECKPOINT_EVERY_MS = 60_000;
export const CHECKPOINT_EVERY = 200;

export type Tell = (message: ServerMessage) => void;

/** Where a run stands that was begun before: by this server or by the one before it. */
export interface Standpoint {
  readonly state: State;
  /** Recorded turns so far. */
  readonly turns: number;
  readonly before: RunToResume | null;
}

/** What of the store is needed here. */
type Keeping = Pick<Store, 'append' | 'endRun' | 'annotate'>;

interface Surroundings {
  readonly store: Keeping;
  readonly clock: Clock;
  readonly tell: Tell;
  readonly learnedOf: LearnedOf;
}

export class LiveRun {
  readonly run: NewRun;
  readonly told: Told;
  readonly #store: Keeping;
  readonly #clock: Clock;
  readonly #tell: Tell;
  readonly #learnedOf: LearnedOf;
  readonly #untold = new Untold();
  /** Events that a deadline brought, to be recorded with the next input: a stored log is always what its inputs give. */
  #unrecorded: readonly RunEvent[] = [];
  #state: State;
  #turns: number;
  #checkpointAtMs: number;
  /** Inputs since then. */
  #sinceCheckpoint: number;
  #ended = false;
  /** Whether pages know that there is such a run on record. */
  #isListed: boolean;

  constructor(run: NewRun, standpoint: Standpoint, { store, clock, tell, learnedOf }: Surroundings) {
    const { state, turns, before } = standpoint;
    this.run = run;
    this.#store = store;
    this.#clock = clock;
    this.#tell = tell;
    this.#learnedOf = learnedOf;
    this.#state = state;
    this.#turns = turns;
    this.#checkpointAtMs = before?.lastAtMs ?? run.startedAtMs;
    this.#sinceCheckpoint = before?.inputsSince.length ?? 0;
    this.#isListed = before !== null;
    this.told = new Told(run.bowl, infoOf(run, before !== null), before?.notes ?? []);
    if (before !== null) this.#tellAgain(before);
  }

  get state(): State {
    return this.#state;
  }

  /** The run's last event has been `run-ended`. */
  get ended(): boolean {
    return this.#ended;
  }

  feed(input: Input): void {
    const { state, events, readings } = step(this.#state, input);
    this.#state = state;
    if (events.some((event) => event.kind === 'run-ended')) this.#ended = true;
    this.#record(input, events, readings);
    // A deadline's events are on disk with the turn that comes next.
    const turn = input.kind === 'tick' ? this.#turns + 1 : this.#turns;
    if (events.length > 0 || readings.length > 0) {
      this.#pass(this.#untold.add({ turn, sinceMs: this.#clock.nowMs(), events, readings }));
    }
    this.tellOverdue();
  }

  /** A stalled disk silences nothing: what has waited too long is told. */
  tellOverdue(): void {
    this.#pass(this.#untold.overdue(this.#clock.nowMs()));
  }

  /** The store has this much of the run on disk. */
  committed(seq: number, turns: number): void {
    this.#tellListed(turns);
    const recordGrew = this.told.recorded(seq);
    const ready = this.#untold.committed(turns);
    if (ready.length > 0) this.#pass(ready);
    else if (recordGrew) this.#tell(this.told.recordNews());
  }

  note(note: NoteInfo): void {
    this.#store.annotate(this.run.run, note);
    this.#tell(this.told.note(note));
  }

  /** Tells whatever is left: another run is about to begin. */
  tellAll(): void {
    this.#pass(this.#untold.all());
  }

  /** Whoever shows the list, or this run as it is kept, asks anew when it has begun and when it is over, and finds it so on disk. */
  #tellListed(turns: number): void {
    const isOver = this.#ended && turns >= this.#turns;
    if (this.#isListed && !isOver) return;
    this.#isListed = true;
    this.#tell({ kind: 'run-changed', bowl: this.run.bowl, run: this.run.run });
  }

  #record(input: Input, events: readonly RunEvent[], readings: Brought['readings']): void {
    if (input.kind === 'tick') {
      this.#unrecorded = [...this.#unrecorded, ...events];
      return;
    }
    const turn = { input, events: [...this.#unrecorded, ...events], readings };
    this.#unrecorded = [];
    this.#turns++;
    const checkpoint = this.#checkpointDue(input);
    if (checkpoint === null) this.#store.append(this.run.run, turn);
    else this.#store.append(this.run.run, turn, checkpoint);
    if (this.#ended) this.#store.endRun(this.run.run, input.atMs, this.#learned());
  }

  #checkpointDue(input: RecordedInput): Checkpoint | null {
    this.#sinceCheckpoint++;
    const isYoung = input.atMs - this.#checkpointAtMs < CHECKPOINT_EVERY_MS;
    if (isYoung && this.#sinceCheckpoint < CHECKPOINT_EVERY) return null;
    this.#checkpointAtMs = input.atMs;
    this.#sinceCheckpoint = 0;
    return { atMs: input.atMs, state: JSON.stringify(this.#state), learned: this.#learned() };
  }

  #learned(): Learned | null {
    return nullIfNothing(this.#learnedOf(this.#state));
  }

  #pass(brought: readonly Brought[]): void {
    const news = this.told.tell(brought);
    if (news !== null) this.#tell(news);
  }

  /** What the server before this one recorded counts as told and recorded. */
  #tellAgain({ events, readings, lastAtMs }: RunToResume): void {
    this.told.tell([{ turn: this.#turns, sinceMs: lastAtMs, events, readings }]);
    this.told.recorded(events.length);
  }
}

function infoOf({ run, header, simulated, startedAtMs, startedAtWall }: NewRun, resumed: boolean): RunInfo {
  const { profile, condition, probeLagS } = header;
  return { run, profile, condition, simulated, startedAtMs, startedAtWall, probeLagS, resumed };
}
