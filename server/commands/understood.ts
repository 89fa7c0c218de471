/** What was understood of a thermometer's lines, in words for the terminal. */
import type { Channel } from '../core/reading/channel.ts';
import { explained } from '../core/reading/explained.ts';
import type { HeardLine } from '../core/reading/heard.ts';
import { readLine } from '../core/reading/line.ts';
import { numbersOf } from '../core/reading/numbers.ts';
import { recognise, recognitionOf, type SaidOfLines } from '../core/reading/recognition.ts';
import { sentinelReason } from '../core/reading/sentinel.ts';
import type { RejectReason } from '../core/record/event.ts';

const NOTHING_SAID: SaidOfLines = { decimalComma: null, roles: {} };

/** What a while of lines shows, as a bowl would find it out with nothing said about them. */
export class Understanding {
  #recognition = recognitionOf(null);

  take({ text, atMs }: HeardLine): void {
    this.#recognition = recognise(this.#recognition, text, atMs, NOTHING_SAID).recognition;
  }

  /** It is found out how the thermometer writes, or what a person has to say. */
  get isSure(): boolean {
    return this.#recognition.format !== null || this.#recognition.asksComma;
  }

  /** A line with what is known by now; by itself where that is nothing. */
  words({ text, atMs }: HeardLine): string {
    const { format, asksComma } = this.#recognition;
    if (asksComma) return `nothing: ${WHY.ambiguous}: say which on the page`;
    if (format === null) return understood(text);
    const { values, why } = explained(this.#recognition, text, atMs, NOTHING_SAID);
    const temperatures = values.flatMap(({ key, valueC }) => (valueC === null ? [] : [{ key, valueC }]));
    if (why === null) return named(temperatures);
    if (why === 'ambiguous' && format.asks) return `${named(temperatures)}: say on the page which is the chocolate`;
    return electricWords(text) ?? nothing(why);
  }
}

/** Of a line by itself: `31.40 °C`, `bath 52.10 °C, chocolate 31.40 °C`, or why nothing. */
export function understood(line: string): string {
  const read = readLine(line);
  return read.ok ? named(read.channels) : (electricWords(line) ?? nothing(read.reason));
}

function nothing(why: RejectReason): string {
  return `nothing: ${Object.hasOwn(WHY, why) ? WHY[why as keyof typeof WHY] : why}`;
}

function named(channels: readonly Channel[]): string {
  const isNamed = channels.length > 1 || channels.some(({ key }) => !/^\d+$/.test(key));
  return channels.map(({ key, valueC }) => `${isNamed ? `${key} ` : ''}${degrees(valueC)}`).join(', ');
}

function degrees(valueC: number): string {
  return sentinelReason(valueC) === null ? `${valueC.toFixed(2)} °C` : 'no reading: it stands for a fault';
}

/** What a sensor gives that somebody has still to name; null: nothing of the kind. */
function electricWords(line: string): string | null {
  const electric = numbersOf(recognitionOf(null), line, NOTHING_SAID).filter(
    (channel) => channel.electric !== undefined,
  );
  if (electric.length === 0) return null;
  const numbers = electric.map(({ valueC, electric: unit }) => `${valueC} ${unit!}`).join(', ');
  return `${numbers}: say of what sensor on the page`;
}

/** The reasons a line can be refused for with nothing said about it. */
const WHY = {
  empty: 'an empty line',
  'no-number': 'there is no number in it',
  'not-a-temperature': 'the number is no temperature',
  ambiguous: 'it can be read in two ways, as one number with a decimal comma or as two numbers',
  'too-long': 'it is longer than any line of a thermometer',
  'bad-checksum': 'its checksum is wrong',
  'broken-json': 'it begins like JSON and is none',
  'device-fault': 'the thermometer reports a fault',
  unsure: 'it looks like no line before it',
} as const satisfies Partial<Record<RejectReason, string>>;
