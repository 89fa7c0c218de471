/**
 * A run as a table for a person's own spreadsheet: figures with their decimal mark, columns with names and units, what happened beside the
 * curve. RFC 4180 with a separator of choice. Only text cells can be taken for formulas, and only they are guarded; figures are never touched.
 */
import { type Channel, goodValueC, type Instant, instantsOf } from '../core/record/csv.ts';
import type { Reading } from '../core/record/run.ts';
import { type Separator, SEPARATORS } from '../separators.ts';
import { asName, figure, inUnit, type Manner, stamp, unitSign } from './manner.ts';
import { probeFacts } from './probe-facts.ts';
import { type Happening, happenings, type ToldRun } from './told-run.ts';

/** By this a calculating program knows that the file is UTF-8. */
const BYTE_ORDER_MARK = '\uFEFF';

/** What a calculating program may take for the beginning of a formula, a full-width sign included. */
const FORMULA = /^[\t\r\n ]*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20|%]/;
/** Where a program that takes another separator than ours begins a cell, and a formula after it. */
const FORMULA_INSIDE = /([;,\t])([\r\n ]*)(?=[=+\-@\uFF1D\uFF0B\uFF0D\uFF20|%])/g;
/** What `figure` writes. */
const A_FIGURE = /^-?\d+(?:[.,]\d+)?$/;

/** The separator that goes with a decimal mark, where nobody chose one. */
export function usualSeparator({ decimal }: Manner): Separator {
  return decimal === 'comma' ? 'semicolon' : 'comma';
}

/**
 * Line by line, each with its end. `readings` in order of time; a moment at which something happened and nothing was read has a row of its own.
 * What is known of the probe stands at the start, as on the run sheet.
 */
export function* spreadsheetLines(
  told: ToldRun,
  readings: Iterable<Reading>,
  channels: readonly Channel[],
  manner: Manner,
  separator: Separator,
): Generator<string> {
  const sign = SEPARATORS[separator];
  yield `${BYTE_ORDER_MARK}${lineOf(headOf(channels, manner), sign)}`;
  for (const { atMs, instant, happened } of rowsOf(readings, [ofTheProbe(told, manner), ...happenings(told, manner)])) {
    yield lineOf(
      [
        guarded(stamp(told.wallMsOf(atMs))),
        figure((atMs - told.beganAtMs) / 1000, 3, manner),
        ...channels.map((channel) => temperature(instant === null ? null : goodValueC(instant, channel), manner)),
        temperature(instant === null ? null : estimateC(instant), manner),
        guarded(phaseAt(told, atMs)),
        guarded(happened.map(({ words }) => words).join('; ')),
      ],
      sign,
    );
  }
}

function headOf(channels: readonly Channel[], manner: Manner): string[] {
  const unit = unitSign(manner);
  const measured = channels.map((channel) => `${asName(channel)}, read (${unit})`);
  return ['Clock', 'Into the run (s)', ...measured, `Chocolate, estimate (${unit})`, 'Phase', 'What happened'];
}

/** Nothing of a run is before its start. */
function ofTheProbe(told: ToldRun, manner: Manner): Happening {
  const words = probeFacts(told, manner).map(([name, value]) => `${name}: ${value}`);
  const said = words.join('; ');
  return { id: 'probe', atMs: told.stored.startedAtMs, kind: 'said', words: said, brief: said };
}

interface Row {
  readonly atMs: number;
  /** null: nothing was read at this moment. */
  readonly instant: Instant | null;
  readonly happened: readonly Happening[];
}

/** Both in order of time, laid into one another. */
function* rowsOf(readings: Iterable<Reading>, happened: readonly Happening[]): Generator<Row> {
  let next = 0;
  const upTo = (atMs: number): Happening[] => {
    const from = next;
    while (next < happened.length && happened[next]!.atMs <= atMs) next += 1;
    return happened.slice(from, next);
  };
  for (const instant of instantsOf(readings)) {
    const due = upTo(instant.atMs);
    for (const one of due.filter(({ atMs }) => atMs < instant.atMs))
      yield { atMs: one.atMs, instant: null, happened: [one] };
    yield { atMs: instant.atMs, instant, happened: due.filter(({ atMs }) => atMs === instant.atMs) };
  }
  for (const one of happened.slice(next)) yield { atMs: one.atMs, instant: null, happened: [one] };
}

function estimateC({ readings }: Instant): number | null {
  return readings.findLast(({ role }) => role === 'chocolate')?.estimateC ?? null;
}

function phaseAt({ view }: ToldRun, atMs: number): string {
  const visit = view.visits.findLast(({ enteredAtMs }) => enteredAtMs <= atMs);
  return visit === undefined ? '' : asName(visit.phase);
}

function temperature(valueC: number | null, manner: Manner): string {
  return valueC === null ? '' : figure(inUnit(valueC, manner), 2, manner);
}

/** A text that cannot be taken for a formula, wherever it is cut into cells: what could be has an apostrophe before it. */
export function guarded(text: string): string {
  const inside = text.replaceAll(FORMULA_INSIDE, "$1'$2");
  return FORMULA.test(text) ? `'${inside}` : inside;
}

function lineOf(cells: readonly string[], separator: string): string {
  return `${cells.map((cell) => quoted(cell, separator)).join(separator)}\r\n`;
}

function quoted(cell: string, separator: string): string {
  const needsQuotes = cell.includes(separator) || (/[";,\t\r\n]|^\s|\s$/.test(cell) && !A_FIGURE.test(cell));
  return needsQuotes ? `"${cell.replaceAll('"', '""')}"` : cell;
}
