/** Files that are no runs of ours, or spoiled ones: what is refused, and what is said of it. */
import { describe, expect, it } from 'vitest';
import { decodeRunFile, encodeRunFile } from '../../server/core/record/trace.ts';
import type { NoteInfo } from '../../server/core/show/wire.ts';
import { readTrace, storyNames } from '../support/fixtures.ts';
import { exported, kitchenWithRun, sent } from '../support/handed.ts';
import { openKitchen } from '../support/server.ts';
import { allRuns } from '../support/store.ts';

let handedOver: string | null = null;

/** The file of a run, made once for all that spoil it. */
async function fileOfRun(): Promise<string> {
  if (handedOver !== null) return handedOver;
  const { kitchen, run } = await kitchenWithRun();
  return (handedOver = await exported(kitchen, run));
}

/** The file with one of its lines changed; its checksum no longer fits, which is seen only at the end. */
function changed(text: string, line: number, change: (value: Record<string, unknown>) => unknown): string {
  const lines = text.split('\n');
  lines[line - 1] = JSON.stringify(change(JSON.parse(lines[line - 1]!) as Record<string, unknown>));
  return lines.join('\n');
}

describe('a file that is no run of ours', () => {
  it.each([
    ['nothing', () => '  \n', 'The file is empty, or no text.'],
    ['a picture', () => '\u0089PNG\r\n\u001a\n\u0000\u0000', 'The file is empty, or no text.'],
    [
      'one cut short',
      (text: string) => text.slice(0, text.lastIndexOf('{')),
      /^Line \d+: the checksum line is missing/,
    ],
    [
      'a changed number',
      (text: string) => text.replace('"chocolate":30}', '"chocolate":31}'),
      /^Line \d+: the checksum does not fit/,
    ],
    [
      'a log',
      (text: string) => changed(text, 1, (head) => ({ ...head, what: 'log' })),
      /^Line 2: an input has no place in a log/,
    ],
    [
      'another version',
      (text: string) => changed(text, 1, (head) => ({ ...head, bowlside: 2 })),
      'Line 1: bowlside is 2: 1 is wanted.',
    ],
    [
      'a name that is a path',
      (text: string) => changed(trace(text), 1, (head) => ({ ...head, run: '../x' })),
      /^Line 1: run is/,
    ],
    [
      'a prototype',
      (text: string) => text.replace('{"atMs":', '{"__proto__":{"a":1},"atMs":'),
      /^Line 2: __proto__ is an object: there is no such key/,
    ],
    ['depth', (text: string) => text.replace('\n', `\n${'['.repeat(10_000)}\n`), 'Line 2: nested deeper than 8.'],
    ['no number', (text: string) => text.replace(/"chocolate":30}/, '"chocolate":NaN}'), /^Line \d+: the line is/],
    [
      'an infinite one',
      (text: string) => text.replace(/"chocolate":30}/, '"chocolate":1e999}'),
      /^Line \d+: valuesC\.chocolate is Infinity/,
    ],
    [
      'time that goes back',
      (text: string) => changed(text, 3, (input) => ({ ...input, atMs: -5 })),
      /^Line 3: atMs is -5: time may not go back/,
    ],
    [
      'ten thousand years',
      (text: string) => changed(trace(text), 9, (input) => ({ ...input, atMs: 3e14 })),
      /^Line 10: atMs is \d+: time may not go back/,
    ],
    [
      'an event an age away',
      (text: string) => withEventAt(text, () => 1e11),
      /^Line \d+: atMs is 100000000000: more than seven days after the start/,
    ],
    [
      'events out of order',
      (text: string) => withEventAt(text, (atMs) => atMs - 1),
      /^Line \d+: atMs is -?\d+: time may not go back/,
    ],
    [
      'a note an age away',
      (text: string) => withNote(text, { untilMs: 1e11 }),
      /^Line \d+: the note's moment is 100000000000: more than seven days from the start/,
    ],
    [
      'a moment of no calendar',
      (text: string) => changed(trace(text), 1, (head) => ({ ...head, startedAtWall: '2026-13-45T00:00:00.000Z' })),
      /^Line 1: startedAtWall is "2026-13-45T00:00:00.000Z": a moment of the calendar/,
    ],
    [
      'the 31st of February',
      (text: string) => changed(trace(text), 1, (head) => ({ ...head, startedAtWall: '2026-02-31T00:00:00.000Z' })),
      /^Line 1: startedAtWall is "2026-02-31T00:00:00.000Z": a moment of the calendar/,
    ],
    [
      'a note that ends before it begins',
      (text: string) => withNote(text, { untilMs: 5 }),
      /^Line \d+: note\.untilMs is 5: a span that began at 60000 cannot end before that/,
    ],
    [
      'a note that says nothing',
      (text: string) => changed(text, lineOfNote(text), ({ note }) => ({ note: { ...(note as object), text: ' ' } })),
      /^Line \d+: note\.text is " ": 1 to 2000 characters are wanted/,
    ],
    [
      'a note of no calendar',
      (text: string) => withNote(text, { writtenAtWall: '2026-99-99T00:00:00.000Z' }),
      /^Line \d+: note.writtenAtWall is "2026-99-99T00:00:00.000Z"/,
    ],
    [
      'a lag of an age',
      (text: string) => changed(trace(text), 1, (head) => ({ ...head, probeLagS: 1e300 })),
      /^Line 1: probeLagS is 1e\+300/,
    ],
    [
      'a gain of nothing',
      (text: string) => changed(trace(text), 1, (head) => ({ ...head, correction: { offsetC: 0, gain: 0 } })),
      /^Line 1: .*gain/,
    ],
  ])('[F4] [F11] is refused by line and reason, and nothing of it is kept: %s', async (_what, spoil, reason) => {
    const text = await fileOfRun();
    const other = await openKitchen();
    for (const path of ['imports', 'imports/preview']) {
      const { status, body } = await sent(other, spoil(text), {}, path);
      expect(status).toBe(400);
      if (typeof reason === 'string') expect(body['detail']).toBe(reason);
      else expect(body['detail']).toMatch(reason);
    }
    expect(allRuns(other.bowl.store)).toEqual([]);
  });

  it('is refused where its last input comes a thousand years after the first', async () => {
    const { kitchen, run } = await kitchenWithRun();
    const text = trace(await exported(kitchen, run));
    const { status, body } = await sent(kitchen, `${text}{"atMs":31536000000000,"source":"test","kind":"end"}\n`);
    expect(status).toBe(400);
    expect(body['detail']).toMatch(/^Line \d+: atMs is 31536000000000: more than seven days after the start\.$/);
  });

  it('is refused where no run begins in it, where nothing went in, and where it is of another type', async () => {
    const kitchen = await openKitchen();
    const story = readTrace(storyNames()[0]!);
    const nothing = encodeRunFile({ ...story, inputs: [] });
    expect((await sent(kitchen, nothing)).body['detail']).toBe('Nothing went in.');
    const unbegun = encodeRunFile({ ...story, inputs: [{ atMs: 0, source: 'x', kind: 'link', up: true }] });
    expect((await sent(kitchen, unbegun)).body['detail']).toBe('No run begins in it.');
    const address = new URL('/api/imports', kitchen.http.address);
    const posted = await fetch(address, { method: 'POST', headers: { 'content-type': 'text/plain' }, body: nothing });
    expect(posted.status).toBe(415);
  });
});

