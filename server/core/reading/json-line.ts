/**
 * A one-line JSON object or array to its values: numbers and numeric texts, one level of nesting, names as labels. Which of the values
 * are temperatures is judged in entry.ts.
 */
import { type Apart, MOST_VALUES, notApart, whyNoTemperature } from './channel.ts';
import { commaMeaning } from './comma.ts';
import { electricNamed } from './electric.ts';
import { decimalsOf, emptyEntry, type Entry } from './entry.ts';
import { figuresOf } from './figures.ts';
import { type Scale, scaleNamed } from './scale.ts';
import { spelled } from './spelling.ts';
import { isOtherUnit } from './words.ts';

/** `{ "choc": { "temp": 31.4 } }` is read, a level more is not. */
const MOST_NESTING = 1;
const NUMERIC_TEXT = /^\s*([+-]?\d+(?:[.,]\d+)?(?:[eE][+-]?\d{1,3})?)\s*([a-z%°]*)\s*$/i;

/** Whether the line means to be JSON; a bracket alone also opens many a log line. */
export function looksLikeJson(line: string): boolean {
  return line.startsWith('{') || /^\[\s*[[{"\d.\]-]/.test(line);
}

/**
 * `text`: as `spelled` gives it, without blanks at its ends. A value that the device writes as NaN, which JSON has not, counts as
 * missing; single quotes, and True, False and None, are those of scripting boards.
 */
export function takeJsonApart(text: string, decimalComma: boolean | null): Apart {
  if (/[^\t\u0020-\u007e°\p{L}]/u.test(text)) return notApart('not-a-temperature');
  const value = parsed(text) ?? parsed(asJson(text));
  if (value === undefined) return notApart(whyBroken(text));
  const entries = entriesIn(value, '', 0, decimalComma);
  return entries.length > MOST_VALUES ? notApart('not-a-temperature') : { ok: true, entries, between: 'json' };
}

function asJson(text: string): string {
  const quoted = text.includes('"') ? text : text.replaceAll("'", '"');
  return quoted.replace(NOT_A_NUMBER, '$1null').replace(SCRIPTED, '$1null');
}

function whyBroken(text: string) {
  const why = whyNoTemperature(text);
  return why === 'device-fault' ? why : 'broken-json';
}

/** Not within a text: behind a colon, a comma or a bracket. */
const SCRIPTED = /([:[,]\s*)(?:True|False|None|undefined|ovf|ovl)\b/g;
const NOT_A_NUMBER = /([:[,]\s*)[+-]?(?:nan|inf(?:inity)?)\b/gi;

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function entriesIn(value: unknown, label: string, nesting: number, decimalComma: boolean | null): Entry[] {
  if (typeof value !== 'object' || value === null) return [entryOf(value, label, decimalComma)];
  if (nesting > MOST_NESTING) return [emptyEntry(label)];
  const scale = scaleBeside(value);
  return namesAndValues(value, label).flatMap(([name, inner]) =>
    entriesIn(inner, name, nesting + 1, decimalComma).map((entry) => ({ ...entry, scale: entry.scale ?? scale })),
  );
}

/** Members by name, elements by position; the elements of the outermost list have only their place in the line. */
function namesAndValues(value: object, label: string): (readonly [string, unknown])[] {
  const prefix = label === '' ? '' : `${label}.`;
  if (!Array.isArray(value)) return Object.entries(value).map(([name, inner]) => [`${prefix}${name}`, inner]);
  return value.map((inner: unknown, index) => {
    const isPlain = typeof inner !== 'object' || inner === null;
    return [label === '' && isPlain ? '' : `${prefix}${index + 1}`, inner];
  });
}

function entryOf(value: unknown, label: string, decimalComma: boolean | null): Entry {
  if (typeof value === 'string') return entryOfText(value, label, decimalComma);
  if (typeof value !== 'number') return emptyEntry(label);
  return {
    ...emptyEntry(label),
    value,
    whole: label === '' && Number.isInteger(value),
    decimals: decimalsOf(String(value)),
  };
}

function entryOfText(text: string, label: string, decimalComma: boolean | null): Entry {
  const [, digits, unit] = NUMERIC_TEXT.exec(text) ?? [];
  if (digits === undefined || unit === undefined) return emptyEntry(label);
  const word = unit.toLowerCase();
  const scale = scaleNamed(word);
  const isUnreadable =
    (word !== '' && scale === null && !isOtherUnit(word)) ||
    (digits.includes(',') && commaMeaning(digits, decimalComma) !== 'decimal');
  if (isUnreadable) return emptyEntry(label);
  const other = word !== '' && scale === null;
  const value = Number(digits.replace(',', '.'));
  const electric = other ? electricNamed(word) : null;
  const [decimals, figures] = [decimalsOf(digits), figuresOf(digits)];
  return { ...emptyEntry(label), value, decimals, figures, scale, other, electric };
}

/** `{ "temp": 88.5, "unit": "F" }`: the unit of the values beside it. */
function scaleBeside(value: object): Scale | null {
  const unit = Object.entries(value).find(([name]) => /^units?$/i.test(name))?.[1] as unknown;
  return typeof unit === 'string' ? scaleNamed((spelled(unit) ?? unit).toLowerCase()) : null;
}
