/** How a line of a board, a meter, a stick or a logger is put together, and what is meant by it. */
import type { Moment } from './kitchen.ts';

/** Temperatures that are meant, °C, as written (so after rounding), by the key of their channel. */
export type Meant = Readonly<Record<string, number>>;

export interface Written {
  readonly lines: readonly string[];
  /** For each line. */
  readonly meant: readonly Meant[];
}

export interface LineFormat {
  readonly name: string;
  /** Nothing in the lines can tell: to be asked is right. */
  readonly asks?: boolean;
  /** None of it is a temperature. */
  readonly none?: boolean;
  /** What comes before the first moment. */
  readonly heading?: readonly string[];
  readonly write: (moment: Moment) => Written;
}

/** A number as it is written. */
export const fixed = (value: number, decimals: number) => value.toFixed(decimals);
/** °C for a value in °C as written. */
export const c = (value: number, decimals = 2) => Number(value.toFixed(decimals));
/** °F. */
export const f = (valueC: number) => valueC * 1.8 + 32;
/** °C for a value in °F as written. */
export const fromF = (value: number) => ((value - 32) * 5) / 9;
export const comma = (text: string) => text.replace('.', ',');
export const pad = (value: number | string, width: number) => String(value).padStart(width);
/** A date and a time of day. */
export const clock = (atMs: number) => new Date(Date.UTC(2026, 4, 3, 9, 12, 7) + atMs).toISOString();
/** Of all its bytes: the checksum of a sentence. */
export const xor = (text: string) =>
  Array.from(text, (char) => char.charCodeAt(0)).reduce((sum, byte) => sum ^ byte, 0);
export const hex = (byte: number) => byte.toString(16).toUpperCase().padStart(2, '0');
/** One character a byte, as lines are read. */
export const utf8 = (text: string) => String.fromCharCode(...new TextEncoder().encode(text));

/** One line a moment. */
export function one(
  name: string,
  line: (m: Moment) => string,
  meant: (m: Moment) => Meant,
  more: Partial<LineFormat> = {},
): LineFormat {
  return { name, write: (m) => ({ lines: [line(m)], meant: [meant(m)] }), ...more };
}

/** Several lines a moment, each with what is meant by it. */
export function several(
  name: string,
  write: (m: Moment) => readonly (readonly [string, Meant])[],
  more: Partial<LineFormat> = {},
) {
  return {
    name,
    write: (m: Moment) => {
      const all = write(m);
      return { lines: all.map(([line]) => line), meant: all.map(([, meant]) => meant) };
    },
    ...more,
  };
}

/** The chocolate alone. */
export const first = (decimals: number) => (m: Moment) => ({ 1: c(m.chocolateC, decimals) });
/** The chocolate, then its bath. */
export const both = (decimals: number) => (m: Moment) => ({ 1: c(m.chocolateC, decimals), 2: c(m.bathC, decimals) });
export const NOTHING: Meant = {};
