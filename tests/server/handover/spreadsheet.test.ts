/** The table for a person's own spreadsheet, read again by a general-purpose parser that knows nothing of us. */
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeCsv, encodeCsv } from '../../../server/core/record/csv.ts';
import type { Reading } from '../../../server/core/record/run.ts';
import type { NoteInfo } from '../../../server/core/show/wire.ts';
import { guarded, spreadsheetLines } from '../../../server/handover/spreadsheet.ts';
import { SEPARATORS, type Separator } from '../../../server/separators.ts';
import type { Manner } from '../../../server/handover/manner.ts';
import { toldRun } from '../../../server/handover/told-run.ts';
import { ICE_POINT } from '../../support/checked.ts';
import { newRun } from '../../support/store.ts';

const WALL = '2026-11-25T09:00:00.000Z';

function told(notes: readonly NoteInfo[]) {
  const run = {
    ...newRun('r-1'),
    turns: 0,
    endedAtMs: 10_000,
    lost: [],
    notes,
    card: [],
    binnedAtWall: null,
    importedAtWall: null,
  };
  return toldRun(
    {
      ...run,
      events: [
        { seq: 1, atMs: 500, kind: 'phase-entered', phase: 'melt', from: null, by: 'reached' },
        { seq: 2, atMs: 2_500, kind: 'act', act: 'off-heat' },
      ],
    },
    [],
  );
}

function noteAt(atMs: number, text: string): NoteInfo {
  return { id: `n-${atMs}`, atMs, text, by: null, writtenAtWall: WALL };
}

function reading(atMs: number, valueC: number, more: Partial<Reading> = {}): Reading {
  return { atMs, role: 'chocolate', valueC, quality: 'good', estimateC: valueC, ...more };
}

const READINGS = [
  reading(1_000, 31.25),
  reading(2_000, -5.5),
  { ...reading(2_000, 40.1), role: 'bath' as const },
  reading(3_000, 85, { quality: 'rejected', reason: 'power-on-value', estimateC: null }),
];

function sheet(manner: Manner, separator: Separator, notes: readonly NoteInfo[] = [], run = told(notes)): string {
  return [...spreadsheetLines(run, READINGS, ['chocolate', 'bath'], manner, separator)].join('');
}

/** What stands at the start of a run of a thermometer that nobody checked. */
const UNCHECKED = 'Correction: none; Last check: none: the thermometer is unchecked; Uncertainty: not known';

function rowsOf(text: string, separator: Separator): string[][] {
  return parse(text, { bom: true, delimiter: SEPARATORS[separator], record_delimiter: '\r\n' });
}

