/** Text in rows and cells (RFC 4180, with a separator of choice), each row with the line it begins at. Says nothing of what the cells mean. */
import type { Decoded } from '../core/record/trace.ts';

export interface TableRow {
  readonly line: number;
  readonly cells: readonly string[];
}

/** Longest cell, characters, most cells of a row, and most rows read (ours: a week of ten a second is no spreadsheet any more). */
const CELL_MOST_CHARS = 1_000;
const CELLS_MOST = 50;
const ROWS_MOST = 1_000_000;

const NOT_CLOSED = 'a quote is out of place or not closed';
const TOO_LONG = `a cell is longer than ${CELL_MOST_CHARS} characters`;

/** What cells are made of, each from a given place on. Quotes are looked for by hand: a pattern that repeats itself in one overflows. */
interface Signs {
  readonly opening: RegExp;
  readonly plain: RegExp;
  readonly ending: RegExp;
}

function signsOf(separator: string): Signs {
  const sign = separator === '\t' ? '\\t' : separator;
  return {
    opening: /[^\S\r\n\t]*"/y,
    plain: new RegExp(`[^"${sign}\\r\\n]*`, 'y'),
    ending: new RegExp(`[^\\S\\r\\n\\t]*(${sign}|\\r?\\n|\\r|$)`, 'y'),
  };
}

/** Empty lines are left out. Stops after each row. */
export function* readingRows(text: string, separator: string): Generator<void, Decoded<TableRow[]>> {
  const signs = signsOf(separator);
  const rows: TableRow[] = [];
  let at = text.startsWith('\uFEFF') ? 1 : 0;
  let line = 1;
  while (at < text.length) {
    const row = rowFrom(text, at, signs);
    if (row.reason !== null) return { ok: false, line, reason: row.reason };
    if (row.cells.some((each) => each !== '')) rows.push({ line, cells: row.cells });
    if (rows.length > ROWS_MOST) return { ok: false, line, reason: `no more than ${ROWS_MOST} rows are read` };
    line += row.lines;
    at = row.end;
    yield;
  }
  return { ok: true, value: rows };
}

/** The row that begins at this place, where the next one begins, and how many lines it takes. */
function rowFrom(text: string, from: number, signs: Signs) {
  const cells: string[] = [];
  let at = from;
  for (;;) {
    const cell = cellFrom(text, at, signs);
    if (typeof cell === 'string') return faulty(cell);
    cells.push(cell.content);
    if (cells.length > CELLS_MOST) return faulty(`no more than ${CELLS_MOST} cells are read`);
    const ending = matchAt(signs.ending, text, cell.end);
    if (ending === null) return faulty(NOT_CLOSED);
    at = signs.ending.lastIndex;
    if (ending[1] === '' || /[\r\n]/.test(ending[1]!))
      return { cells, end: at, lines: linesIn(text, from, at), reason: null };
  }
}

/** The cell that begins at this place and where it ends, or what is wrong with it. A quoted one may hold separators, line ends and doubled quotes. */
function cellFrom(text: string, at: number, { opening, plain }: Signs) {
  const isQuoted = matchAt(opening, text, at) !== null;
  const from = isQuoted ? opening.lastIndex : at;
  const end = isQuoted ? closingQuote(text, from) : from + matchAt(plain, text, from)![0].length;
  if (end === -1) return NOT_CLOSED;
  // A doubled quote is one character.
  if (end - from > 2 * CELL_MOST_CHARS && isQuoted) return TOO_LONG;
  const raw = text.slice(from, end);
  const content = (isQuoted ? raw.replaceAll('""', '"') : raw).trim();
  return content.length > CELL_MOST_CHARS ? TOO_LONG : { content, end: isQuoted ? end + 1 : end };
}

/** The first quote that is not doubled, or where the cell has long been too long; -1: there is none. */
function closingQuote(text: string, from: number): number {
  let at = text.indexOf('"', from);
  while (at !== -1 && text[at + 1] === '"' && at - from <= 2 * CELL_MOST_CHARS) at = text.indexOf('"', at + 2);
  return at;
}

function matchAt(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at;
  return pattern.exec(text);
}

function faulty(reason: string) {
  return { cells: [], end: 0, lines: 0, reason };
}

function linesIn(text: string, from: number, to: number): number {
  return text.slice(from, to).split(/\r\n|\r|\n/).length - 1;
}
