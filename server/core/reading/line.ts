/**
 * One line from a thermometer to temperatures, or the reason why not. Each line is judged by itself: it knows no history, no
 * profile and no device. Cautious: a line is refused rather than guessed at, for a wrong reading costs more than a missing one.
 */
import { bareNumber } from './bare-number.ts';
import { type LineReading, refused } from './channel.ts';
import { looksLikeJson, readJsonLine } from './json-line.ts';
import { readTextLine } from './text-line.ts';

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

/**
 * The temperatures of a line without its terminator, one character per byte (U+0000–U+00FF); never throws. At least one channel
 * where ok. Missing or faulty values leave their channel out and do not shift the others' positions.
 */
export function readLine(text: string, options: LineOptions = {}): LineReading {
  const valueC = bareNumber(text);
  if (valueC !== null) return { ok: true, channels: [{ key: '1', valueC }], places: ONE_PLACE };
  if (text.length > MAX_LINE_LENGTH) return refused('too-long');
  const line = text.trim();
  if (line === '') return refused('empty');
  const decimalComma = options.decimalComma ?? null;
  return looksLikeJson(line) ? readJsonLine(line, decimalComma) : readTextLine(line, decimalComma);
}
