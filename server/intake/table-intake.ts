/** A table on its way to be a run: one of ours by its columns, or one from elsewhere as a person says it is to be read. */
import { isOurHeader, readingCsv, runOfRows } from '../core/record/csv.ts';
import type { RecordedInput } from '../core/record/input.ts';
import type { Profile } from '../core/record/profile.ts';
import type { Decoded, RunFile } from '../core/record/trace.ts';
import { headerOf } from '../source/recorded.ts';
import {
  columnNames,
  guessedChoice,
  guessedSeparator,
  headRows,
  readingTable,
  type TableChoice,
} from './bare-table.ts';
import { readingRows, type TableRow } from './delimited.ts';
import { RUN_MOST_MS } from './intake.ts';
import { SEPARATORS } from '../separators.ts';

/** Rows and points of the curve shown before a table is taken (ours: what a page has room for). */
const ROWS_SHOWN = 6;
const POINTS_SHOWN = 240;

/** A table as it was read. */
export interface TableRead {
  /** As it was read; null: its columns are named as ours are. */
  readonly choice: TableChoice | null;
  readonly names: readonly string[];
  /** The first rows with figures, as they stand there. */
  readonly cells: readonly (readonly string[])[];
  readonly inputs: Decoded<readonly RecordedInput[]>;
  /** When it began, wall clock ms; null: it does not say. */
  readonly startedAtMs: number | null;
}

/** Reads it as chosen; what was not chosen is guessed. */
export function* tableRead(
  text: string,
  chosen: Partial<TableChoice>,
  profile: Profile,
): Generator<void, Decoded<TableRead>> {
  const firstPhase = profile.phases[0]!.id;
  if (Object.keys(chosen).length === 0 && isOurHeader(text.slice(0, text.search(/[\r\n]|$/)))) {
    const inputs = yield* readingCsv(text, firstPhase);
    return { ok: true, value: { choice: null, names: [], cells: [], inputs: withinAWeek(inputs), startedAtMs: null } };
  }
  const separator = chosen.separator ?? guessedSeparator(text);
  const rows = yield* readingRows(text, SEPARATORS[separator]);
  if (!rows.ok) return rows;
  if (rows.value.length === 0) return { ok: false, line: 0, reason: 'the file is empty' };
  return {
    ok: true,
    value: yield* bareTableRead(rows.value, { ...guessedChoice(rows.value, separator), ...chosen }, firstPhase),
  };
}

function* bareTableRead(
  rows: readonly TableRow[],
  choice: TableChoice,
  firstPhase: string,
): Generator<void, TableRead> {
  const { decimal } = choice;
  const from = headRows(rows, decimal);
  const shown = {
    choice,
    names: columnNames(rows, decimal),
    cells: rows.slice(from, from + ROWS_SHOWN).map(({ cells }) => cells),
  };
  const table = yield* readingTable(rows, choice);
  if (!table.ok) return { ...shown, inputs: table, startedAtMs: null };
  const run = runOfRows(table.value.rows, firstPhase);
  const inputs: TableRead['inputs'] =
    run === null ? { ok: false, line: 0, reason: 'there is no temperature in it' } : { ok: true, value: run };
  return { ...shown, inputs, startedAtMs: table.value.startedAtMs };
}

function withinAWeek(inputs: Decoded<RecordedInput[]>): Decoded<RecordedInput[]> {
  if (!inputs.ok) return inputs;
  const [first, last] = [inputs.value[0]!, inputs.value.at(-1)!];
  if (last.atMs - first.atMs <= RUN_MOST_MS) return inputs;
  return { ok: false, line: 0, reason: 'it goes on for more than seven days' };
}

/** The curve as a few points, seconds since its start and °C, for a small picture. */
export function curveShown(inputs: readonly RecordedInput[]): (readonly [number, number])[] {
  const points = inputs.flatMap((input): (readonly [number, number])[] => {
    const valueC = input.kind === 'reading' ? input.valuesC.chocolate : null;
    return typeof valueC === 'number' ? [[input.atMs / 1000, valueC]] : [];
  });
  const every = Math.max(1, Math.ceil(points.length / POINTS_SHOWN));
  return points.filter((_, at) => at % every === 0 || at === points.length - 1);
}

/** The table as a trace: all that it does not say, nobody has said. */
export function traceOfTable(inputs: readonly RecordedInput[], profile: Profile): RunFile {
  return { what: 'trace', header: headerOf(profile), labels: {}, inputs, events: [] };
}
