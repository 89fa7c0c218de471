/** How a thermometer writes its lines, once that is found out: locked in the engine's state, and in the header of a run that begins with it. */
import type { Scale } from '../reading/scale.ts';
import {
  type Fields,
  filledList,
  flag,
  list,
  object,
  oneOf,
  optional,
  orNull,
  type Shape,
  textOfAtMost,
  wholeFrom,
} from './shape.ts';

/** What a value of a line is. Only temperatures are channels; of the others a person may say that they are one all the same. */
export const WHATS = [
  'temperature',
  /** Says so by label or unit: humidity, pressure, a set point… */
  'other',
  'time',
  'count',
  /** Never moves while another value does: a set point, a number of the device. */
  'constant',
  /** Too large, or whole among decimals: counts of a converter, a percentage. */
  'raw',
  /** The same temperature as another value, on another scale. */
  'same',
] as const;
export type What = (typeof WHATS)[number];

/** One value of a line, by its place. */
export interface Column {
  /** In lower case, from the line or from the line of headings before it; empty where there is none. */
  readonly label: string;
  readonly what: What;
  /** The scale of values that come without a unit. */
  readonly scale: Scale;
  /** How its numbers are written; absent: not sure. */
  readonly figures?: FiguresOfColumn;
}

/** How many figures stand behind the decimal mark. */
export interface FiguresOfColumn {
  readonly least: number;
  /** null: not known. */
  readonly most: number | null;
  /** In all, of a number with the most behind the mark. */
  readonly all: number;
}

/** Lines that look alike. */
export interface LineKind {
  /** Labels and places of a line, written together, `BETWEEN_PLACES` between them. */
  readonly shape: string;
  /** Between its values. */
  readonly between: Between;
  readonly columns: readonly Column[];
}

export const BETWEENS = ['nothing', 'comma', 'semicolon', 'tab', 'bar', 'blank', 'json'] as const;
export type Between = (typeof BETWEENS)[number];

export interface Format {
  /** A comma between digits is a decimal mark (true) or a separator (false); null: each line shows it by itself. */
  readonly decimalComma: boolean | null;
  /** The first is the one that comes most often. At least one. */
  readonly kinds: readonly LineKind[];
  /** Nothing tells which value is the chocolate: it waits for a person to say. */
  readonly asks: boolean;
}

/** Ours: more values than a line of 512 characters with labels holds, and more kinds of lines than a device takes turns with. */
const MOST_COLUMNS = 256;
export const MOST_KINDS = 16;
const LONGEST_LABEL = 512;
/** Characters. Ours: labels of values that stand within another's come once for each. */
export const LONGEST_SHAPE = 2 * LONGEST_LABEL;
/** In a shape; in no label of one. */
export const BETWEEN_PLACES = '|';

const figureCount = wholeFrom(0);
const FIGURES: Fields<FiguresOfColumn> = { least: figureCount, most: orNull(figureCount), all: figureCount };

const COLUMN: Fields<Column> = {
  label: textOfAtMost(LONGEST_LABEL),
  what: oneOf(WHATS),
  scale: oneOf(['C', 'F', 'K']),
  figures: optional(object(FIGURES)),
};

const KIND: Fields<LineKind> = {
  shape: textOfAtMost(LONGEST_SHAPE),
  between: oneOf(BETWEENS),
  columns: list(object(COLUMN), MOST_COLUMNS),
};
const anyKind = object(KIND);

/** A line of that shape has a column for each of its values. */
const kindShape: Shape = {
  ...anyKind,
  check: (value, path) => {
    const complaint = anyKind.check(value, path);
    if (complaint !== null) return complaint;
    const { shape, columns } = value as LineKind;
    const places = shape.split(BETWEEN_PLACES).length;
    if (columns.length === places) return null;
    return { path: `${path}.columns`, value: `${columns.length} long`, rule: `one for each of ${places} is wanted` };
  },
};

const FORMAT: Fields<Format> = {
  decimalComma: orNull(flag),
  kinds: filledList(kindShape, MOST_KINDS),
  asks: flag,
};

export const formatShape: Shape = object(FORMAT);
