/** How far off a checked thermometer may be, and how one is told of that nobody checked, or not for long. */
import type { CheckInfo } from '../../../server/core/show/wire.ts';
import { apart, degrees } from '../measure.ts';
import { day } from '../day.ts';

/** The reading that it is said of where none is at hand, °C: one of the work. */
const SAID_OF_C = 31.4;

/** In words and in number: "31.4 is between 31.1 and 31.7". */
export function beliefWords({ withinC }: Pick<CheckInfo, 'withinC'>, valueC = SAID_OF_C): string {
  return `${degrees(valueC)} is between ${degrees(valueC - withinC)} and ${degrees(valueC + withinC)}`;
}

/** Bias apart from noise: what it is in plain words, and then by how much. */
export function partsWords({ biasC, noiseC }: Pick<CheckInfo, 'biasC' | 'noiseC'>): string {
  return `The same all evening: up to ${apart(biasC)}. From one reading to the next: up to ${apart(noiseC)}.`;
}

/** What those figures are to a metrologist; none of it may break over two lines. */
export const SURE_WORDS = 'true in 95 of 100\u00a0cases (k\u00a0=\u00a02, JCGM\u00a0100)';

/** Of a thermometer that was checked. */
export function checkedWords(check: CheckInfo, valueC?: number): string {
  const when = `Checked on ${day(check.checkedAtWall)}${check.isOld ? ', which is long ago: check it again' : ''}`;
  return `${when}. ${beliefWords(check, valueC)}.`;
}

export const CHECK_LINK = { check: 'Check the thermometer', again: 'The thermometer' } as const;
