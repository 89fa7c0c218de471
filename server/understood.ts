/** What was understood of one line of a thermometer, in words for the terminal. */
import { readLine } from './core/reading/line.ts';
import { numbersOf } from './core/reading/numbers.ts';
import { recognitionOf } from './core/reading/recognition.ts';
import { sentinelReason } from './core/reading/sentinel.ts';
import type { RejectReason } from './core/record/event.ts';

/** `31.40 °C`, `bath 52.10 °C, chocolate 31.40 °C`, or why nothing. */
export function understood(line: string): string {
  const read = readLine(line);
  if (!read.ok) return electricWords(line) ?? `nothing: ${WHY[read.reason] ?? read.reason}`;
  const named = read.channels.length > 1 || !/^\d+$/.test(read.channels[0]!.key);
  return read.channels.map(({ key, valueC }) => `${named ? `${key} ` : ''}${degrees(valueC)}`).join(', ');
}

function degrees(valueC: number): string {
  return sentinelReason(valueC) === null ? `${valueC.toFixed(2)} °C` : 'no reading: it stands for a fault';
}

/** What a sensor gives that somebody has still to name; null: nothing of the kind. */
function electricWords(line: string): string | null {
  const electric = numbersOf(recognitionOf(null), line, null).filter((channel) => channel.electric !== undefined);
  if (electric.length === 0) return null;
  const numbers = electric.map(({ valueC, electric: unit }) => `${valueC} ${unit!}`).join(', ');
  return `${numbers}: say of what sensor on the page`;
}

/** The reasons a line by itself can be refused for. */
const WHY: Readonly<Partial<Record<RejectReason, string>>> = {
  empty: 'an empty line',
  'no-number': 'there is no number in it',
  'not-a-temperature': 'the number is no temperature',
  ambiguous: 'it can be read in two ways, as one number with a decimal comma or as two numbers',
  'too-long': 'it is longer than any line of a thermometer',
  'bad-checksum': 'its checksum is wrong',
  'broken-json': 'it begins like JSON and is none',
  'device-fault': 'the thermometer reports a fault',
};
