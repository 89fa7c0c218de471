/** A line held against the format that is locked: which of its values is what. */
import type { Column, Format, LineKind } from '../record/format.ts';
import type { Entry } from './entry.ts';
import { scaleSaid } from './entry.ts';
import { isOdd, keyOf, type Written } from './figures.ts';
import { shapeOf } from './lock.ts';

/** The columns of a line, one for each of its values. */
export interface Fit {
  readonly columns: readonly Column[];
  /** Which of the format's kinds of lines it is; null: put together from its labels. */
  readonly kind: number | null;
  /** Some value has a label that the format does not know. */
  readonly isNew: boolean;
}

/** null: the line is of no kind that the format knows, or a number in it is not written as that value is. */
export function fitOf(format: Format, entries: readonly Entry[]): Fit | null {
  const fit = fitByShape(format, entries);
  const isOddOne = (entry: Entry, at: number): boolean => {
    const written = fit === null ? null : writtenIn(fit, entry, at);
    return written !== null && isOdd(written);
  };
  return entries.some(isOddOne) ? null : fit;
}

/** A value with how it is written; null: on another scale than usual, or nobody can tell. */
export function writtenIn({ columns, kind }: Fit, { value, figures, scale }: Entry, at: number): Written | null {
  const column = columns[at]!;
  if (value === null || figures === null || (scale !== null && scale !== column.scale)) return null;
  return { column, key: kind === null ? null : keyOf(kind, at), figures, value };
}

function fitByShape({ kinds }: Format, entries: readonly Entry[]): Fit | null {
  const shape = shapeOf(entries);
  const kind = kinds.findIndex((each) => each.shape === shape);
  if (kind >= 0) return { columns: kinds[kind]!.columns, kind, isNew: false };
  return entries.every(({ label }) => label !== '') ? fitByLabels(kinds, entries) : null;
}

/** Values that have labels may come in any order, and some of them not at all. */
function fitByLabels(kinds: readonly LineKind[], entries: readonly Entry[]): Fit | null {
  const known = new Map(kinds.flatMap(({ columns }) => columns.map((column) => [column.label, column] as const)));
  const columns = entries.map((entry) => known.get(entry.label.toLowerCase()));
  if (!columns.some((column) => column?.what === 'temperature')) return null;
  return {
    kind: null,
    columns: columns.map((column, at) => column ?? unknown(entries[at]!)),
    isNew: columns.includes(undefined),
  };
}

function unknown(entry: Entry): Column {
  return { label: entry.label.toLowerCase(), what: 'raw', scale: scaleSaid(entry) ?? 'C' };
}

/** The line's values under the names that headings gave them. */
export function labelled(entries: readonly Entry[], { columns }: Fit): readonly Entry[] {
  return entries.map((entry, at) =>
    entry.label === '' && columns[at]!.label !== '' ? { ...entry, label: columns[at]!.label } : entry,
  );
}
