/** What a person noted in a run, acts and words alike, newest first, each with what stood in its place before. Pure. */
import type { RunEvent } from '../server/core/record/event.ts';
import type { Mark } from '../server/core/show/view.ts';
import type { NoteInfo } from '../server/core/show/wire.ts';
import { ACT_NAME, withTags } from './words/names.ts';

/** Longest note, characters (ours: a few lines of a run sheet). */
export const NOTE_MAX_CHARS = 500;

export interface Noted {
  readonly id: string;
  readonly atMs: number;
  /** Where it is about a span: the moment that ends it. */
  readonly untilMs?: number;
  readonly tags?: readonly string[];
  readonly text: string;
  /** What it said before it was changed, oldest first. */
  readonly earlier: readonly string[];
}

/** What a note says and is about, as somebody has changed it. */
export type NoteChange = Pick<Noted, 'atMs' | 'untilMs' | 'tags' | 'text'>;

/** `notes` and `events`: all that was ever written, for what stood there before; empty where nobody asks. */
export function notedOf(
  marks: readonly Mark[],
  notes: readonly NoteInfo[] = [],
  events: readonly RunEvent[] = [],
): readonly Noted[] {
  const noted = marks.flatMap((mark): Noted[] => {
    if (mark.kind === 'alarm') return [];
    const earlier = earlierThan(mark.id, notes, events);
    if (mark.kind === 'act') return [{ id: mark.id, atMs: mark.atMs, text: ACT_NAME[mark.act], earlier }];
    const { kind: _, by: __, ...said } = mark;
    return [{ ...said, earlier }];
  });
  return noted.toReversed();
}

/** What was struck out, newest first, each with what it said. `notes` and `events`: all that was ever written. */
export function struckOf(notes: readonly NoteInfo[], events: readonly RunEvent[]): readonly Noted[] {
  const empty = notes.filter(({ text, replaces }) => text === '' && replaces !== undefined);
  const struck = empty.map(({ id, atMs }): Noted => {
    const earlier = earlierThan(`note-${id}`, notes, events);
    return { id: `note-${id}`, atMs, text: earlier.at(-1) ?? '', earlier: earlier.slice(0, -1) };
  });
  return struck.filter(({ text }) => text !== '').toSorted((a, b) => b.atMs - a.atMs);
}

function earlierThan(id: string, notes: readonly NoteInfo[], events: readonly RunEvent[]): readonly string[] {
  const replaced = notes.find((note) => `note-${note.id}` === id)?.replaces;
  if (replaced === undefined) return [];
  const text = saidIn(replaced, notes, events);
  const others = notes.filter((note) => `note-${note.id}` !== id);
  return text === undefined ? [] : [...earlierThan(replaced, others, events), text];
}

function saidIn(id: string, notes: readonly NoteInfo[], events: readonly RunEvent[]): string | undefined {
  const act = events.find(({ kind, seq }) => kind === 'act' && `event-${seq}` === id);
  if (act?.kind === 'act') return ACT_NAME[act.act];
  const note = notes.find((each) => `note-${each.id}` === id);
  return note === undefined ? undefined : withTags(note.text, note.tags);
}
