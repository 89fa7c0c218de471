/** Notes and card in the file of a run: written after the events, covered by the checksum, read back as they were. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CardEntry } from '../../server/core/record/card.ts';
import { decodeRunFile, encodeRunFile, type RunFile } from '../../server/core/record/trace.ts';
import type { NoteInfo } from '../../server/core/show/wire.ts';
import { shippedProfile, headerFor } from '../support/bowl.ts';

const WALL = '2026-11-25T09:00:00.000Z';

const note: NoteInfo = {
  id: 'n-1',
  atMs: 600,
  untilMs: 900,
  tags: ['ginger', 'tray 2'],
  text: '=thick, "like honey"\nstirred',
  by: 'Ana',
  writtenAtWall: WALL,
};
const entry: CardEntry = { writtenAtWall: WALL, by: null, change: { lot: 'G-117', kg: 2.5, tags: [] } };

const run: RunFile = {
  what: 'run',
  header: headerFor(shippedProfile('dark')),
  labels: { run: 'r-1', startedAtMs: 0, startedAtWall: WALL },
  inputs: [{ atMs: 0, source: 'person', kind: 'command', command: { name: 'start', phase: 'melt' } }],
  events: [{ seq: 1, atMs: 0, kind: 'run-started', profile: 'dark', condition: null }],
  notes: [note, { id: 'n-2', atMs: 700, text: '', by: null, writtenAtWall: WALL, replaces: 'note-n-1' }],
  card: [entry],
};

function complaint(text: string): string {
  const decoded = decodeRunFile(text);
  if (decoded.ok) throw new Error('this file should not be readable');
  return `${decoded.line}: ${decoded.reason}`;
}

/** The run's lines with a change, without its checksum. */
function withLines(change: (lines: string[]) => string[]): string {
  return `${change(encodeRunFile(run).trimEnd().split('\n').slice(0, -1)).join('\n')}\n`;
}

describe('notes and card in the file of a run', () => {
  it('[F9] stand between events and checksum and are read back exactly', () => {
    const text = encodeRunFile(run);
    const lines = text.trimEnd().split('\n');
    expect(lines.slice(3, 6).map((line) => Object.keys(JSON.parse(line) as object))).toEqual([
      ['note'],
      ['note'],
      ['card'],
    ]);
    const decoded = decodeRunFile(text);
    expect(decoded).toEqual({ ok: true, value: run });
    expect(decoded.ok && encodeRunFile(decoded.value)).toBe(text);
  });

  it('[F9] leave no trace where there are none', () => {
    const { notes: _, card: __, ...bare } = run;
    expect(encodeRunFile({ ...bare, notes: [], card: [] })).toBe(encodeRunFile(bare));
    const decoded = decodeRunFile(encodeRunFile(bare));
    expect(decoded.ok && Object.keys(decoded.value)).not.toContain('notes');
  });

  it('[F5] a changed character of a note is found out', () => {
    expect(complaint(encodeRunFile(run).replace('honey', 'money'))).toMatch(/^7: the checksum does not fit/);
  });

  it('[F4] are refused where they have no place, by line and reason', () => {
    const noteLine = encodeRunFile(run).split('\n')[3]!;
    const cardLine = encodeRunFile(run).split('\n')[5]!;
    const trace = encodeRunFile({ ...run, what: 'trace', events: [] });
    expect(complaint(`${trace}${noteLine}\n`)).toBe('3: a note has no place in a trace');
    expect(complaint(`${trace}${cardLine}\n`)).toBe('3: an entry of a card has no place in a trace');
    expect(complaint(withLines((lines) => [...lines.slice(0, 3), cardLine, noteLine]))).toBe(
      '5: notes stand before the card',
    );
    expect(complaint(withLines((lines) => [...lines, lines[1]!]))).toBe(
      '7: inputs and events stand before notes and card',
    );
    expect(complaint(withLines((lines) => [...lines.slice(0, 4), noteLine]))).toBe('5: there are two notes n-1');
    expect(complaint(withLines((lines) => [...lines, cardLine]))).toBe(
      '7: the same entry of the card stands there twice',
    );
    expect(complaint(withLines((lines) => [...lines, '{"note":{"id":"../x"}}']))).toMatch(/^7: note.id is "\.\.\/x": /);
    expect(
      complaint(withLines((lines) => [...lines, '{"card":{"writtenAtWall":"now","by":null,"change":{}}}'])),
    ).toMatch(/^7: card\.writtenAtWall is "now": /);
  });

  it('[F1] whatever people write', () => {
    const words = fc.string({ maxLength: 60, unit: 'grapheme' });
    const names = words.filter((word) => word.trim() !== '' && word.length <= 40);
    const wall = fc
      .date({ min: new Date(0), max: new Date('2100-01-01'), noInvalidDate: true })
      .map((at) => at.toISOString());
    const notes = fc.uniqueArray(
      fc.record(
        {
          id: fc.uuid(),
          atMs: fc.integer(),
          untilMs: fc.constant(2 ** 31),
          tags: fc.array(names, { maxLength: 3 }),
          text: words.filter((word) => word.trim() !== ''),
          by: fc.option(names),
          writtenAtWall: wall,
        },
        { requiredKeys: ['id', 'atMs', 'text', 'by', 'writtenAtWall'] },
      ),
      { selector: ({ id }) => id, minLength: 1, maxLength: 8 },
    );
    fc.assert(
      fc.property(notes, (some) => {
        const text = encodeRunFile({ ...run, notes: some });
        const decoded = decodeRunFile(text);
        expect(decoded.ok && decoded.value.notes).toEqual(some);
        expect(decoded.ok && encodeRunFile(decoded.value)).toBe(text);
      }),
      { seed: 4330, numRuns: 200 },
    );
  });
});
