/** What may stand around a bowl, and how fast it can draw the bowl along. Knows no bath in particular; bounds and usual values only. */

/** Baths used for chocolate run from iced water to just under a simmer, °C (domain §6: 10–22 and 35–70, with room to spare). */
const COLDEST_C = 2;
const HOTTEST_C = 80;
/** The quickest a stirred bowl approaches its bath: time constant, seconds (domain §6: 4 min, small, thin and scraped). */
const QUICKEST_S = 230;
/** The usual baths, °C: what a course is taken to lead to where nothing better is known. Ours. */
const COLD_BATH_C = 14;
const HOT_BATH_C = 55;
/** The usual time constant, seconds, and the shortest and longest a forecast uses. 4–36 min are seen; the middle, on a log scale. Ours. */
const USUAL_S = 720;
const SHORTEST_S = 150;
const LONGEST_S = 2160;

/** No bowl at this temperature warms faster, °C/s; a bowl hotter than any bath is on a flame, and goes as fast as at 40 °C. */
export function fastestRise(tempC: number): number {
  return (HOTTEST_C - Math.min(tempC, 40)) / QUICKEST_S;
}

/** No bowl at this temperature cools faster, °C/s, negative. */
export function fastestFall(tempC: number): number {
  return -Math.max(10, tempC - COLDEST_C) / QUICKEST_S;
}

/** A rate this much beyond what a bowl can do is not a bowl's. Ours. */
const BEYOND = 1.3;

/** Whether a bowl at this temperature can go this fast, °C/s. */
export function isBowlRate(rateCPerS: number, tempC: number): boolean {
  return rateCPerS <= BEYOND * fastestRise(tempC) && rateCPerS >= BEYOND * fastestFall(tempC);
}

/**
 * Time constant of the approach that a bowl at this temperature and rate is on where nothing better is known, seconds: the usual
 * one, unless the bowl goes so fast that it would have to be heading past a usual bath.
 */
export function usualCourseS(tempC: number, rateCPerS: number): number {
  const bathC = rateCPerS > 0 ? HOT_BATH_C : COLD_BATH_C;
  return possibleCourseS(within(USUAL_S, Math.abs(bathC - tempC), rateCPerS), tempC, rateCPerS);
}

/** The time constant as it must be for the bowl to be heading for a bath that can be, seconds. */
export function possibleCourseS(seconds: number, tempC: number, rateCPerS: number): number {
  const bathC = rateCPerS > 0 ? HOTTEST_C : COLDEST_C;
  return Math.max(SHORTEST_S, Math.min(LONGEST_S, within(seconds, Math.abs(bathC - tempC), rateCPerS)));
}

/** The longest time constant, up to `seconds`, at which a bowl going this fast has no more than `wayC` to go. */
function within(seconds: number, wayC: number, rateCPerS: number): number {
  return Math.min(seconds, wayC / Math.max(Math.abs(rateCPerS), 1e-6));
}
