/** A stored run as lines to read: events and notes in the order of time. Pure. */
import { viewAt } from './playback.ts';
import type { OpenedRun } from './fetched.ts';
import { withTags } from './words/names.ts';
import { logLine } from './words/log.ts';
import type { LogLine } from './words/log.ts';

/** Whatever a later note took the place of, or struck out, is left out. */
export function linesOf(run: OpenedRun): readonly LogLine[] {
  const { struck } = viewAt(run, Infinity);
  const told = run.events.map(logLine).filter((line) => line !== null);
  const current = run.notes.filter(({ id, text }) => text !== '' && !struck.includes(`note-${id}`));
  const notes = current.map((note): LogLine => ({
    id: `note-${note.id}`,
    atMs: note.atMs,
    ...(note.untilMs === undefined ? {} : { untilMs: note.untilMs }),
    text: withTags(note.text, note.tags),
    voice: 'person',
    weight: 'plain',
  }));
  return [...told.filter(({ id }) => !struck.includes(id)), ...notes].toSorted((a, b) => a.atMs - b.atMs);
}

/** The moments that playback steps between: each only once, oldest first. */
export function momentsOf(lines: readonly LogLine[]): readonly number[] {
  return [...new Set(lines.map(({ atMs }) => atMs))];
}
