/**
 * With how many figures a thermometer writes a value. Most write always as many behind the mark; once that is shown, a number with
 * another count of them is a torn one, or noise that looks like a number. Of a device that leaves noughts out it is never shown.
 */
import type { Column, FiguresOfColumn, Format } from '../record/format.ts';
import { sentinelReason } from './sentinel.ts';

/** A number as written. */
export interface Figures {
  readonly before: number;
  /** Behind the decimal mark; 0 where there is none. */
  readonly behind: number;
  /** The last one behind the mark is a nought. */
  readonly isNought: boolean;
}

/** What lines have shown so far of how one value is written. */
export interface Shown {
  /** The most figures behind the mark, and all of such a number. */
  readonly longest: number;
  readonly all: number;
  /** Lines since the first of these, up to `LINES_ENOUGH`. */
  readonly lines: number;
  /** Of these: how many ended in a nought, and how many had fewer figures. */
  readonly noughts: number;
  readonly fewer: number;
  /** How often it was another value than the line before, up to `TURNS_ENOUGH`; and the newest of these values. */
  readonly turns: number;
  readonly value: number;
}

/** One value of a line that was read. */
export interface Written {
  readonly column: Column;
  /** Of its kind and place in the format; null: it came under its label, in a line that was put together otherwise. */
  readonly key: string | null;
  readonly figures: Figures;
  /** As sent. */
  readonly value: number;
}

/** Nothing is made of noughts before so many lines (ours: were every other line written shorter, that would have shown). */
const LINES_ENOUGH = 12;
/** So many more numbers with fewer figures than with a nought at the end, and noughts are left out (ours). */
const FEWER_MOST = 8;
/**
 * So often another value, and none was longer: there is no further figure. Ours: were there one that is left out where it is a nought, half
 * of all values written shorter, that would happen by chance once in ten million times.
 */
const TURNS_ENOUGH = 24;

const NINE = 0x39;
const ZERO = 0x30;
const POINT = 0x2e;
const COMMA = 0x2c;
const BLANK = 0x20;
const PLUS = 0x2b;
const MINUS = 0x2d;

/** null: not written out, but with a power of ten. `text`: a number, perhaps between blanks. */
export function figuresOf(text: string): Figures | null {
  let [before, behind, last] = [0, 0, 0];
  let isBehind = false;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code >= ZERO && code <= NINE) {
      if (isBehind) behind += 1;
      else before += 1;
      last = code;
    } else if (code === POINT || code === COMMA) isBehind = true;
    else if (code !== BLANK && code !== PLUS && code !== MINUS) return null;
  }
  return { before, behind, isNought: behind > 0 && last === ZERO };
}

/** Under which a value of this kind of line is counted, by its place in it. */
export function keyOf(kind: number, at: number): string {
  return `${kind}/${at}`;
}

/**
 * Another count of figures than the value is written with. Not so where a longer or shorter whole part leaves as many in all, as on a display
 * with room for so many; and what stands for a fault may be written otherwise.
 */
export function isOdd({ column: { figures: known }, figures, value }: Omit<Written, 'key'>): boolean {
  if (known === undefined || isWithin(known, figures.behind)) return false;
  return figures.before + figures.behind !== known.all && sentinelReason(value) === null;
}

/**
 * The quick way: as many figures behind the mark as usual, and nothing more is to be found out about that value. `number`: without blanks,
 * its mark a point.
 */
export function isUsual(column: Column, shown: Shown | undefined, number: string): boolean {
  const { figures: known } = column;
  if (known !== undefined && known.least === known.most && known.least > 0)
    return number.charCodeAt(number.length - known.least - 1) === POINT;
  const point = number.indexOf('.');
  const behind = point < 0 ? 0 : number.length - point - 1;
  return isKnown(column, shown) && (known === undefined || isWithin(known, behind));
}

function isWithin({ least, most }: FiguresOfColumn, behind: number): boolean {
  return behind >= least && (most === null || behind <= most);
}

export interface WhatIsShown {
  readonly format: Format | null;
  /** By `keyOf`. */
  readonly shown: Readonly<Record<string, Shown>>;
}

