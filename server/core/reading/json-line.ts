/**
 * A one-line JSON object or array to its values: numbers and numeric texts, one level of nesting, names as labels. Which of the values
 * are temperatures is judged in entry.ts.
 */
import { type LineReading, refused, whyNoTemperature } from './channel.ts';
import { commaMeaning } from './comma.ts';
import { emptyEntry, type Entry, readingOf } from './entry.ts';
import { type Scale, scaleNamed, withDegreeSigns } from './scale.ts';
import { hasFaultWord, isOtherUnit } from './words.ts';

/** `{ "choc": { "temp": 31.4 } }` is read, a level more is not. */
const MOST_NESTING = 1;
const NUMERIC_TEXT = /^\s*([+-]?\d+(?:[.,]\d+)?(?:[eE][+-]?\d{1,3})?)\s*([a-z%°]*)\s*$/i;

/** Whether the line means to be JSON; a bracket alone also opens many a log line. */
export function looksLikeJson(line: string): boolean {
  return line.startsWith('{') || /^\[\s*[[{"\d.\]-]/.test(line);
}

/** The line starts and ends without blanks. A value that the device writes as NaN, which JSON has not, counts as missing. */
export function readJsonLine(line: string, decimalComma: boolean | null): LineReading {
  const text = withDegreeSigns(line);
  if (/[^\t\u0020-\u007e°]/.test(text)) return refused('not-a-temperature');
  const value = parsed(text.replace(NOT_A_NUMBER, '$1null'));
  if (value === undefined) return refused(hasFaultWord(text) ? 'device-fault' : 'broken-json');
  return readingOf(entriesIn(value, '', 0, decimalComma)) ?? refused(whyNoTemperature(text));
}

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
  return { ...emptyEntry(label), value, whole: label === '' && Number.isInteger(value) };
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
  return { ...emptyEntry(label), value: Number(digits.replace(',', '.')), scale, other };
}

/** `{ "temp": 88.5, "unit": "F" }`: the unit of the values beside it. */
function scaleBeside(value: object): Scale | null {
  const unit = Object.entries(value).find(([name]) => /^units?$/i.test(name))?.[1] as unknown;
  return typeof unit === 'string' ? scaleNamed(withDegreeSigns(unit).toLowerCase()) : null;
}
