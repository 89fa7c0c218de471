/** Tables from elsewhere: how they are most likely meant, and read as a person chose. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drained } from '../../../server/core/record/drained.ts';
import type { TableChoice } from '../../../server/intake/bare-table.ts';
import { readingRows } from '../../../server/intake/delimited.ts';
import { afterMidnight, momentMs, type TimeForm } from '../../../server/intake/moments.ts';
import { tableRead } from '../../../server/intake/table-intake.ts';
import { shipped } from '../../support/shipped.ts';

function read(text: string, chosen: Partial<TableChoice> = {}) {
  return drained(tableRead(text, chosen, shipped('dark')));
}

/** Seconds and °C of the readings, or the complaint. */
function rowsOf(text: string, chosen: Partial<TableChoice> = {}): (number | null | undefined)[][] | string {
  const table = read(text, chosen);
  const inputs = table.ok ? table.value.inputs : table;
  if (!inputs.ok) return `${inputs.line}: ${inputs.reason}`;
  return inputs.value.flatMap((input) =>
    input.kind === 'reading' ? [[input.atMs / 1000, input.valuesC.chocolate]] : [],
  );
}

function choiceOf(text: string): TableChoice | null {
  const table = read(text);
  if (!table.ok) throw new Error(table.reason);
  return table.value.choice;
}

