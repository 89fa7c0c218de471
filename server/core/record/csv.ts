/**
 * A curve as a table: `t_s`, `chocolate_c` and, where measured, `bath_c` and `room_c`. Read as the inputs of one run, or written
 * from a run's readings for a spreadsheet. Knows nothing of files; what a table cannot hold (commands, raw lines) is the trace's.
 */
import { drained } from './drained.ts';
import type { RecordedInput, ValuesC } from './input.ts';
import { linesOf } from './lines.ts';
import type { Reading } from './run.ts';
import { shown } from './shape.ts';
import type { Decoded } from './trace.ts';

/** The `source` of every input read from a table. */
export const CSV_SOURCE = 'csv';

const TIME = 't_s';
const CHANNELS = { chocolate_c: 'chocolate', bath_c: 'bath', room_c: 'room' } as const;
type ChannelColumn = keyof typeof CHANNELS;
export type Channel = (typeof CHANNELS)[ChannelColumn];
const COLUMNS = [TIME, ...(Object.keys(CHANNELS) as ChannelColumn[])] as const;
type Column = (typeof COLUMNS)[number];

/** What a table begins with. */
const WANTED = `a header with ${TIME} and chocolate_c is wanted, then a row for each reading`;

const MS_PER_S = 1000;

/** Longest line read, characters (ours): four numbers need a tenth of it. */
const MAX_LINE_CHARS = 1000;
const TOO_LONG = `the line is longer than ${MAX_LINE_CHARS} characters`;

/** A decimal number with a point; exponents are let pass, since programs write small numbers so. */
const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;

/**
 * The inputs of one run: a `reading` for each row; before the first that has a chocolate temperature, the command that starts
 * the run at `firstPhase`; after the last, an `end`. `atMs` is `t_s` in whole milliseconds. An empty cell is a null.
 * Quotes, CRLF, a byte-order mark and empty lines are let pass; anything else unexpected is the line at fault and why.
 */
export function decodeCsv(table: string, firstPhase: string): Decoded<RecordedInput[]> {
  return drained(readingCsv(table, firstPhase));
}

/** The same in pieces, for whoever has other things to do meanwhile: stops after each line. */
export function* readingCsv(table: string, firstPhase: string): Generator<void, Decoded<RecordedInput[]>> {
  if (!/\S/.test(table.replace(/^\uFEFF/, ''))) return fault(0, `the file is empty: ${WANTED}`);
  const lines = linesOf(table);
  const head = lines.next().value!;
  if (head.length > MAX_LINE_CHARS) return fault(1, TOO_LONG);
  const columns = decodeHeader(head);
  if (!columns.ok) return columns;
  const rows = yield* decodeRows(lines, columns.value);
  if (!rows.ok) return rows;
  if (rows.value.length === 0) return fault(0, 'there are no rows under the header: one is wanted for each reading');
  const run = runOfRows(rows.value, firstPhase);
  return run === null
    ? fault(0, 'chocolate_c holds no temperature: every cell in it is empty')
    : { ok: true, value: run };
}

/** One row of a table: its moment, and what stands there by channel. */
export interface Row {
  readonly atMs: number;
  readonly valuesC: ValuesC;
}

/** Rows in order of time as the inputs of one run; null where the chocolate has no temperature in any of them. */
export function runOfRows(rows: readonly Row[], firstPhase: string): RecordedInput[] | null {
  const first = rows.findIndex((row) => typeof row.valuesC.chocolate === 'number');
  if (first === -1) return null;
  const readings = rows.map((row): RecordedInput => ({ source: CSV_SOURCE, kind: 'reading', ...row }));
  const start = { name: 'start', phase: firstPhase } as const;
  return [
    ...readings.slice(0, first),
    { atMs: rows[first]!.atMs, source: CSV_SOURCE, kind: 'command', command: start },
    ...readings.slice(first),
    { atMs: rows.at(-1)!.atMs, source: CSV_SOURCE, kind: 'end' },
  ];
}

function fault(line: number, reason: string): { readonly ok: false; readonly line: number; readonly reason: string } {
  return { ok: false, line, reason };
}

/** Whether the first line of a table names columns as ours do. */
export function isOurHeader(line: string): boolean {
  return line.length <= MAX_LINE_CHARS && decodeHeader(line.replace(/^\uFEFF/, '')).ok;
}

function decodeHeader(line: string): Decoded<readonly Column[]> {
  const names = cellsOf(line);
  if (names === null) return fault(1, 'a quote is out of place or not closed');
  for (const [index, name] of names.entries()) {
    if (!COLUMNS.includes(name as Column)) {
      return fault(1, `column ${shown(name)} is unknown: ${COLUMNS.join(', ')} are read, separated by commas`);
    }
    if (names.indexOf(name) !== index) return fault(1, `column ${name} is there twice`);
  }
  const missing = [TIME, 'chocolate_c'].find((name) => !names.includes(name));
  if (missing !== undefined) return fault(1, `column ${missing} is missing`);
  return { ok: true, value: names as Column[] };
}