describe('the table for a spreadsheet', () => {
  it('has names with units, a decimal comma, and a row for each moment at which something was read or happened', () => {
    const text = sheet({ decimal: 'comma', unit: 'c' }, 'semicolon', [noteAt(2_000, 'thick; "like honey"')]);
    expect(text.startsWith('\uFEFF')).toBe(true);
    const [head, ...rows] = rowsOf(text, 'semicolon');
    expect(head).toEqual([
      'Clock',
      'Into the run (s)',
      'Chocolate, read (°C)',
      'Bath, read (°C)',
      'Chocolate, estimate (°C)',
      'Phase',
      'What happened',
    ]);
    expect(rows.map((row) => row.slice(1))).toEqual([
      ['-0,5', '', '', '', '', UNCHECKED],
      ['0', '', '', '', 'Melt', 'Melt'],
      ['0,5', '31,25', '', '31,25', 'Melt', ''],
      ['1,5', '-5,5', '40,1', '-5,5', 'Melt', 'thick; "like honey"'],
      ['2', '', '', '', 'Melt', 'Off the heat'],
      ['2,5', '', '', '', 'Melt', ''],
    ]);
    expect(rows[0]![0]).toMatch(/^2026-11-2\d \d\d:\d\d:00$/);
  });

  it('says at the start when and how the thermometer was checked, and how far off it may be', () => {
    const check = { checkedAtWall: '2026-11-24T12:00:00.000Z', points: [ICE_POINT] };
    const run = told([]);
    const header = { ...run.header, correction: { offsetC: -0.4, gain: 1 }, check };
    const rows = rowsOf(sheet({ decimal: 'comma', unit: 'c' }, 'semicolon', [], { ...run, header }), 'semicolon');
    expect(rows[1]!.at(-1)).toMatch(
      /^Correction: −0,4 °C; Last check: Tuesday 24 November 2026: ice; Uncertainty: ±\d,\d °C at 32 \(k = 2\): bias \d,\d, noise \d,\d$/,
    );
    expect(rows.slice(2).flat().join()).not.toContain('check');
  });

  it('says the same in °F, with tabs', () => {
    const [head, , , second] = rowsOf(sheet({ decimal: 'point', unit: 'f' }, 'tab'), 'tab');
    expect(head![2]).toBe('Chocolate, read (°F)');
    expect(second![2]).toBe('88.25');
  });

  it.each(['=1+1', '+1', '-1', '@SUM(A1)', '  =1', '|cmd', '%0A', '\uFF1D1', '\r\n=1'])(
    '[F12] a note that a spreadsheet could take for a formula is guarded: %j',
    (text) => {
      expect(guarded(text)).toBe(`'${text}`);
      const rows = rowsOf(sheet({ decimal: 'point', unit: 'c' }, 'comma', [noteAt(1_000, text)]), 'comma');
      expect(rows[3]!.at(-1)).toBe(guarded(text.replaceAll(/\s+/g, ' ')));
    },
  );

  it.each<[Separator, Manner['decimal']]>([
    ['comma', 'point'],
    ['semicolon', 'comma'],
    ['tab', 'comma'],
  ])(
    '[F12] nor is there one in any part of a text, by whatever sign a program cuts it into cells: %s',
    (separator, decimal) => {
      const words = fc
        .array(fc.constantFrom('a', ';', ',', '\t', ' ', '=1+1', '-2', '@x', "'", '"'), { maxLength: 12 })
        .map((parts) => `x${parts.join('')}`);
      fc.assert(
        fc.property(words, (text) => {
          expect(guarded(text).split(/[;,\t]/)).not.toContainEqual(expect.stringMatching(/^\s*[=@-]/));
          const lines = sheet({ decimal, unit: 'c' }, separator, [noteAt(1_000, text)]).split('\r\n');
          const cells = lines[3]!.slice(lines[3]!.indexOf('Melt')).split(/[;,\t]/);
          expect(cells).not.toContainEqual(expect.stringMatching(/^\s*"?\s*[=@-]/));
        }),
        { seed: 4330 },
      );
      expect(guarded('Stirred a; x;=1+1')).toBe("Stirred a; x;'=1+1");
      const note = sheet({ decimal, unit: 'c' }, separator, [noteAt(1_000, 'a; b, c')]);
      expect(note).toContain('"a; b, c"');
      expect(note).not.toMatch(/"-?\d+[.,]\d+"/);
    },
  );

  it('[F12] a figure is never touched, a negative one least of all', () => {
    const rows = rowsOf(sheet({ decimal: 'comma', unit: 'c' }, 'comma'), 'comma');
    expect(rows[4]!.slice(2, 5)).toEqual(['-5,5', '40,1', '-5,5']);
  });

  it('[F12] whatever people write, every row has as many cells as the head and the note stands in one of them', () => {
    const words = fc.string({ unit: 'binary', maxLength: 40 }).filter((text) => text.trim() !== '');
    const separators = fc.constantFrom<Separator>('comma', 'semicolon', 'tab');
    const decimals = fc.constantFrom<Manner['decimal']>('comma', 'point');
    fc.assert(
      fc.property(words, separators, decimals, (text, separator, decimal) => {
        const rows = rowsOf(sheet({ decimal, unit: 'c' }, separator, [noteAt(1_000, text)]), separator);
        expect(new Set(rows.map((row) => row.length))).toEqual(new Set([7]));
        expect(rows[3]!.at(-1)).toBe(guarded(text.replaceAll(/\s+/g, ' ')));
      }),
      { seed: 4330 },
    );
  });
});

describe('the table of the contract', () => {
  it('is RFC 4180 to a parser that knows nothing of us, and says the same to both', () => {
    const hundredths = fc.integer({ min: -2_000, max: 20_000 }).map((n) => n / 100);
    const steps = fc.array(fc.record({ stepMs: fc.integer({ min: 1, max: 100_000 }), valueC: hundredths }), {
      minLength: 1,
    });
    fc.assert(
      fc.property(steps, (some) => {
        let atMs = 0;
        const readings = some.map(({ stepMs, valueC }) => reading((atMs += stepMs), valueC));
        const text = [...encodeCsv(readings, ['chocolate'], 0)].join('');
        const rows: Record<string, string>[] = parse(text, { columns: true, record_delimiter: '\r\n' });
        const ours = decodeCsv(text, 'melt');
        expect(rows.map((row) => [Number(row['t_s']) * 1000, Number(row['chocolate_c'])])).toEqual(
          readings.map(({ atMs: ms, valueC }) => [expect.closeTo(ms, 6), valueC]),
        );
        expect(
          ours.ok && ours.value.flatMap((input) => (input.kind === 'reading' ? [input.valuesC.chocolate] : [])),
        ).toEqual(readings.map(({ valueC }) => valueC));
      }),
      { seed: 4330 },
    );
  });
});
