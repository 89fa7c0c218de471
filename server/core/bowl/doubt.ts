/**
 * Readings that do not fit: watched until they turn out to be a spike, a probe out of the bowl, or the bowl itself somewhere new.
 * Knows how a bowl and a probe in the air move; feeds no filter.
 */
import { tempSdC } from './filter.ts';
import type { Filter } from './filter.ts';
import { isBowlRate } from './surroundings.ts';

/** Up to so many readings off is a spike: the estimate goes on as if nothing had been. Ours. */
export const SPIKE_READINGS = 2;
/** A probe back in the bowl, its lag allowed for, reads this close to where the bowl must be by now, °C. Ours. */
const RETURN_C = 0.5;
/** and so much wider for each second that nobody could see what was done to the bowl, °C/s: a degree a minute. Ours. */
const RETURN_WIDENS = 1 / 60;
/** and its raw value no further than this, °C: a probe on its way through does not count. Ours. */
const NEAR_C = 4;
/** and it must do so for so many readings and so long, milliseconds: anything that moves passes the bowl's value once. Ours. */
const RETURN_READINGS = 3;
const RETURN_MS = 1_500;
/** Readings are looked at in spans: stirring hides what a bowl or a probe in the air does within seconds. Milliseconds; ours. */
const SPAN_MS = 10_000;
/** Moving no faster than this over a span is how a bowl moves, °C/s: 4 °C/min. Ours. */
const CALM_PACE = 0.07;
/** Spans until a calm level, and until a steady climb, are believed. A gust of warm air on the tip is over by then. Ours. */
const CALM_SPANS = 2;
const CLIMB_SPANS = 4;
/** Where a room may be, a calm level is more likely the room than the bowl: believed after so many spans only. Ours. */
const ROOM_SPANS = 30;
/** How far around the lowest bound of the profile a room may be, °C: below it always, above it for readings that rushed there. Ours. */
const ROOM_BELOW_C = 1;
const ROOM_ABOVE_C = 1.5;
/**
 * A probe in the air nears the room within seconds to a minute, a bowl its bath within many: readings that in their third span
 * still go at this share of their first pace are the bowl's, however fast. Ours.
 */
const PACE_SPANS = 3;
const PACE_KEPT = 0.75;

/** Plain data, never changed once made. */
export interface Doubt {
  readonly sinceMs: number;
  readonly readings: number;
  readonly atMs: number;
  readonly valueC: number;
  /** How fast the readings themselves move, smoothed, °C/s. */
  readonly slopeCPerS: number;
  /** Spans gone by, and the value at the beginning of the present one, °C. */
  readonly spans: number;
  readonly spanFromC: number;
  /** Pace over the first and the last whole span, °C/s. */
  readonly firstPace: number;
  readonly lastPace: number;
  /** Spans in a row that climbed. */
  readonly climbs: number;
  /** Readings in a row that were where the bowl must be by now, and since when; null while they are not. */
  readonly agreeing: number;
  readonly agreesSinceMs: number | null;
}

/** A value out of place may be a spike; a rate no bowl can have never is, and counts as more readings than a spike has. */
export function beginDoubt(atMs: number, valueC: number, isSpike: boolean): Doubt {
  return {
    sinceMs: atMs,
    readings: isSpike ? 1 : SPIKE_READINGS + 1,
    atMs,
    valueC,
    slopeCPerS: 0,
    spans: 0,
    spanFromC: valueC,
    firstPace: 0,
    lastPace: 0,
    climbs: 0,
    agreeing: 0,
    agreesSinceMs: null,
  };
}

/** The doubt one reading on. `bowl`: the filter carried to now without the doubted readings. */
export function followDoubt(
  doubt: Doubt,
  bowl: Readonly<Filter>,
  slopeCPerS: number,
  atMs: number,
  valueC: number,
): Doubt {
  const agrees = isWhereTheBowlIs(doubt, bowl, slopeCPerS, valueC);
  return {
    ...doubt,
    ...(atMs - doubt.sinceMs >= (doubt.spans + 1) * SPAN_MS ? nextSpan(doubt, valueC) : {}),
    readings: doubt.readings + 1,
    atMs,
    valueC,
    slopeCPerS,
    agreeing: agrees ? doubt.agreeing + 1 : 0,
    agreesSinceMs: agrees ? (doubt.agreesSinceMs ?? atMs) : null,
  };
}

/** A lagging probe on its way back reads low but moves fast: what it is heading for is compared, not what it shows. */
function isWhereTheBowlIs(doubt: Doubt, bowl: Readonly<Filter>, slopeCPerS: number, valueC: number): boolean {
  const headingC = valueC + bowl.lagS * slopeCPerS;
  const nearC = Math.max(RETURN_C + unseenC(doubt), 3 * tempSdC(bowl));
  return Math.abs(headingC - bowl.tempC) <= nearC && Math.abs(valueC - bowl.tempC) < NEAR_C;
}

/** How far the bowl may have been taken while its readings were doubted, °C. */
export function unseenC({ sinceMs, atMs }: Doubt): number {
  return (RETURN_WIDENS * (atMs - sinceMs)) / 1000;
}

/** The probe is back where the bowl must be. */
export function hasReturned({ agreeing, agreesSinceMs, atMs }: Doubt): boolean {
  return agreeing >= RETURN_READINGS && agreesSinceMs !== null && atMs - agreesSinceMs >= RETURN_MS;
}

function nextSpan({ spans, spanFromC, firstPace, climbs }: Doubt, valueC: number): Partial<Doubt> {
  const lastPace = (valueC - spanFromC) / (SPAN_MS / 1000);
  return {
    spans: spans + 1,
    spanFromC: valueC,
    firstPace: spans === 0 ? lastPace : firstPace,
    lastPace,
    climbs: lastPace > 0 ? climbs + 1 : 0,
  };
}

/**
 * Whether the doubted readings have behaved as only a bowl does: someone changed what is in it, or what it stands in.
 * `lowestBoundC`: the lowest bound of the profile. `ownCourseS`: the bowl's time constant in a bath, null where not known.
 */
export function isNewLevel(
  { spans, firstPace, lastPace, climbs, valueC, slopeCPerS }: Doubt,
  lowestBoundC: number,
  ownCourseS: number | null,
): boolean {
  // A probe dipped into the air and back has gone nowhere over a span either, but it is still on the move.
  const calm = Math.abs(lastPace) <= CALM_PACE && Math.abs(slopeCPerS) <= 2 * CALM_PACE;
  // Rushed there as no bowl can, and near the lowest bound: that is what air does to a probe.
  const roomC = isBowlRate(firstPace, valueC, ownCourseS) ? lowestBoundC - ROOM_BELOW_C : lowestBoundC + ROOM_ABOVE_C;
  if (valueC < roomC) return calm && spans >= ROOM_SPANS;
  if (calm && spans >= CALM_SPANS) return true;
  if (isBowlRate(lastPace, valueC, ownCourseS) && spans >= PACE_SPANS && lastPace / firstPace >= PACE_KEPT) return true;
  return climbs >= CLIMB_SPANS;
}

/** The pace of the bowl at its new level, °C/s: the gentler of two, for a span that began before the probe was back tells of the probe. */
export function newPace({ slopeCPerS, lastPace }: Doubt): number {
  return Math.abs(slopeCPerS) < Math.abs(lastPace) ? slopeCPerS : lastPace;
}