/** With one more line that fitted, and what it proves put down in the format; `before` itself where it shows nothing new. */
export function withShown<T extends WhatIsShown>(before: T, values: readonly Written[]): T {
  const shown = counted(before.shown, values);
  if (shown === before.shown) return before;
  return { ...before, shown, format: proved(before.format!, shown) };
}

/** The same before it is known what the lines are held against. */
export function counted(before: WhatIsShown['shown'], values: readonly Written[]): WhatIsShown['shown'] {
  let after = before;
  for (const written of values) {
    const { key, figures, value } = written;
    const known = key === null ? undefined : after[key];
    if (key === null || isKnown(written.column, known) || isApart(written)) continue;
    const shown = shownBy(known, figures, value);
    if (shown !== known) after = { ...after, [key]: shown };
  }
  return after;
}

/** Let pass, but no example of how the value is written. */
function isApart({ column: { figures: known }, figures, value }: Written): boolean {
  return sentinelReason(value) !== null || (known !== undefined && !isWithin(known, figures.behind));
}

/** Nothing more is to be found out. */
function isKnown({ figures }: Column, shown: Shown | undefined): boolean {
  if (figures !== undefined && figures.least === figures.most) return true;
  return shown !== undefined && shown.turns >= TURNS_ENOUGH && areNoughtsSettled(shown);
}

function areNoughtsSettled({ longest, lines, noughts, fewer }: Shown): boolean {
  return longest === 0 || (lines >= LINES_ENOUGH && (noughts > fewer || fewer >= noughts + FEWER_MOST));
}

function shownBy(before: Shown | undefined, { before: whole, behind, isNought }: Figures, value: number): Shown {
  const all = whole + behind;
  if (before === undefined || behind > before.longest) {
    const [noughts, fewer] = [Number(isNought), Number(before !== undefined)];
    return { longest: behind, all, lines: 1, noughts, fewer, turns: 0, value };
  }
  const isTurn = before.turns < TURNS_ENOUGH && value !== before.value;
  const isLine = before.lines < LINES_ENOUGH;
  const isFewer = behind < before.longest;
  const counts = !areNoughtsSettled(before) && (isFewer || isNought);
  if (!isTurn && !isLine && !counts) return before;
  return {
    longest: before.longest,
    all: isFewer ? before.all : all,
    lines: before.lines + Number(isLine),
    noughts: before.noughts + Number(counts && !isFewer),
    fewer: before.fewer + Number(counts && isFewer),
    turns: before.turns + Number(isTurn),
    value,
  };
}

/** The format with all that is sure by now of how its values are written; itself where nothing is new. */
export function proved(format: Format, shown: WhatIsShown['shown']): Format {
  let isNew = false;
  const columnBy =
    (kind: number) =>
    (column: Column, at: number): Column => {
      const figures = figuresBy(column.figures, shown[keyOf(kind, at)]);
      if (figures === undefined || figures === column.figures) return column;
      isNew = true;
      return { ...column, figures };
    };
  const kinds = format.kinds.map((each, kind) => ({ ...each, columns: each.columns.map(columnBy(kind)) }));
  return isNew ? { ...format, kinds } : format;
}

/**
 * A nought at the end is written by nobody who leaves it out: from then on there are as many figures, and where it is not the only one behind
 * the mark, never more (`31.0` is also what those write who leave out all others).
 */
function figuresBy(known: FiguresOfColumn | undefined, shown: Shown | undefined): FiguresOfColumn | undefined {
  if (shown === undefined) return known;
  const { longest, all, lines, noughts, fewer, turns } = shown;
  const isNoughtWritten = lines >= LINES_ENOUGH && noughts > fewer;
  const isLongest = turns >= TURNS_ENOUGH || (isNoughtWritten && longest > 1);
  if (!isNoughtWritten && !isLongest) return known;
  const least = isNoughtWritten ? longest : (known?.least ?? 0);
  const most = isLongest ? longest : (known?.most ?? null);
  return known?.least === least && known.most === most ? known : { least, most, all };
}
