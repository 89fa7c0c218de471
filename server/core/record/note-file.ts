/** A note as it stands in a file: its shape, checked key by key. Knows nothing of lines, nor of what a note is about. */
import type { NoteInfo } from '../show/wire.ts';
import {
  type Fields,
  list,
  object,
  optional,
  orNull,
  type Shape,
  textLike,
  textOfAtMost,
  textUpTo,
  wallTime,
  whole,
} from './shape.ts';

/** Longest note, name and tag, characters, and most tags of one note (ours: what is said with sticky hands fits many times over). */
export const NOTE_MAX_CHARS = 2_000;
export const NOTER_MAX_CHARS = 80;
export const TAG_MAX_CHARS = 40;
export const TAGS_MOST = 20;

const NOTE: Fields<NoteInfo> = {
  id: textLike(/^[\w-]{1,64}$/, '1 to 64 letters, digits or hyphens are wanted'),
  atMs: whole,
  untilMs: optional(whole),
  tags: optional(list(textUpTo(TAG_MAX_CHARS), TAGS_MOST)),
  text: textOfAtMost(NOTE_MAX_CHARS),
  by: orNull(textUpTo(NOTER_MAX_CHARS)),
  writtenAtWall: wallTime,
  // The id of its mark (`show/view.ts`), as which it takes the place of another note or of an act.
  replaces: optional(textLike(/^(note-[\w-]{1,64}|event-\d{1,9})$/, 'the id of a note or of an act is wanted')),
};

export const noteInfoShape: Shape = object(NOTE);
