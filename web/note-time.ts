/** What a note is about: a moment, or a span from one to another. Moved in steps, by buttons, never out of the run. Pure. */
import type { NoteInfo } from '../server/core/show/wire.ts';

export interface NoteTime {
  /** Feed clock; null: the latest there is, which in a run that goes moves on until the note is made. */
  readonly fromMs: number | null;
  readonly isSpan: boolean;
  /** Of a span; null as above. */
  readonly untilMs: number | null;
}

/** The stretch a note may be about. */
export interface Within {
  readonly earliestMs: number;
  readonly latestMs: number;
}

export const LATEST: NoteTime = { fromMs: null, isSpan: false, untilMs: null };

/** Steps a time is moved by, ms (ours: a fine one, and one to get somewhere). */
export const NOTE_STEPS_MS = [-60_000, -10_000, 10_000, 60_000] as const;

export function timeOf({ atMs, untilMs }: Pick<NoteInfo, 'atMs' | 'untilMs'>): NoteTime {
  return { fromMs: atMs, isSpan: untilMs !== undefined, untilMs: untilMs ?? null };
}

/** Moves one end; the other gives way, so that a span never ends before it begins. */
export function moved(time: NoteTime, end: 'from' | 'until', byMs: number, within: Within): NoteTime {
  const keep = (atMs: number): number => Math.min(within.latestMs, Math.max(within.earliestMs, atMs));
  const { atMs, untilMs = atMs } = timesOf(time, within.latestMs);
  if (end === 'until') {
    const until = keep(untilMs + byMs);
    return { ...time, fromMs: Math.min(atMs, until), untilMs: until };
  }
  const from = keep(atMs + byMs);
  const isLatest = from >= within.latestMs && time.fromMs === null;
  return {
    ...time,
    fromMs: isLatest ? null : from,
    untilMs: time.untilMs === null ? null : Math.max(time.untilMs, from),
  };
}

/** The times of the note when it is made; `latestMs` is now, or the end of the run. */
export function timesOf({ fromMs, isSpan, untilMs }: NoteTime, latestMs: number): Pick<NoteInfo, 'atMs' | 'untilMs'> {
  const atMs = Math.round(fromMs ?? latestMs);
  if (!isSpan) return { atMs };
  return { atMs, untilMs: Math.max(atMs, Math.round(untilMs ?? latestMs)) };
}

/** Longest tag and most tags, as the server takes them (`core/record/card.ts`). */
export const TAG_MAX_CHARS = 40;
export const TAGS_MOST = 20;

/** Tags from one line in which commas stand between them: each once, as they were written. */
export function tagsOf(line: string): readonly string[] {
  const tags = line.split(',').map((tag) => tag.trim().replaceAll(/\s+/g, ' '));
  return [...new Set(tags.filter((tag) => tag !== ''))];
}

/** What of them the server would not take; null: nothing. */
export function tagFault(tags: readonly string[]): 'long' | 'many' | null {
  if (tags.some((tag) => tag.length > TAG_MAX_CHARS)) return 'long';
  return tags.length > TAGS_MOST ? 'many' : null;
}

export function tagLine(tags: readonly string[]): string {
  return tags.join(', ');
}
