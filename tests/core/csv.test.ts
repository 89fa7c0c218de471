/** A curve as a table: read as the inputs of one run, written for a spreadsheet. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { channelsAmong, decodeCsv, encodeCsv, readingCsv } from '../../server/core/record/csv.ts';
import type { RecordedInput } from '../../server/core/record/input.ts';
import type { Reading } from '../../server/core/record/run.ts';

function inputsOf(table: string): readonly RecordedInput[] {
  const decoded = decodeCsv(table, 'melt');
  if (!decoded.ok) throw new Error(`line ${decoded.line}: ${decoded.reason}`);
  return decoded.value;
}

/** What the readings in a table are, without the frame of start and end. */
function readingsOf(table: string): unknown[] {
  return inputsOf(table).flatMap((input) => (input.kind === 'reading' ? [[input.atMs, input.valuesC]] : []));
}

function complaint(table: string): string {
  const decoded = decodeCsv(table, 'melt');
  if (decoded.ok) throw new Error('this table should not be readable');
  return `${decoded.line}: ${decoded.reason}`;
}

describe('a table of temperatures', () => {
  it('[F7] is read line by line, empty ones too, so that whoever reads it can stop anywhere', () => {
    const work = readingCsv(`t_s,chocolate_c\n${'\n'.repeat(5_000)}0,31\n`, 'melt');
    let stops = 0;
    let step = work.next();
    for (; step.done !== true; step = work.next()) stops += 1;
    expect(stops).toBeGreaterThan(5_000);
    expect(step.value.ok).toBe(true);
  });

  it('[F6] is a run that starts in the first phase at its first reading and ends with its last row', () => {
    expect(inputsOf('t_s,chocolate_c\n0,\n0.5,21.25\n1,21.3\n')).toEqual([
      { atMs: 0, source: 'csv', kind: 'reading', valuesC: { chocolate: null } },
      { atMs: 500, source: 'csv', kind: 'command', command: { name: 'start', phase: 'melt' } },
      { atMs: 500, source: 'csv', kind: 'reading', valuesC: { chocolate: 21.25 } },
      { atMs: 1000, source: 'csv', kind: 'reading', valuesC: { chocolate: 21.3 } },
      { atMs: 1000, source: 'csv', kind: 'end' },
    ]);
  });

  it('has its columns in any order', () => {
    expect(readingsOf('room_c,chocolate_c,t_s,bath_c\n20,31.5,2,45\n,31.6,3,\n')).toEqual([
      [2000, { chocolate: 31.5, bath: 45, room: 20 }],
      [3000, { chocolate: 31.6, bath: null, room: null }],
    ]);
  });

  it('gives times in whole milliseconds, rounded', () => {
    expect(readingsOf('t_s,chocolate_c\n-0.0004,1\n0.0015,2\n1.2344999,3\n')).toEqual([
      [0, { chocolate: 1 }],
      [2, { chocolate: 2 }],
      [1234, { chocolate: 3 }],
    ]);
  });

  it('may be quoted, end its lines with CRLF, begin with a byte-order mark and lack a last line end', () => {
    const table = '\uFEFF"t_s", "chocolate_c"\r\n"0","31.5"\r\n\r\n1, "31,6"';
    expect(complaint(table)).toBe('4: chocolate_c is "31,6": a number with a decimal point is wanted');
    expect(readingsOf(table.replace('31,6', '31.6'))).toHaveLength(2);
  });

  it('[F7] is refused at the line where time goes back, and may stand still', () => {
    expect(complaint('t_s,chocolate_c\n5,30\n5,30\n4.999,30\n')).toBe(
      '4: t_s is 4.999: time may not go back (5 stands before it)',
    );
  });

  it('[F7] is refused for a column that is unknown, missing or there twice', () => {
    expect(complaint('t_s,chocolate_c,mould_c\n')).toMatch(/^1: column "mould_c" is unknown/);
    expect(complaint('t_s;chocolate_c\n')).toMatch(/^1: column "t_s;chocolate_c" is unknown: .* separated by commas$/);
    expect(complaint('t_s,bath_c\n0,1\n')).toBe('1: column chocolate_c is missing');
    expect(complaint('chocolate_c\n0\n')).toBe('1: column t_s is missing');
    expect(complaint('t_s,chocolate_c,t_s\n')).toBe('1: column t_s is there twice');
    expect(complaint('t_s,__proto__\n')).toMatch(/^1: column "__proto__" is unknown/);
  });

  it.each(['31,5', 'warm', 'nan', 'Infinity', '1e999', '0x1F', '3 1', '--3', '.', '31.5C'])(
    'is refused for %s where a number should stand',
    (cell) => {
      expect(complaint(`t_s,chocolate_c\n0,30\n1,"${cell}"\n`)).toBe(
        `3: chocolate_c is "${cell}": a number with a decimal point is wanted`,
      );
    },
  );

  it('is refused for a row without a time, with too many cells or too few', () => {
    expect(complaint('t_s,chocolate_c\n,30\n')).toBe('2: t_s is empty: every row needs its time in seconds');
    expect(complaint('t_s,chocolate_c\n0,30,40\n')).toBe('2: 3 cells: 2 are wanted, as in the header');
    expect(complaint('t_s,chocolate_c\n0\n')).toBe('2: 1 cells: 2 are wanted, as in the header');
    expect(complaint('t_s,chocolate_c\n0,"30\n')).toBe('2: a quote is out of place or not closed');
  });

  it('is refused when the chocolate was never measured: there is no run in it', () => {
    expect(complaint('t_s,chocolate_c,room_c\n0,,20\n')).toBe(
      '0: chocolate_c holds no temperature: every cell in it is empty',
    );
  });

  it.each(['', '\n', '\uFEFF', ' \r\n\r\n'])('is refused as empty, saying what is wanted: %j', (table) => {
    expect(complaint(table)).toBe(
      '0: the file is empty: a header with t_s and chocolate_c is wanted, then a row for each reading',
    );
  });

  it('is refused with no row under its header', () => {
    const none = '0: there are no rows under the header: one is wanted for each reading';
    expect([complaint('t_s,chocolate_c\n'), complaint('t_s,chocolate_c')]).toEqual([none, none]);
  });

  it('is refused for an endless line instead of being worked through', () => {
    expect(complaint(`t_s,chocolate_c\n${' '.repeat(1_000_000)}"`)).toBe('2: the line is longer than 1000 characters');
  });

  it('[F8] never throws, whatever it holds', () => {
    const piece = fc.oneof(fc.constantFrom('t_s', 'chocolate_c', ',', '\n', '\r\n', '"', '1', '.5', ' '), fc.string());
    fc.assert(
      fc.property(fc.array(piece), (pieces) => {
        decodeCsv(`t_s,chocolate_c\n${pieces.join('')}`, 'melt');
        decodeCsv(pieces.join(''), 'melt');
      }),
      { seed: 4330 },
    );
  });
});