/** The lines after the header. */
function* decodeRows(lines: Iterable<string>, columns: readonly Column[]): Generator<void, Decoded<Row[]>> {
  const rows: Row[] = [];
  let number = 1;
  let lastS = -Infinity;
  for (const line of lines) {
    number += 1;
    yield;
    if (line === '') continue;
    const row = decodeRow(line, columns, lastS);
    if (typeof row === 'string') return fault(number, row);
    lastS = row.atS;
    rows.push({ atMs: Math.round(row.atS * MS_PER_S) + 0, valuesC: row.valuesC });
  }
  return { ok: true, value: rows };
}

/** What stands in a row, or what is wrong with it. `lastS`: the time of the one before. */
function decodeRow(line: string, columns: readonly Column[], lastS: number) {
  if (line.length > MAX_LINE_CHARS) return TOO_LONG;
  const cells = decodeCells(line, columns);
  if (typeof cells === 'string') return cells;
  const { [TIME]: atS, ...channels } = cells;
  if (typeof atS !== 'number') return `${TIME} is empty: every row needs its time in seconds`;
  if (atS < lastS) return `${TIME} is ${atS}: time may not go back (${lastS} stands before it)`;
  return { atS, valuesC: valuesOf(channels) };
}

type Cells = Partial<Record<Column, number | null>>;

/** The row's numbers by column, or what is wrong with it. */
function decodeCells(line: string, columns: readonly Column[]): Cells | string {
  const texts = cellsOf(line);
  if (texts === null) return 'a quote is out of place or not closed';
  if (texts.length !== columns.length) return `${texts.length} cells: ${columns.length} are wanted, as in the header`;
  const cells: Cells = {};
  for (const [index, column] of columns.entries()) {
    const text = texts[index]!;
    const number = text === '' ? null : Number(text);
    if (number !== null && !(NUMBER.test(text) && isInRange(column, number))) {
      return `${column} is ${shown(text)}: a number with a decimal point is wanted`;
    }
    cells[column] = number;
  }
  return cells;
}

/** Finite, and times such that their milliseconds are exact. */
function isInRange(column: Column, number: number): boolean {
  return column === TIME ? Number.isSafeInteger(Math.round(number * MS_PER_S)) : Number.isFinite(number);
}

/** In a fixed order, whatever the order of the columns. */
function valuesOf(cells: Partial<Record<ChannelColumn, number | null>>): ValuesC {
  const valuesC: Partial<Record<Channel, number | null>> = {};
  for (const [column, channel] of Object.entries(CHANNELS) as [ChannelColumn, Channel][]) {
    const value = cells[column];
    if (value !== undefined) valuesC[channel] = value;
  }
  return valuesC;
}

/** The line's cells, trimmed; quoted ones may hold commas and doubled quotes (RFC 4180). null: a quote is out of place. */
function cellsOf(line: string): string[] | null {
  const cells: string[] = [];
  const cell = /\s*(?:"((?:[^"]|"")*)"\s*|([^,"]*))(,|$)/y;
  let ended = false;
  while (!ended) {
    const match = cell.exec(line);
    if (match === null) return null;
    cells.push(match[1]?.replaceAll('""', '"') ?? match[2]!.trim());
    ended = match[3] === '';
  }
  return cells;
}

/** What was read at one moment. */
export interface Instant {
  readonly atMs: number;
  readonly readings: readonly Reading[];
}

/** Readings of one moment stand together, as they come from a run. */
export function* instantsOf(readings: Iterable<Reading>): Generator<Instant> {
  let gathered: Reading[] = [];
  for (const reading of readings) {
    if (gathered.length > 0 && reading.atMs !== gathered[0]!.atMs) {
      yield { atMs: gathered[0]!.atMs, readings: gathered };
      gathered = [];
    }
    gathered.push(reading);
  }
  if (gathered.length > 0) yield { atMs: gathered[0]!.atMs, readings: gathered };
}

/** What is believed of one channel at that moment, corrected °C; null: nothing was read, or it was not believed. */
export function goodValueC(instant: Instant, channel: Channel): number | null {
  return instant.readings.findLast(({ role, quality }) => role === channel && quality === 'good')?.valueC ?? null;
}

/**
 * Readings as a table in the same columns, line by line, ended as in RFC 4180: corrected °C, seconds since `startedAtMs`, one row for
 * each moment. A reading that was not believed is an empty cell, as it is a gap in the picture.
 */
export function* encodeCsv(
  readings: Iterable<Reading>,
  channels: readonly Channel[],
  startedAtMs: number,
): Generator<string> {
  yield `${[TIME, ...channels.map((channel) => `${channel}_c`)].join(',')}\r\n`;
  for (const instant of instantsOf(readings)) {
    if (instant.readings.every(({ role }) => role === 'ignored')) continue;
    const cells = channels.map((channel) => goodValueC(instant, channel) ?? '');
    yield `${[(instant.atMs - startedAtMs) / MS_PER_S, ...cells].join(',')}\r\n`;
  }
}

/** Those channels that were read, and the chocolate's in any case: a table without it could not be read again. */
export function channelsAmong(roles: ReadonlySet<string>): Channel[] {
  return Object.values(CHANNELS).filter((channel) => channel === 'chocolate' || roles.has(channel));
}
