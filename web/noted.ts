/** What a person noted in a run, acts and words alike, newest first, each with what stood in its place before. Pure. */
import type { RunEvent } from '../server/core/record/event.ts';
import type { Mark } from '../server/core/show/view.ts';
import type { NoteInfo } from '../server/core/show/wire.ts';
import { ACT_NAME } from './words/names.ts';

/** Longest note, characters (ours: a few lines of a run sheet). */
export const NOTE_MAX_CHARS = 500;

export interface Noted {
  readonly id: string;
  readonly atMs: number;
  readonly text: string;
  /** What it said before it was changed, oldest first. */
  readonly earlier: readonly string[];
}

/** `notes` and `events`: all that was ever written, for what stood there before; empty where nobody asks. */
export function notedOf(
  marks: readonly Mark[],
  notes: readonly NoteInfo[] = [],
  events: readonly RunEvent[] = [],
): readonly Noted[] {
  const noted = marks.flatMap((mark): Noted[] => {
    if (mark.kind === 'alarm') return [];
    const text = mark.kind === 'note' ? mark.text : ACT_NAME[mark.act];
    return [{ id: mark.id, atMs: mark.atMs, text, earlier: earlierThan(mark.id, notes, events) }];
  });
  return noted.toReversed();
}

function earlierThan(id: string, notes: readonly NoteInfo[], events: readonly RunEvent[]): readonly string[] {
  const replaced = notes.find((note) => `note-${note.id}` === id)?.replaces;
  if (replaced === undefined) return [];
  const act = events.find(({ kind, seq }) => kind === 'act' && `event-${seq}` === replaced);
  const text = act?.kind === 'act' ? ACT_NAME[act.act] : notes.find((note) => `note-${note.id}` === replaced)?.text;
  return text === undefined
    ? []
    : [
        ...earlierThan(
          replaced,
          notes.filter((note) => `note-${note.id}` !== id),
          events,
        ),
        text,
      ];
}
