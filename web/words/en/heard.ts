/** What the thermometer says and how it is understood, in words. Pure. */
import type { Role } from '../../../server/core/record/command.ts';
import type { RejectReason } from '../../../server/core/record/event.ts';
import type { Between, Format, LineKind, What } from '../../../server/core/record/format.ts';
import { degrees } from '../measure.ts';
import { marked, unitSign } from '../manner.ts';

export const HEARD = {
  title: 'What the thermometer says.',
  coming: 'Asking what it says.',
  nothing: 'Nothing has come yet.',
  nothingDetail: 'As soon as the thermometer says something, it stands here.',
  unsure: 'Not sure yet how to read it.',
  unsureDetail: 'It takes five lines that look alike, over three seconds.',
  understood: 'This is understood.',
  values: 'Its values',
  lines: 'Its newest lines',
  which: 'Which value is the chocolate?',
  whichDetail: 'Nothing in the lines tells. Tap it below; it is remembered for this thermometer.',
  comma: 'One number, or two?',
  commaDetail: (line: string) => `It says “${line}”, and it could be either.`,
  oneNumber: (figure: string) => `One number: ${figure}`,
  twoNumbers: (first: string, second: string) => `Two numbers: ${first} and ${second}`,
  roles: (name: string) => `What ${name} is`,
  whose: 'It is',
  ignored: 'Ignored:',
} as const;

export const ROLE_WORD: Readonly<Record<Role, string>> = {
  chocolate: 'Chocolate',
  bath: 'Bath',
  room: 'Room',
  ignored: 'None of these',
};

const WHAT_WORD: Readonly<Record<Exclude<What, 'temperature'>, string>> = {
  other: 'something else, by its name or unit',
  time: 'a time',
  count: 'a counter',
  constant: 'never moves: a setting, or a number of the device',
  raw: 'not a temperature by its size',
  same: 'the same temperature on another scale',
};

/** "31.4 °C", or what it is instead. */
export function valueWords(what: What, valueC: number | null): string {
  if (valueC !== null) return `${degrees(valueC)} ${unitSign()}`;
  return what === 'temperature' ? 'missing' : WHAT_WORD[what];
}

export const WHY_WORD: Readonly<Partial<Record<RejectReason, string>>> = {
  empty: 'it is empty',
  'no-number': 'there is no number in it',
  'not-a-temperature': 'no temperature in it',
  ambiguous: 'it could mean two things',
  unsure: 'not sure yet how to read it',
  'bad-checksum': 'its checksum is wrong',
  'too-long': 'it is too long',
  'broken-json': 'it breaks off',
  'device-fault': 'the thermometer tells of a fault',
  implausible: 'the sensor that was named gives no such number',
};

const ORDINALS = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth'];
const COUNTS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight'];

const BETWEEN_WORD: Readonly<Record<Between, string>> = {
  nothing: '',
  comma: ' between commas',
  semicolon: ' between semicolons',
  tab: ' between tabs',
  bar: ' between strokes',
  blank: ' between blanks',
  json: ' as JSON',
};

/** "Three values between commas; the second is the temperature." */
export function formatWords(format: Format): string {
  const said = format.kinds.map(kindWords);
  const comma = format.decimalComma === true ? ' With decimal commas.' : '';
  return `${said.join(' ')}${comma}`;
}

function kindWords({ columns, between }: LineKind): string {
  const temperatures = columns.flatMap(({ what }, at) => (what === 'temperature' ? [at] : []));
  if (columns.length === 1)
    return `One number a line${columns[0]!.label === '' ? '' : `, called ${columns[0]!.label}`}.`;
  const places = temperatures.map((at) => (columns[at]!.label === '' ? `the ${ordinal(at)}` : columns[at]!.label));
  const are = temperatures.length === 1 ? 'is the temperature' : 'are temperatures';
  return `${capital(count(columns.length))} values${BETWEEN_WORD[between]}; ${listed(places)} ${are}.`;
}

function ordinal(at: number): string {
  return ORDINALS[at] ?? `${at + 1}th`;
}

/** "the second value", or its label. */
export function valueName(label: string, at: number): string {
  return label === '' ? `the ${ordinal(at)} value` : label;
}

function count(of: number): string {
  return COUNTS[of] ?? String(of);
}

function listed(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)!}`;
}

export function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** As it was sent. */
export function sent(value: number): string {
  return marked(String(value));
}
