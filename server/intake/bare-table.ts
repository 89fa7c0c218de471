/**
 * A table from elsewhere, with nothing in it that says what it is: a guess at how it is to be read, and reading it as a person chose. Gives
 * rows as a table of ours has them, or the line at fault and why.
 */
import type { Row } from '../core/record/csv.ts';
import { shown } from '../core/record/shape.ts';
import type { Decoded } from '../core/record/trace.ts';
import { SEPARATORS, type Separator } from '../separators.ts';
import type { TableRow } from './delimited.ts';
import { RUN_MOST_MS } from './intake.ts';
import { afterMidnight, momentMs, TIME_WANTED, type TimeForm } from './moments.ts';

export interface TableChoice {
  readonly separator: Separator;
  readonly decimal: 'point' | 'comma';
  /** Positions of the two columns, from 0. */
  readonly time: number;
  readonly temperature: number;
  readonly form: TimeForm;
  readonly unit: 'c' | 'f';
}

export interface ReadTable {
  readonly rows: readonly Row[];
  /** Wall clock of the first row where the table says it, ms. */
  readonly startedAtMs: number | null;
}

/** Rows that may stand before the figures begin: a title, names, units (ours). */
const HEAD_MOST = 20;
/** Rows a guess is made by (ours). */
const LOOKED_AT = 50;
/** Nobody melts chocolate above this, °C, so that a table that goes higher is in °F (ours). */
const CELSIUS_MOST = 75;

const FIGURE = {
  point: /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/,
  comma: /^[+-]?(?:\d+,?\d*|,\d+)(?:[eE][+-]?\d+)?$/,
};

/** The unit behind a figure. */
const UNIT = /\s*°?\s*([CFcf])$/;

/** The unit that a cell names; null: none. */
function unitIn(cell: string): TableChoice['unit'] | null {
  return (UNIT.exec(cell)?.[1]?.toLowerCase() as TableChoice['unit'] | undefined) ?? null;
}

/** The number in a cell, with this decimal mark and with its unit behind it or without; null: there is none. */
function figureIn(cell: string, decimal: TableChoice['decimal']): number | null {
  const bare = cell.replace(UNIT, '');
  if (!FIGURE[decimal].test(bare)) return null;
  const value = Number(bare.replace(',', '.'));
  return Number.isFinite(value) ? value : null;
}

/** The separator by which most of the first lines have the same number of cells, at least two. */
export function guessedSeparator(text: string): Separator {
  const lines = text
    .slice(0, 20_000)
    .split(/\r\n|\r|\n/, LOOKED_AT)
    .filter((line) => line.trim() !== '');
  const scored = (['tab', 'semicolon', 'comma'] as const).map((separator) => {
    const counts = lines.map((line) => line.split(SEPARATORS[separator]).length).filter((count) => count > 1);
    const most = Math.max(0, ...counts.map((count) => counts.filter((each) => each === count).length));
    return { separator, most };
  });
  return scored.reduce((best, each) => (each.most > best.most ? each : best)).separator;
}

/** How the rows are most likely meant. */
export function guessedChoice(rows: readonly TableRow[], separator: Separator): TableChoice {
  const looked = rows.slice(0, HEAD_MOST + LOOKED_AT);
  const decimal = looked.some(({ cells }) => cells.some((cell) => /^[+-]?\d+,\d+$/.test(cell))) ? 'comma' : 'point';
  const body = looked.slice(headRows(looked, decimal));
  const head = looked[headRows(looked, decimal) - 1]?.cells ?? [];
  const columns = Array.from({ length: Math.max(0, ...body.map(({ cells }) => cells.length)) }, (_, at) => at);
  const time = Math.max(
    0,
    columns.findIndex((at) => formOf(cellsIn(body, at), head[at] ?? '', decimal) !== null),
  );
  const form = formOf(cellsIn(body, time), head[time] ?? '', decimal) ?? 's';
  const figures = columns.filter(
    (at) => at !== time && cellsIn(body, at).some((cell) => figureIn(cell, decimal) !== null),
  );
  const named = figures.find((at) => /temp|choc|°|deg/i.test(head[at] ?? ''));
  const temperature = named ?? figures[0] ?? (time === 0 ? 1 : 0);
  return {
    separator,
    decimal,
    time,
    temperature,
    form,
    unit: unitOf(body, temperature, head[temperature] ?? '', decimal),
  };
}