describe('readings written as a table', () => {
  it('have columns for the channels that were read, and for the chocolate in any case', () => {
    expect(channelsAmong(new Set(['room', 'ignored']))).toEqual(['chocolate', 'room']);
    expect(channelsAmong(new Set(['bath', 'chocolate', 'room']))).toEqual(['chocolate', 'bath', 'room']);
  });

  const good = { quality: 'good', estimateC: null } as const;

  it('have a row for each moment, in seconds from the start, and columns for what was read', () => {
    const readings: Reading[] = [
      { atMs: 60_000, role: 'chocolate', valueC: 31.25, ...good },
      { atMs: 60_000, role: 'room', valueC: 20.5, ...good },
      { atMs: 60_250, role: 'chocolate', valueC: 85, quality: 'rejected', reason: 'power-on-value', estimateC: 31.2 },
      { atMs: 60_250, role: 'ignored', valueC: 3, ...good },
    ];
    expect([...encodeCsv(readings, ['chocolate', 'room'], 60_000)].join('')).toBe(
      't_s,chocolate_c,room_c\r\n0,31.25,20.5\r\n0.25,,\r\n',
    );
  });

  it('[F1] are the same readings when the table is read again', () => {
    const hundredths = fc.integer({ min: -2000, max: 20_000 }).map((n) => n / 100);
    const row = fc.record({ stepMs: fc.nat(100_000), chocolate: hundredths, bath: hundredths });
    fc.assert(
      fc.property(fc.array(row, { minLength: 1 }), fc.integer(), (rows, startedAtMs) => {
        let atMs = startedAtMs;
        const expected: unknown[] = [];
        const readings = rows.flatMap(({ stepMs, chocolate, bath }): Reading[] => {
          atMs += stepMs + 1;
          expected.push([atMs - startedAtMs, { chocolate, bath }]);
          return [
            { atMs, role: 'chocolate', valueC: chocolate, ...good },
            { atMs, role: 'bath', valueC: bath, ...good },
          ];
        });
        expect(readingsOf([...encodeCsv(readings, ['chocolate', 'bath'], startedAtMs)].join(''))).toEqual(expected);
      }),
      { seed: 4330 },
    );
  });
});
