/** The bowls on the bench, each with its session and its bell: those there are at the start, and those that come and go. */
import { type Bench, type BenchBowl, bowlName, renamed, withBowl, withoutBowl } from './bench.ts';
import type { Bell } from '../bell/bell.ts';
import type { KeptBench } from './kept-bench.ts';
import type { Session } from '../session/session.ts';

export interface BowlsOptions {
  readonly bench: KeptBench;
  /** Where the sessions stand, for whoever has to look them up: empty at first. */
  readonly sessions: Map<string, Session>;
  readonly session: (bowl: string) => Session;
}

/** What a bowl that comes or goes has to be told to. */
export interface Follower {
  readonly came: (session: Session) => void;
  readonly went: (session: Session) => void;
}

/** Why a bowl cannot be taken away. */
export type Kept = 'unknown' | 'going' | 'last';

export class Bowls {
  /** By id, in the order of the bench. */
  readonly sessions: Map<string, Session>;
  readonly #options: BowlsOptions;
  readonly #followers: Follower[] = [];

  constructor(options: BowlsOptions) {
    this.#options = options;
    this.sessions = options.sessions;
    for (const { bowl } of options.bench.now.bowls) this.sessions.set(bowl, options.session(bowl));
  }

  get bench(): Bench {
    return this.#options.bench.now;
  }

  /** The bowl that comes first; there is always one. */
  get first(): Session {
    return this.sessions.values().next().value!;
  }

  get isAnyGoing(): boolean {
    return [...this.sessions.values()].some((session) => session.status().state === 'going');
  }

  /** What a bowl is called where it has to be told from others; null: it is the only one. */
  nameOf(bowl: string): string | null {
    return this.bench.bowls.length === 1 ? null : bowlName(this.bench, bowl);
  }

  /** Is told of every bowl that comes or goes from now on. */
  follow(follower: Follower): void {
    this.#followers.push(follower);
  }

  /** null: the bench is full. */
  add(name: string | null): BenchBowl | null {
    const next = withBowl(this.bench, name);
    if (next === null) return null;
    const added = next.bowls.at(-1)!;
    const session = this.#options.session(added.bowl);
    this.sessions.set(added.bowl, session);
    for (const { came } of this.#followers) came(session);
    this.#options.bench.change(next);
    return added;
  }

  /** False where there is no such bowl. */
  rename(bowl: string, name: string | null): boolean {
    if (!this.sessions.has(bowl)) return false;
    this.#options.bench.change(renamed(this.bench, bowl, name));
    return true;
  }

  /** null: it is gone. */
  remove(bowl: string): Kept | null {
    const session = this.sessions.get(bowl);
    if (session === undefined) return 'unknown';
    if (session.status().state === 'going') return 'going';
    if (this.sessions.size === 1) return 'last';
    this.sessions.delete(bowl);
    session.close();
    for (const { went } of this.#followers) went(session);
    this.#options.bench.change(withoutBowl(this.bench, bowl));
    return null;
  }
}

/** One bell for each bowl, as each may ring by itself. */
export class Bells {
  readonly #bells = new Map<string, Bell>();
  readonly #make: (session: Session) => Bell;

  constructor(make: (session: Session) => Bell) {
    this.#make = make;
  }

  start(session: Session): void {
    const bell = this.#make(session);
    this.#bells.set(session.bowl, bell);
    bell.start();
  }

  stop(bowl: string): void {
    this.#bells.get(bowl)?.close();
    this.#bells.delete(bowl);
  }

  isLeftAlone(bowl: string): boolean {
    return this.#bells.get(bowl)?.isLeftAlone ?? false;
  }

  close(): void {
    for (const bell of this.#bells.values()) bell.close();
  }
}
