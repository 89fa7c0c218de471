/** What the judging thread is told when it starts, and what it says back. */
import type { RunEvent } from '../core/record/event.ts';
import type { Judgement } from '../core/record/judgement.ts';
import type { Profile } from '../core/record/profile.ts';
import type { Tile } from '../core/show/wire.ts';

export interface Task {
  /** The data file, absolute. */
  readonly file: string;
  readonly run: string;
  readonly id: string;
  readonly judgedAtWall: string;
  /** null: the run's own. */
  readonly profile: Profile | null;
}

/** A judgement with all that belongs to it, as it is kept. */
export interface Judged {
  readonly judgement: Judgement;
  readonly events: readonly RunEvent[];
  /** The curve of the second log's estimates. */
  readonly tiles: readonly Tile[];
}

export type FromJudge =
  /** How much of it is done, 0 to 1. */
  | { readonly kind: 'progress'; readonly share: number }
  | { readonly kind: 'judged'; readonly judged: Judged }
  | { readonly kind: 'failed'; readonly reason: string };
