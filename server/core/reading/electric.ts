/** Ohms and millivolts as they are written in a line: no temperatures, but what one may be made of. Spelling only. */
import type { ElectricUnit } from '../record/sensor.ts';
import { partsOf } from './words.ts';

const UNITS: ReadonlyMap<string, ElectricUnit> = new Map([
  ['ohm', 'ohm'],
  ['ohms', 'ohm'],
  ['r', 'ohm'],
  ['res', 'ohm'],
  ['resistance', 'ohm'],
  ['ω', 'ohm'],
  ['kω', 'kohm'],
  ['kohm', 'kohm'],
  ['kohms', 'kohm'],
  ['mv', 'mV'],
  ['millivolts', 'mV'],
  ['uv', 'uV'],
  ['µv', 'uV'],
  ['μv', 'uV'],
]);

/** Words that name a quantity in a label but are no unit behind a number. */
const LABELS_ONLY: readonly string[] = ['r', 'res', 'resistance'];

/** The unit that a word behind a number names, in lower case; null for any other. */
export function electricNamed(word: string): ElectricUnit | null {
  return LABELS_ONLY.includes(word) ? null : (UNITS.get(word) ?? null);
}

/** `R kOhm`, `r (kΩ)`: a thousand of them, in whatever capitals. */
const IN_THOUSANDS = /(?:^|[^a-z])k ?(?:ohms?|ω)\W*$/i;

/** What a label says its number is counted in, in its last word: `Probe R`, `pt100_ohm`, `tc mV`. */
export function electricOfLabel(label: string): ElectricUnit | null {
  if (IN_THOUSANDS.test(label)) return 'kohm';
  return UNITS.get(partsOf(label).at(-1) ?? '') ?? null;
}