/** A cell knows better than the head of its column, and that better than how high the figures go. */
function unitOf(body: readonly TableRow[], column: number, name: string, decimal: TableChoice['decimal']): 'c' | 'f' {
  const cells = cellsIn(body, column).filter((cell) => figureIn(cell, decimal) !== null);
  const named = cells.map(unitIn).find((unit) => unit !== null);
  if (named !== undefined) return named;
  if (/°\s*F|\(F\)|fahrenheit/i.test(name)) return 'f';
  if (/°\s*C|\(C\)|celsius/i.test(name)) return 'c';
  return cells.some((cell) => figureIn(cell, decimal)! > CELSIUS_MOST) ? 'f' : 'c';
}

function cellsIn(rows: readonly TableRow[], column: number): string[] {
  return rows.map(({ cells }) => cells[column] ?? '').filter((cell) => cell !== '');
}

/** The form that half of these cells have or more; null: none, so that they are no times. */
function formOf(cells: readonly string[], name: string, decimal: TableChoice['decimal']): TimeForm | null {
  const isOf = (form: TimeForm) => (cell: string) => momentMs(cell, form, (each) => figureIn(each, decimal)) !== null;
  const fits = (form: TimeForm): boolean => cells.length > 0 && cells.filter(isOf(form)).length * 2 >= cells.length;
  const first = cells[0] ?? '';
  if (fits('elapsed') && /^0?0:/.test(first)) return 'elapsed';
  if (fits('min') && /min/i.test(name)) return 'min';
  return (['date', 'clock', 'elapsed', 's'] as const).find(fits) ?? null;
}

/** How many rows stand before the first that holds a figure. */
export function headRows(rows: readonly TableRow[], decimal: TableChoice['decimal']): number {
  const isFigures = ({ cells }: TableRow): boolean => cells.some((cell) => figureIn(cell, decimal) !== null);
  const first = rows.slice(0, HEAD_MOST + 1).findIndex(isFigures);
  return Math.max(0, first);
}

/** What the columns are called, or nothing where the table does not say. */
export function columnNames(rows: readonly TableRow[], decimal: TableChoice['decimal']): readonly string[] {
  return rows[headRows(rows, decimal) - 1]?.cells ?? [];
}

/** Time counts from the first row. An empty temperature is no reading. Stops after each row. */
export function* readingTable(rows: readonly TableRow[], choice: TableChoice): Generator<void, Decoded<ReadTable>> {
  const { decimal, form } = choice;
  const read: Row[] = [];
  let first: number | null = null;
  let last = -Infinity;
  for (const { line, cells } of rows.slice(headRows(rows, decimal))) {
    const time = cells[choice.time] ?? '';
    const plain = momentMs(time, form, (cell) => figureIn(cell, decimal));
    if (plain === null) return { ok: false, line, reason: `the time is ${shown(time)}: ${TIME_WANTED[form]}` };
    const atMs: number = form === 'clock' ? afterMidnight(plain, last) : plain;
    if (atMs < last) return { ok: false, line, reason: `the time is ${shown(time)}: time may not go back` };
    first ??= atMs;
    if (atMs - first > RUN_MOST_MS)
      return { ok: false, line, reason: `the time is ${shown(time)}: more than seven days after the first row` };
    const value = temperatureC(cells[choice.temperature] ?? '', choice);
    if (typeof value === 'string') return { ok: false, line, reason: value };
    read.push({ atMs: atMs - first, valuesC: { chocolate: value } });
    last = atMs;
    yield;
  }
  return { ok: true, value: { rows: read, startedAtMs: form === 'date' ? first : null } };
}

/** °C, to a thousandth; null: an empty cell; a text: what is wrong with it. */
function temperatureC(cell: string, { decimal, unit }: TableChoice): number | null | string {
  if (cell === '') return null;
  const value = figureIn(cell, decimal);
  if (value === null) return `the temperature is ${shown(cell)}: a number with a decimal ${decimal} is wanted`;
  if ((unitIn(cell) ?? unit) !== unit)
    return `the temperature is ${shown(cell)}: °${unit.toUpperCase()} is how it is read`;
  return Math.round((unit === 'f' ? (value - 32) / 1.8 : value) * 1000) / 1000;
}
