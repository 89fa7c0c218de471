/**
 * What has been handed over and is not on disk yet, in order. One batch is under way at a time; the rest waits in bounded memory,
 * is tried again for ever, and nothing leaves it before the disk has it. Knows neither threads nor files.
 */
import type { Entry, LostEntry, Progress, TurnEntry } from './batch.ts';
import { STALLED } from './problems.ts';
import type { LostSpan, StoreHealth } from './records.ts';

/** A commit follows the first entry by this much, ms, so that neighbours share it: with the commit itself under 250 ms. */
const GATHER_MS = 100;
/** As many waiting entries are committed at once (ours: a second of ten busy thermometers). */
const LARGE_BATCH = 256;
/** Most entries in one transaction (ours: some tens of milliseconds of work). */
const MAX_BATCH = 2_000;
/** A batch unanswered for so long means that the disk stalls, ms. */
const STALL_MS = 1_000;
/** Pauses between attempts, ms: doubling from the first to the last. */
const FIRST_RETRY_MS = 250;
const LAST_RETRY_MS = 5_000;
/** Most turns kept in memory: more than an hour at 10 a second, some 40 MB (ours). */
export const MAX_WAITING_TURNS = 40_000;
/** Oldest turns given up at a time when even that is full (ours: seldom enough to cost nothing). */
const GIVE_UP_TURNS = 1_000;

export interface BacklogHooks {
  readonly post: (entries: readonly Entry[]) => void;
  readonly committed: (progress: Progress) => void;
  readonly health: (health: StoreHealth) => void;
}

interface Waiter {
  /** Entries still to be committed before it is content. */
  left: number;
  readonly done: () => void;
  readonly failed: (reason: string) => void;
}

export class Backlog {
  readonly #hooks: BacklogHooks;
  #entries: Entry[] = [];
  #turns = 0;
  /** How many of the oldest entries are with the writer. */
  #underWay = 0;
  #retryMs = FIRST_RETRY_MS;
  #timer: NodeJS.Timeout | null = null;
  #stallTimer: NodeJS.Timeout | null = null;
  #trouble: { readonly reason: string; readonly sinceWallMs: number } | null = null;
  /** When the oldest entry was handed over. */
  #oldestWallMs = 0;
  #waiters: Waiter[] = [];
  #isHeld = false;

  constructor(hooks: BacklogHooks) {
    this.#hooks = hooks;
  }

