/** A note as it stands in a file: its shape, checked key by key. Knows nothing of lines, nor of what a note is about. */
import type { NoteInfo } from '../show/wire.ts';
import {
  type Complaint,
  type Fields,
  list,
  object,
  optional,
  orNull,
  type Shape,
  shown,
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

const plainNote = object(NOTE);

export const noteInfoShape: Shape = {
  ...plainNote,
  check: (value, path) => plainNote.check(value, path) ?? senseOf(value as NoteInfo, path),
};

/** What is wrong with a note of the right form; null: it says something or strikes out another, and does not end before it begins. */
export function senseOf(
  { atMs, untilMs, text, replaces }: Pick<NoteInfo, 'atMs' | 'untilMs' | 'text' | 'replaces'>,
  path: string,
): Complaint | null {
  const at = (key: string): string => (path === '' ? key : `${path}.${key}`);
  const isEmpty = text.trim() === '' && replaces === undefined;
  if (isEmpty || text.length > NOTE_MAX_CHARS)
    return { path: at('text'), value: shown(text), rule: `1 to ${NOTE_MAX_CHARS} characters are wanted` };
  if (untilMs !== undefined && untilMs < atMs)
    return { path: at('untilMs'), value: shown(untilMs), rule: `a span that began at ${atMs} cannot end before that` };
  return null;
}