describe('a table from elsewhere', () => {
  it.each<[string, string, Partial<TableChoice>, (number | null)[][]]>([
    [
      'seconds and °C, no names',
      '0,31.2\n5,31.4\n',
      { separator: 'comma', form: 's' },
      [
        [0, 31.2],
        [5, 31.4],
      ],
    ],
    [
      'counted from its first row',
      '60\t31\n61\t32\n',
      { separator: 'tab', form: 's' },
      [
        [0, 31],
        [1, 32],
      ],
    ],
    [
      'minutes and a decimal comma',
      'Zeit (min);Temp\r\n0;31,2\r\n0,5;31,4\r\n',
      { separator: 'semicolon', decimal: 'comma', form: 'min' },
      [
        [0, 31.2],
        [30, 31.4],
      ],
    ],
    [
      'elapsed',
      'time,temp\n0:00:05,31\n0:00:06.5,32\n',
      { form: 'elapsed' },
      [
        [0, 31],
        [1.5, 32],
      ],
    ],
    [
      'a time of day over midnight',
      'when;what\n23:59:30;31\n00:00:10;32\n',
      { form: 'clock' },
      [
        [0, 31],
        [40, 32],
      ],
    ],
    [
      'half a day twice',
      'when,what\n11:59 PM,31\n12:01 AM,32\n',
      { form: 'clock' },
      [
        [0, 31],
        [120, 32],
      ],
    ],
    [
      'a date',
      'when,T\n2026-11-24T14:02:05Z,31\n2026-11-24T14:02:06.250Z,32\n',
      { form: 'date' },
      [
        [0, 31],
        [1.25, 32],
      ],
    ],
    [
      '°F by its name',
      't,Temperature (°F)\n0,88\n1,89.6\n',
      { unit: 'f' },
      [
        [0, 31.111],
        [1, 32],
      ],
    ],
    [
      '°F by its size',
      't,T\n0,115\n1,89.6\n',
      { unit: 'f' },
      [
        [0, 46.111],
        [1, 32],
      ],
    ],
    [
      'units in the cells, and an empty one',
      't,T\n0,31.0 °C\n1,\n2,31.5 °C\n',
      { unit: 'c' },
      [
        [0, 31],
        [1, null],
        [2, 31.5],
      ],
    ],
    [
      'a title, names and quotes',
      '"A title, in words"\r\n"no","time (s)","choc"\r\n"1","0","31"\r\n"2","1","32"\r\n',
      { temperature: 2 },
      [
        [0, 31],
        [1, 32],
      ],
    ],
  ])('is guessed and read: %s', (what, text, choice, rows) => {
    const chosen = what.startsWith('a title') ? { time: 1, temperature: 2 } : {};
    expect(rowsOf(text, chosen)).toEqual(rows);
    if (what.startsWith('a title')) return;
    expect(choiceOf(text)).toMatchObject(choice);
  });

  it('[F4] is refused at the line that is wrong, with the cell and what was wanted', () => {
    expect(rowsOf('t,T\n0,31\n1,warm\n')).toBe('3: the temperature is "warm": a number with a decimal point is wanted');
    expect(rowsOf('t,T\n0,31\nsoon,32\n', { form: 's' })).toBe('3: the time is "soon": seconds as a number are wanted');
    expect(rowsOf('t,T\n5,31\n4,32\n')).toBe('3: the time is "4": time may not go back');
    expect(rowsOf('t,T\n0,31\n900000,32\n')).toBe('3: the time is "900000": more than seven days after the first row');
    expect(rowsOf('t,T\n0,31\n"1,32\n')).toBe('3: a quote is out of place or not closed');
    expect(rowsOf('t,T\n0,\n1,\n')).toBe('0: there is no temperature in it');
    expect(rowsOf(`t,T\n0,${'1'.repeat(2_000)}\n`)).toBe('2: a cell is longer than 1000 characters');
    expect(rowsOf('t,T\n0,1e999\n')).toMatch(/^2: the temperature is "1e999"/);
    expect(rowsOf('t,T\n0,NaN\n1,3\n')).toMatch(/^2: the t/);
    expect(rowsOf(',,,\n\n')).toBe('0: the file is empty');
  });

  it('is in the unit its cells name, whatever stands over them, and is refused where a cell names another', () => {
    expect(choiceOf('time_s,temp (°C)\n0,70.1 °F\n5,70.5 °F\n')).toMatchObject({ unit: 'f' });
    expect(choiceOf('time_s,temp\n0,80.0 C\n5,81 C\n')).toMatchObject({ unit: 'c' });
    expect(rowsOf('time_s,temp\n0,70.1 °F\n5,70.5\n')).toEqual([
      [0, expect.closeTo(21.167, 3)],
      [5, expect.closeTo(21.389, 3)],
    ]);
    const reason = 'the temperature is "70.5 °C": °F is how it is read';
    expect(rowsOf('time_s,temp\n0,70.1 °F\n5,70.5 °C\n')).toBe(`3: ${reason}`);
    expect(rowsOf('time_s,temp\n0,70\n5,70.5 °C\n', { unit: 'f' })).toBe(`3: ${reason}`);
  });

  it('[F8] never throws, however long a quoted cell is', () => {
    const long = 'x""'.repeat(4_000_000);
    expect(rowsOf(`t,T\n0,"${long}\n`)).toBe('2: a cell is longer than 1000 characters');
    expect(rowsOf(`t,T\n0,31\n1,"${'x'.repeat(12_000_000)}`)).toBe('3: a quote is out of place or not closed');
    expect(rowsOf(`"${long}`)).toBe('1: a cell is longer than 1000 characters');
    expect(rowsOf(`t,T\n0,"31"\n1,"${'""'.repeat(1_000)}"\n`)).toMatch(/^3: the temperature is/);
  });

  it('counts lines inside of quotes', () => {
    const rows = drained(readingRows('a,"b\r\nc"\r\nd,e\n', ','));
    expect(rows).toEqual({
      ok: true,
      value: [
        { line: 1, cells: ['a', 'b\r\nc'] },
        { line: 3, cells: ['d', 'e'] },
      ],
    });
  });

  it('of ours by its columns is read as ours', () => {
    expect(choiceOf('t_s,chocolate_c,bath_c\r\n0,31,40\r\n')).toBeNull();
    expect(rowsOf('chocolate_c,t_s\n31,0\n32,-1\n')).toBe('3: t_s is -1: time may not go back (0 stands before it)');
    expect(rowsOf('t_s,chocolate_c\n0,31\n9000000,31\n')).toBe('0: it goes on for more than seven days');
  });

  it('[F8] never throws, whatever it holds', () => {
    const piece = fc.oneof(
      fc.constantFrom(',', ';', '\t', '\n', '\r\n', '"', '0', '1', '31,5', '31.5', ':', '12:00'),
      fc.string(),
    );
    fc.assert(
      fc.property(fc.array(piece), (pieces) => void rowsOf(pieces.join(''))),
      { seed: 4330, numRuns: 500 },
    );
  });

  it('gives back what was written into it, however it is written', () => {
    const steps = fc.array(fc.tuple(fc.nat(100_000), fc.integer({ min: -1_000, max: 5_999 })), {
      minLength: 2,
      maxLength: 30,
    });
    const manners = fc.record({
      separator: fc.constantFrom<TableChoice['separator']>('semicolon', 'tab'),
      decimal: fc.constantFrom<TableChoice['decimal']>('point', 'comma'),
    });
    fc.assert(
      fc.property(steps, manners, (some, { separator, decimal }) => {
        let atMs = 0;
        const rows = some.map(([stepMs, hundredths]) => [(atMs += stepMs) / 1000, hundredths / 100]);
        const mark = (value: number): string => String(value).replace('.', decimal === 'comma' ? ',' : '.');
        const text = rows.map((row) => row.map(mark).join(separator === 'tab' ? '\t' : ';')).join('\r\n');
        const chosen = { separator, decimal, form: 's', unit: 'c', time: 0, temperature: 1 } as const;
        expect(rowsOf(text, chosen)).toEqual(rows.map(([s, c]) => [expect.closeTo(s! - rows[0]![0]!, 6), c]));
      }),
      { seed: 4330 },
    );
  });
});

describe('moments', () => {
  const figure = (cell: string): number | null => (cell === '' ? null : Number(cell));

  it.each<[TimeForm, string, number | null]>([
    ['s', '1.5', 1_500],
    ['min', '1.5', 90_000],
    ['elapsed', '2:03', 123_000],
    ['elapsed', '1:02:03,25', 3_723_250],
    ['elapsed', '62', null],
    ['clock', '9:05', 32_700_000],
    ['clock', '24:00', null],
    ['clock', '12:30 a.m.', 1_800_000],
    ['date', '2026-11-24', null],
    ['date', '2026-11-24 00:00:01+01:00', Date.parse('2026-11-23T23:00:01Z')],
    ['date', '2026-02-31T00:00Z', null],
  ])('as %s: %s', (form, cell, atMs) => {
    expect(momentMs(cell, form, figure)).toBe(atMs);
  });

  it('pass midnight only where a day fits in between', () => {
    expect(afterMidnight(1_000, 86_399_000)).toBe(86_401_000);
    expect(afterMidnight(2_000, 86_401_000)).toBe(86_402_000);
    expect(afterMidnight(1_000, 2_000)).toBe(1_000);
  });
});
