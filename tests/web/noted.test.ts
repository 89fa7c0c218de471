/** What was noted, as a list: newest first, with what stood there before. */
import { expect, test } from 'vitest';
import type { RunEvent } from '../../server/core/record/event.ts';
import { emptyView, foldEvents, foldNote } from '../../server/core/show/view.ts';
import type { NoteInfo } from '../../server/core/show/wire.ts';
import { notedOf, struckOf } from '../../web/noted.ts';

const EVENTS: readonly RunEvent[] = [
  { seq: 1, atMs: 1_000, kind: 'act', act: 'stirred' },
  { seq: 2, atMs: 2_000, kind: 'act', act: 'off-heat' },
];

function note(id: string, atMs: number, text: string, replaces?: string): NoteInfo {
  const written = { id, atMs, text, by: 'Ana', writtenAtWall: '' };
  return replaces === undefined ? written : { ...written, replaces };
}

const NOTES = [
  note('a', 1_500, 'second tray'),
  note('b', 1_500, 'third tray', 'note-a'),
  note('c', 1_500, 'fourth tray', 'note-b'),
  note('d', 2_000, 'off the cold', 'event-2'),
  note('e', 1_000, '', 'event-1'),
];

test('each stands once, newest first, with all it said before', () => {
  const { marks } = NOTES.reduce(foldNote, foldEvents(emptyView, EVENTS));
  expect(notedOf(marks, NOTES, EVENTS)).toEqual([
    { id: 'note-d', atMs: 2_000, text: 'off the cold', earlier: ['off the heat'] },
    { id: 'note-c', atMs: 1_500, text: 'fourth tray', earlier: ['second tray', 'third tray'] },
  ]);
  expect(notedOf(marks).map(({ earlier }) => earlier)).toEqual([[], []]);
});

test('a note over a span carries both its moments and its tags, and what it was says its tags', () => {
  const over = { ...note('f', 5_000, 'too warm'), untilMs: 9_000, tags: ['bath'] };
  const later = { ...note('g', 5_000, 'far too warm', 'note-f'), untilMs: 8_000 };
  expect(notedOf(foldNote(emptyView, over).marks)).toEqual([
    { id: 'note-f', atMs: 5_000, untilMs: 9_000, tags: ['bath'], text: 'too warm', earlier: [] },
  ]);
  const { marks } = [over, later].reduce(foldNote, emptyView);
  expect(notedOf(marks, [over, later])).toEqual([
    { id: 'note-g', atMs: 5_000, untilMs: 8_000, text: 'far too warm', earlier: ['too warm (bath)'] },
  ]);
});

test('what was struck out is told of with all it said, newest first', () => {
  const gone = [...NOTES, note('h', 1_500, '', 'note-c'), note('i', 3_000, '', 'note-none')];
  expect(struckOf(gone, EVENTS)).toEqual([
    { id: 'note-h', atMs: 1_500, text: 'fourth tray', earlier: ['second tray', 'third tray'] },
    { id: 'note-e', atMs: 1_000, text: 'stirred', earlier: [] },
  ]);
});

test('notes that name each other in a ring, as no page writes them, end', () => {
  const ring = [note('a', 1, 'a', 'note-b'), note('b', 1, 'b', 'note-a')];
  const mark = { kind: 'note', id: 'note-a', atMs: 1, text: 'a', by: null } as const;
  expect(notedOf([mark], ring)[0]!.earlier).toEqual(['b']);
});
