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

/** One cell and what ends it. A quoted one may hold separators, line ends and doubled quotes. */
function cellPattern(separator: string): RegExp {
  const sign = separator === '\t' ? '\\t' : separator;
  return new RegExp(
    `(?:[^\\S\\r\\n\\t]*"((?:[^"]|"")*)"[^\\S\\r\\n\\t]*|([^"${sign}\\r\\n]*))(${sign}|\\r?\\n|\\r|$)`,
    'y',
  );
}

/** Empty lines are left out. Stops after each row. */
export function* readingRows(text: string, separator: string): Generator<void, Decoded<TableRow[]>> {
  const cell = cellPattern(separator);
  const rows: TableRow[] = [];
  let at = text.startsWith('\uFEFF') ? 1 : 0;
  let line = 1;
  while (at < text.length) {
    const row = rowFrom(text, at, cell);
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
function rowFrom(text: string, from: number, cell: RegExp) {
  const cells: string[] = [];
  cell.lastIndex = from;
  for (;;) {
    const match = cell.exec(text);
    if (match === null) return faulty('a quote is out of place or not closed');
    const content = (match[1]?.replaceAll('""', '"') ?? match[2]!).trim();
    if (content.length > CELL_MOST_CHARS) return faulty(`a cell is longer than ${CELL_MOST_CHARS} characters`);
    cells.push(content);
    if (cells.length > CELLS_MOST) return faulty(`no more than ${CELLS_MOST} cells are read`);
    const ending = match[3]!;
    if (ending === '' || /[\r\n]/.test(ending))
      return { cells, end: cell.lastIndex, lines: linesIn(text, from, cell.lastIndex), reason: null };
  }
}

function faulty(reason: string) {
  return { cells: [], end: 0, lines: 0, reason };
}

function linesIn(text: string, from: number, to: number): number {
  return text.slice(from, to).split(/\r\n|\r|\n/).length - 1;
}
