/** A note as a request brings it. */
import { NOTER_MAX_CHARS, senseOf, TAG_MAX_CHARS, TAGS_MOST } from '../core/record/note-file.ts';
import { object, optional, orNull, list, type Shape, text, textLike, textUpTo, whole } from '../core/record/shape.ts';
import type { NoteInfo } from '../core/show/wire.ts';

const plainNote = object({
  atMs: whole,
  untilMs: optional(whole),
  text,
  tags: optional(list(textUpTo(TAG_MAX_CHARS), TAGS_MOST)),
  by: optional(orNull(textUpTo(NOTER_MAX_CHARS))),
  // The id of its mark (`show/view.ts`), as which it takes the place of another note or of an act.
  replaces: optional(textLike(/^(note-[\w-]{1,64}|event-\d{1,9})$/, 'the id of a note or of an act is wanted')),
});

/** A note says something, or strikes out another; a span does not end before it begins. */
export const noteShape: Shape = {
  ...plainNote,
  check: (value, path) => plainNote.check(value, path) ?? senseOf(value as NewNote, path),
};

export type NewNote = Pick<NoteInfo, 'atMs' | 'text'> & Partial<Pick<NoteInfo, 'untilMs' | 'tags' | 'by' | 'replaces'>>;

/** The note as it is kept. */
export function noteOf({ text: words, by, ...rest }: NewNote, id: string, writtenAtWall: string): NoteInfo {
  return { ...rest, id, text: words.trim(), by: by ?? null, writtenAtWall };
}
