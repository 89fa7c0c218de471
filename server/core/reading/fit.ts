/** A line held against the format that is locked: which of its values is what. */
import type { Column, Format, LineKind } from '../record/format.ts';
import type { Entry } from './entry.ts';
import { scaleSaid } from './entry.ts';
import { shapeOf } from './lock.ts';

/** The columns of a line, one for each of its values. */
export interface Fit {
  readonly columns: readonly Column[];
  /** Some value has a label that the format does not know. */
  readonly isNew: boolean;
}

/** null: the line is of no kind that the format knows. */
export function fitOf(format: Format, entries: readonly Entry[]): Fit | null {
  const shape = shapeOf(entries);
  const kind = format.kinds.find((each) => each.shape === shape);
  if (kind !== undefined) return { columns: kind.columns, isNew: false };
  return entries.every(({ label }) => label !== '') ? fitByLabels(format.kinds, entries) : null;
}

/** Values that have labels may come in any order, and some of them not at all. */
function fitByLabels(kinds: readonly LineKind[], entries: readonly Entry[]): Fit | null {
  const known = new Map(kinds.flatMap(({ columns }) => columns.map((column) => [column.label, column] as const)));
  const columns = entries.map((entry) => known.get(entry.label.toLowerCase()));
  if (!columns.some((column) => column?.what === 'temperature')) return null;
  return {
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
