/**
 * Numbers that thermometers send instead of a temperature. 85.0 is not among them: it is a real temperature as well, and only
 * a jump or being first after link-up gives it away. What lies outside the plausible window is judged elsewhere.
 */
import type { RejectReason } from '../record/event.ts';

/** °C, as they come out after conversion; where each is met is said beside it. */
const SENTINELS_C = [
  -127, // "disconnected" in a common one-wire library
  -196.6, // the same in °F, sent without its unit
  -128, // lowest signed byte
  -999,
  -999.9, // nothing on the pin
  999,
  999.9,
  2047, // all bits set, 11 and 12 bit converters
  2047.75,
  2048,
  -2048,
  1023.75, // all bits set in quarter degrees
  -242.02, // a resistance thermometer of no ohms, by the usual polynomial
  988.79, // and one that is not there, by the same
  -273.15, // no kelvins
  999.99, // displays at their end
  -999.99,
  9999,
  -9999,
  327.67, // highest and lowest word of 16 bits, in hundredths, tenths and whole
  -327.68,
  655.35,
  3276.7,
  -3276.8,
  6553.5,
  32767,
  -32768,
  65535,
] as const;

/** Values are sent with one or two decimals, and °F come back from conversion with rounding, °C. */
const TOLERANCE_C = 0.006;

/** 9.9E37 and 9.91E37 stand for infinity and not-a-number in laboratory instruments' replies (SCPI). */
const NOT_A_NUMBER_FROM = 9.8e37;

/** Nearer to zero than this nothing is a sentinel, °C. */
const NEAREST_C = 126;

/** Why this exact value is no temperature, or null. A value that is not finite is a sentinel too. */
export function sentinelReason(valueC: number): RejectReason | null {
  if (Math.abs(valueC) < NEAREST_C) return null;
  if (!(Math.abs(valueC) < NOT_A_NUMBER_FROM)) return 'sentinel';
  return SENTINELS_C.some((sentinelC) => Math.abs(valueC - sentinelC) <= TOLERANCE_C) ? 'sentinel' : null;
}
