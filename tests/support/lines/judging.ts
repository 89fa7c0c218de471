/** Lines given to recognition one by one, and its readings held against what was meant. */
import {
  recognise,
  type Recognition,
  recognitionOf,
  type SaidOfLines,
} from '../../../server/core/reading/recognition.ts';
import type { Meant } from './format.ts';

export interface MeantLine {
  readonly atMs: number;
  readonly text: string;
  /** Channels that are meant; none where the line has no temperature. */
  readonly meant: Meant;
}

export interface Verdict {
  /** Readings that are not what was meant, each as a text. */
  readonly wrong: readonly string[];
  /** Lines from which something was meant, and how many of them were read with all that was. */
  readonly meant: number;
  readonly read: number;
  /** Moment of the first reading after the first line, ms; null: never. */
  readonly firstReadMs: number | null;
  readonly asked: boolean;
  readonly recognition: Recognition;
}

const NOTHING_SAID: SaidOfLines = { decimalComma: null, roles: {} };
/** Of the arithmetic, °C. */
const EXACT_C = 1e-6;

/** `exactC`: how far a reading may be off what was meant, °C. */
export function verdictOn(lines: readonly MeantLine[], exactC = EXACT_C): Verdict {
  let recognition = recognitionOf(null);
  const wrong: string[] = [];
  let [meant, read] = [0, 0];
  let firstReadMs: number | null = null;
  let asked = false;
  for (const line of lines) {
    const turn = recognise(recognition, line.text, line.atMs, NOTHING_SAID);
    recognition = turn.recognition;
    const { reading } = turn;
    asked ||= recognition.asksComma || recognition.format?.asks === true;
    if (Object.keys(line.meant).length > 0) meant += 1;
    if (!reading.ok) continue;
    const odd = reading.channels.filter(({ key, valueC }) => !(Math.abs((line.meant[key] ?? NaN) - valueC) <= exactC));
    for (const { key, valueC } of odd)
      wrong.push(`${JSON.stringify(line.text)}: ${key} ${valueC}, meant ${JSON.stringify(line.meant)}`);
    if (odd.length > 0) continue;
    firstReadMs ??= line.atMs - lines[0]!.atMs;
    read += 1;
  }
  return { wrong, meant, read, firstReadMs, asked, recognition };
}
