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
  | ArrivalEntry
  | { readonly kind: 'judgement'; readonly run: string; readonly judged: Judged }
  | { readonly kind: 'drop-judgement'; readonly run: string; readonly id: string }
  /** null: out of the bin again. */
  | { readonly kind: 'bin'; readonly run: string; readonly binnedAtWall: string | null }
  | PurgeEntry;

/** In the bin since before all time: it is being deleted, and no longer shown. Cut off in the middle, it is gone on with like any that is overdue. */
export const DOOMED_AT_WALL = '0000-01-01T00:00:00.000Z';

/** A piece of a run that lies in the bin is deleted for good; so often repeated, nothing of it is left. */
export interface PurgeEntry {
  readonly kind: 'purge';
  readonly run: string;
  /** Only if it has lain there since before this moment, ISO 8601; null: however long. */
  readonly before: string | null;
}

export interface CardLine {
  readonly kind: 'card';
  readonly run: string;
  readonly entry: CardEntry;
}

/** A run from elsewhere, bit by bit (`arrivals.ts`). `hidden`: what it is called until it is whole. */
export type ArrivalEntry =
  /** `run` has the hidden name here. It lies as if doomed, so that what is cut off is deleted some day. */
  | { readonly kind: 'arriving'; readonly run: NewRun; readonly wallMs: number; readonly ending: ArrivalEnding }
  | RowsEntry
  | { readonly kind: 'arrived'; readonly run: string; readonly hidden: string }
  /** It was told not to have come: if it did after all, it is hidden again. */
  | {
      readonly kind: 'turned-away';
      readonly run: string;
      readonly hidden: string;
      readonly importedAtWall: string;
    };

type ArrivalEnding = Omit<IncomingRun, 'inputs' | 'events' | 'blocks' | 'notes' | 'card'> & {
  readonly turns: number;
  readonly seq: number;
};

type RowsOf<K extends 'inputs' | 'events' | 'blocks' | 'notes' | 'card'> = {
  readonly kind: 'rows';
  readonly hidden: string;
  /** Number of the first, from 0. */
  readonly first: number;
  readonly of: K;
  readonly rows: IncomingRun[K];
};

export type RowsEntry = RowsOf<'inputs'> | RowsOf<'events'> | RowsOf<'blocks'> | RowsOf<'notes'> | RowsOf<'card'>;

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