/** A run's file with the moment of its last event changed, and a checksum that fits. */
function withEventAt(text: string, momentOf: (startMs: number) => number): string {
  const decoded = decodeRunFile(text);
  if (!decoded.ok) throw new Error(decoded.reason);
  const { events, labels } = decoded.value;
  const last = { ...events.at(-1)!, atMs: momentOf(labels.startedAtMs!) };
  return encodeRunFile({ ...decoded.value, events: [...events.slice(0, -1), last] });
}

/** The same with its last note changed. */
function withNote(text: string, change: Partial<NoteInfo>): string {
  const decoded = decodeRunFile(text);
  if (!decoded.ok) throw new Error(decoded.reason);
  const notes = decoded.value.notes!;
  return encodeRunFile({ ...decoded.value, notes: [...notes.slice(0, -1), { ...notes.at(-1)!, ...change }] });
}

/** The line of the first note, from 1. */
function lineOfNote(text: string): number {
  return text.split('\n').findIndex((line) => line.startsWith('{"note":')) + 1;
}

/** What went in of an exported run, alone. */
function trace(text: string): string {
  const decoded = decodeRunFile(text);
  if (!decoded.ok) throw new Error(decoded.reason);
  const { notes: _, card: __, ...file } = decoded.value;
  return encodeRunFile({ ...file, what: 'trace', events: [] });
}
