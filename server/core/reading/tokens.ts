/**
 * A line of text cut into numbers, words and marks. One pass, each pattern tried only where it stands, so no line takes long.
 * Knows how things are spelt, not what they mean together.
 */
import { commaMeaning } from './comma.ts';
import { NO_VALUE } from './words.ts';

export type Token =
  | { readonly kind: 'number'; readonly text: string; readonly value: number; readonly glued: boolean }
  | { readonly kind: 'word'; readonly text: string; readonly glued: boolean }
  /** A colon or equals sign between label and value. */
  | { readonly kind: 'mark' }
  /** A dash by itself: between label and value, or in place of a value. */
  | { readonly kind: 'dash' }
  | { readonly kind: 'separator'; readonly tab: boolean }
  /** Stands for a value that the device has not got: `nan`, `----`. */
  | { readonly kind: 'no-value' }
  /** A date or a time of day. */
  | { readonly kind: 'time' };

/** `unreadable`: something stands in it that belongs to no reading. */
export type Tokens =
  | { readonly ok: true; readonly tokens: readonly Token[] }
  | { readonly ok: false; readonly why: 'unreadable' | 'ambiguous' };

const BLANK = /[ ()"'<>[\]]+/y;
const DASHES = /-[-.]*-/y;
const CLOCK = String.raw`\d\d?:\d\d(?::\d\d(?:\.\d{1,9}|,\d{3})?)?(?: ?[AaPp][Mm])?(?:Z|[+-]\d\d:?\d\d)?`;
const DATE = String.raw`(?:\d{4}([-/.])\d\d?\1\d\d?|\d\d?([-/.])(?:\d\d?|[A-Za-z]{3})\2\d{4}|\d\d?([-/.])\d\d?\3\d\d)`;
const TIME = new RegExp(
  String.raw`(?:${DATE}(?:[T ,]? ?${CLOCK})?|\d\d?:\d\d:\d\d(?:\.\d{1,9}|,\d{3})?(?: ?[AaPp][Mm])?Z?|\d\d:\d\d(?: ?[AaPp][Mm])?)(?![\d.:/])`,
  'y',
);
const NUMBER = /[+-]?(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d{1,3})?/y;
const NUMBER_WITH_COMMA = /[+-]?\d+(?:[.,]\d+)?(?:[eE][+-]?\d{1,3})?/y;
/** In `T31.4` the label and the number touch. */
const TOUCHING_LABEL = /(?:t|temp)(?=[+-]?\d+[.,]\d)/iy;
const WORD = /[\p{L}_%°](?:[\p{L}0-9_%°²³]|-(?=[A-Za-z0-9])|[./](?=\p{L}))*/uy;
/** A chip's own number, in hexadecimal digits: a name, however it begins. */
const ADDRESS = /(?:\d\d-[0-9a-f]{12}|(?=\d*[a-f])[0-9a-f]{12,16}|(?:[0-9a-f]{2}[:-]){5,7}[0-9a-f]{2})(?![0-9a-z.])/iy;
const SEPARATOR = /[;,\t|/]/y;
const MARK = /[:=]/y;
const LONE_DASH = /-(?![\d.])/y;

/** `text`: as `spelled` gives it. */
export function tokensOf(text: string, decimalComma: boolean | null): Tokens {
  const comma = commaMeaning(text, decimalComma);
  if (comma === 'ambiguous') return { ok: false, why: 'ambiguous' };
  const number = comma === 'decimal' ? NUMBER_WITH_COMMA : NUMBER;
  const tokens: Token[] = [];
  let at = 0;
  while (at < text.length) {
    const blank = lengthAt(BLANK, text, at);
    const glued = blank === 0 && at > 0;
    at += blank;
    if (at >= text.length) break;
    const [token, length] = tokenAt(text, at, number, glued);
    if (token === null) return { ok: false, why: 'unreadable' };
    tokens.push(token);
    at += length;
  }
  return { ok: true, tokens };
}

function tokenAt(text: string, at: number, number: RegExp, glued: boolean): readonly [Token | null, number] {
  const found = (pattern: RegExp) => lengthAt(pattern, text, at);
  let length: number;
  if ((length = found(NO_VALUE) || found(DASHES)) > 0) return [{ kind: 'no-value' }, length];
  if ((length = found(ADDRESS)) > 0) return [{ kind: 'word', text: text.slice(at, at + length), glued }, length];
  if ((length = found(TIME)) > 0) return [{ kind: 'time' }, length];
  if ((length = found(number)) > 0) {
    const digits = text.slice(at, at + length);
    return [{ kind: 'number', text: digits, value: Number(digits.replace(',', '.')), glued }, length];
  }
  if ((length = found(TOUCHING_LABEL) || found(WORD)) > 0)
    return [{ kind: 'word', text: text.slice(at, at + length), glued }, length];
  if ((length = found(SEPARATOR)) > 0) return [{ kind: 'separator', tab: text[at] === '\t' }, length];
  if ((length = found(MARK)) > 0) return [{ kind: 'mark' }, length];
  if ((length = found(LONE_DASH)) > 0) return [{ kind: 'dash' }, length];
  return [null, 0];
}

function lengthAt(pattern: RegExp, text: string, at: number): number {
  pattern.lastIndex = at;
  return pattern.test(text) ? pattern.lastIndex - at : 0;
}
