/** What the two halves of the store say to each other across the thread boundary: entries to be written, and how far the disk has come. */
import type { CardEntry } from '../core/record/card.ts';
import type { RunEvent } from '../core/record/event.ts';
import type { Learned } from '../core/record/run.ts';
import type { NoteInfo } from '../core/show/wire.ts';
import type { IncomingRun } from './incoming.ts';
import type { Judged } from '../judging/messages.ts';
import type { Checkpoint, LostSpan, NewRun, Turn } from './records.ts';

/** `turn` counts a run's turns from 1, so that writing an entry twice is the same as writing it once. `wallMs`: when it was handed over. */
export type Entry =
  | { readonly kind: 'begin'; readonly run: NewRun; readonly wallMs: number }
  | TurnEntry
  | LostEntry
  | EndEntry
  | { readonly kind: 'note'; readonly run: string; readonly note: NoteInfo }
  | CardLine
  | ImportEntry
  | { readonly kind: 'judgement'; readonly run: string; readonly judged: Judged }
  | { readonly kind: 'drop-judgement'; readonly run: string; readonly id: string }
  /** null: out of the bin again. */
  | { readonly kind: 'bin'; readonly run: string; readonly binnedAtWall: string | null }
  /** A piece of a run that lies in the bin is deleted for good; so often repeated, nothing of it is left. */
  | { readonly kind: 'purge'; readonly run: string };

/** In the bin since before all time: it is being deleted, and no longer shown. Cut off in the middle, it is gone on with like any that is overdue. */
export const DOOMED_AT_WALL = '0000-01-01T00:00:00.000Z';

export interface CardLine {
  readonly kind: 'card';
  readonly run: string;
  readonly entry: CardEntry;
}

/** A whole run from elsewhere, in the rows it will be: all of it or nothing. */
export interface ImportEntry {
  readonly kind: 'import';
  readonly run: NewRun;
  readonly wallMs: number;
  readonly content: IncomingRun;
}

export interface TurnEntry {
  readonly kind: 'turn';
  readonly run: string;
  readonly turn: number;
  readonly wallMs: number;
  readonly content: Turn;
  readonly checkpoint: Checkpoint | null;
}

/** `learned` null: whoever ended it does not know. */
export interface EndEntry {
  readonly kind: 'end';
  readonly run: string;
  readonly endedAtMs: number;
  readonly learned: Learned | null;
}

/** What is left of turns that memory could not hold: the mark, their events and the newest checkpoint among them. */
export interface LostEntry {
  readonly kind: 'lost';
  readonly run: string;
  readonly span: LostSpan;
  readonly wallMs: number;
  readonly events: readonly RunEvent[];
  readonly checkpoint: { readonly turn: number; readonly checkpoint: Checkpoint } | null;
}

/** How far a run is on disk. `seq` 0: no event yet. */
export interface Progress {
  readonly run: string;
  readonly seq: number;
  readonly turns: number;
}

export type ToWriter = { readonly kind: 'batch'; readonly entries: readonly Entry[] } | { readonly kind: 'close' };

export type FromWriter =
  | { readonly kind: 'committed'; readonly progress: readonly Progress[] }
  | { readonly kind: 'failed'; readonly reason: string };
