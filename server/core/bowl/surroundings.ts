/** What may stand around a bowl, and how fast it can draw the bowl along. Knows no bath in particular; bounds and usual values only. */

/** Baths used for chocolate run from iced water to just under a simmer, °C (domain §6: 10–22 and 35–70, with room to spare). */
const COLDEST_C = 2;
const HOTTEST_C = 80;
/** The quickest a stirred bowl approaches its bath: time constant, seconds (domain §6: 4 min, small, thin and scraped). */
const QUICKEST_S = 230;
/** A bowl's own time constant, once learned, may be this much shorter another time: stirred harder, less in it. Ours. */
const HARDER_STIRRED = 0.55;
/** A rate this much beyond what a bowl can do is not a bowl's. Ours. */
const BEYOND = 1.3;
/** The usual time constant, seconds: 4–36 min are seen; the middle, on a log scale. Ours. */
export const USUAL_COURSE_S = 720;
/** A usual room, °C. Ours. */
export const ROOM_C = 21;

/** No bowl at this temperature warms faster, °C/s; a bowl hotter than any bath is on a flame, and goes as fast as at 40 °C. */
function fastestRise(tempC: number, quickestS: number): number {
  return (HOTTEST_C - Math.min(tempC, 40)) / quickestS;
}

/** No bowl at this temperature cools faster, °C/s, negative. */
function fastestFall(tempC: number, quickestS: number): number {
  return -Math.max(10, tempC - COLDEST_C) / quickestS;
}

/** Whether a bowl at this temperature can go this fast, °C/s. `ownCourseS`: its time constant in a bath, seconds; null: not known. */
export function isBowlRate(rateCPerS: number, tempC: number, ownCourseS: number | null): boolean {
  const quickestS = Math.max(QUICKEST_S, HARDER_STIRRED * (ownCourseS ?? 0));
  return rateCPerS <= BEYOND * fastestRise(tempC, quickestS) && rateCPerS >= BEYOND * fastestFall(tempC, quickestS);
}