  add(entry: Entry): void {
    if (this.#entries.length === 0) this.#oldestWallMs = Date.now();
    this.#entries.push(entry);
    if (entry.kind === 'turn') this.#turns += 1;
    if (this.#turns > MAX_WAITING_TURNS) this.#giveUpOldest();
    if (this.#trouble === null && this.#entries.length >= LARGE_BATCH) this.#send();
    else this.#sendIn(GATHER_MS);
  }

  health(): StoreHealth {
    if (this.#trouble === null) return { recording: true };
    return { recording: false, ...this.#trouble, waiting: this.#entries.length };
  }

  /** Those of the entries that wait, or are under way, that are wanted; oldest first. */
  waiting<E extends Entry>(isWanted: (entry: Entry) => entry is E): E[] {
    return this.#entries.filter(isWanted);
  }

  /** All entries up to now are on disk; rejects as soon as the disk refuses them. A disk that stalls is waited for. */
  flush(): Promise<void> {
    if (this.#entries.length === 0) return Promise.resolve();
    if (this.#trouble !== null && this.#underWay === 0) return Promise.reject(new Error(this.#trouble.reason));
    return new Promise((resolve, reject) => {
      const left = this.#entries.length;
      this.#waiters.push({ left, done: resolve, failed: (reason) => reject(new Error(reason)) });
      this.#send();
    });
  }

  /** The batch under way is on disk. */
  committed(progress: readonly Progress[]): void {
    this.#settle();
    this.#remove(this.#underWay);
    this.#retryMs = FIRST_RETRY_MS;
    for (const one of progress) this.#hooks.committed(one);
    if (this.#entries.length === 0) this.#recovered();
    else if (this.#trouble !== null || this.#waiters.length > 0) this.#send();
    else this.#sendIn(GATHER_MS);
  }

  /** The batch under way, if any, is not on disk, or nobody can tell: it will be sent again. */
  failed(reason: string): void {
    this.#settle();
    this.#underWay = 0;
    if (this.#entries.length === 0) return;
    this.#inTrouble(reason);
    for (const waiter of this.#waiters) waiter.failed(reason);
    this.#waiters = [];
    this.#sendIn(this.#retryMs);
    this.#retryMs = Math.min(LAST_RETRY_MS, this.#retryMs * 2);
  }

  /** Nothing waits and nothing is under way. */
  get isEmpty(): boolean {
    return this.#entries.length === 0;
  }

  /** Nothing is sent until it goes on; what is added waits. To be called with nothing under way. */
  hold(): void {
    this.#isHeld = true;
    this.stop();
  }

  goOn(): void {
    this.#isHeld = false;
    this.#send();
  }

  /** Nothing more is sent or tried. */
  stop(): void {
    this.#settle();
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
  }

  #sendIn(delayMs: number): void {
    if (this.#timer !== null || this.#underWay > 0 || this.#isHeld) return;
    this.#timer = setTimeout(() => {
      this.#timer = null;
      this.#send();
    }, delayMs);
  }

  #send(): void {
    if (this.#underWay > 0 || this.#entries.length === 0 || this.#isHeld) return;
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
    const batch = this.#entries.slice(0, MAX_BATCH);
    this.#underWay = batch.length;
    this.#stallTimer = setTimeout(() => this.#inTrouble(STALLED), STALL_MS);
    this.#hooks.post(batch);
  }

  #settle(): void {
    if (this.#stallTimer !== null) clearTimeout(this.#stallTimer);
    this.#stallTimer = null;
  }

  #remove(count: number): void {
    for (const entry of this.#entries.splice(0, count)) if (entry.kind === 'turn') this.#turns -= 1;
    this.#underWay = 0;
    this.#oldestWallMs = wallMsOf(this.#entries[0]) ?? Date.now();
    for (const waiter of this.#waiters) waiter.left = Math.min(waiter.left - count, this.#entries.length);
    for (const waiter of this.#waiters) if (waiter.left <= 0) waiter.done();
    this.#waiters = this.#waiters.filter((waiter) => waiter.left > 0);
  }

  #inTrouble(reason: string): void {
    const isNews = this.#trouble?.reason !== reason;
    this.#trouble = { reason, sinceWallMs: this.#trouble?.sinceWallMs ?? this.#oldestWallMs };
    if (isNews) this.#hooks.health(this.health());
  }

  #recovered(): void {
    if (this.#trouble === null) return;
    this.#trouble = null;
    this.#hooks.health(this.health());
  }

  #giveUpOldest(): void {
    const held = this.#entries.slice(0, this.#underWay);
    this.#entries = [...held, ...withoutOldest(this.#entries.slice(this.#underWay), GIVE_UP_TURNS)];
    this.#turns -= GIVE_UP_TURNS;
  }
}

function wallMsOf(entry: Entry | undefined): number | null {
  return entry !== undefined && 'wallMs' in entry ? entry.wallMs : null;
}

/** The entries with the `count` oldest turns shrunk to one mark per run, standing where the first of them stood. */
function withoutOldest(entries: readonly Entry[], count: number): Entry[] {
  const kept: Entry[] = [];
  const marks = new Map<string, { readonly at: number; readonly mark: LostEntry }>();
  let left = count;
  for (const entry of entries) {
    if ((entry.kind !== 'turn' && entry.kind !== 'lost') || left === 0) {
      kept.push(entry);
      continue;
    }
    if (entry.kind === 'turn') left -= 1;
    const mark = entry.kind === 'lost' ? entry : markFor(entry);
    const before = marks.get(entry.run);
    const at = before?.at ?? kept.length;
    const whole = before === undefined ? mark : joinedMarks(before.mark, mark);
    kept[at] = whole;
    marks.set(entry.run, { at, mark: whole });
  }
  return kept;
}

function markFor({ run, turn, wallMs, content, checkpoint }: TurnEntry): LostEntry {
  const { atMs } = content.input;
  return {
    kind: 'lost',
    run,
    span: { fromTurn: turn, toTurn: turn, fromMs: atMs, toMs: atMs },
    wallMs,
    events: content.events,
    checkpoint: checkpoint === null ? null : { turn, checkpoint },
  };
}

function joinedMarks(older: LostEntry, newer: LostEntry): LostEntry {
  const span: LostSpan = { ...newer.span, fromTurn: older.span.fromTurn, fromMs: older.span.fromMs };
  return {
    ...newer,
    span,
    events: [...older.events, ...newer.events],
    checkpoint: newer.checkpoint ?? older.checkpoint,
  };
}
