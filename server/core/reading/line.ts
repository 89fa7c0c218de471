/**
 * One line from a thermometer to temperatures, or the reason why not. Each line is judged by itself: it knows no history, no
 * profile and no device. Cautious: a line is refused rather than guessed at, for a wrong reading costs more than a missing one.
 */
import { bareNumber } from './bare-number.ts';
import { type Apart, type LineReading, notApart, refused, whyNoTemperature } from './channel.ts';
import { readingOf } from './entry.ts';
import { looksLikeJson, takeJsonApart } from './json-line.ts';
import { withoutPrefix } from './prefix.ts';
import { sentenceOf } from './sentence.ts';
import { spelled } from './spelling.ts';
import { takeTextApart } from './text-line.ts';

export interface LineOptions {
  /**
   * How `31,4` is to be read: as one number (true) or as two (false). Absent or null: nobody has said; then a single `31,4` is
   * one number, and lines that could well be either are refused as ambiguous.
   */
  readonly decimalComma?: boolean | null;
}

/** The bounded line reader before us cuts at the same length, characters. */
export const MAX_LINE_LENGTH = 512;

const ONE_PLACE: readonly string[] = ['1'];

/** A number and nothing else, as a line. */
export function bareReading(valueC: number): LineReading {
  return { ok: true, channels: [{ key: '1', valueC }], places: ONE_PLACE };
}

/**
 * The temperatures of a line without its terminator, one character per byte (U+0000–U+00FF); never throws. At least one channel
 * where ok. Missing or faulty values leave their channel out and do not shift the others' positions.
 */
export function readLine(text: string, options: LineOptions = {}): LineReading {
  const valueC = bareNumber(text);
  if (valueC !== null) return bareReading(valueC);
  const apart = takeApart(text, options.decimalComma ?? null);
  if (!apart.ok) return refused(apart.reason);
  return readingOf(apart.entries) ?? refused(whyNoTemperature(text));
}

/** The values of a line, whatever they are; never throws. */
export function takeApart(text: string, decimalComma: boolean | null): Apart {
  if (text.length > MAX_LINE_LENGTH) return notApart('too-long');
  const line = text.trim();
  if (line === '') return notApart('empty');
  const sentence = sentenceOf(line);
  if (sentence.kind === 'wrong') return notApart('bad-checksum');
  if (sentence.kind === 'of-places') return notApart('not-a-temperature');
  const clear = spelled(sentence.kind === 'right' ? sentence.body.trim() : line);
  if (clear === null) return notApart(whyNoTemperature(line));
  const plain = withoutPrefix(clear);
  return looksLikeJson(plain) ? takeJsonApart(plain, decimalComma) : takeTextApart(plain, decimalComma);
}
