/**
 * Which readings say something about the chocolate, and the filter fed with those alone.
 * Knows how a stirred bowl can move; knows nothing of phases, bands or alarms.
 *
 *            fits the prediction                    fits again, or a new level held like a bowl holds it
 *   starting ───────────────────► believing ⇄ doubting ──────────────────────────────► believing
 *                                     one reading off: a spike; many: the probe is out, or its tip is being warmed
 */
import type { RejectReason } from '../record/event.ts';
import type { Quality } from '../record/run.ts';
import { correct, expected, predict, reseatProbe, startFilter, tempSdC } from './filter.ts';
import type { Filter } from './filter.ts';

/** Longer without a reading and the bowl may have become anything: begin again from the next one. Milliseconds; ours. */
export const GAP_MS = 10_000;
/** Readings in agreement before an estimate may move a phase or raise an alarm. Field notes: 3. */
export const SETTLED_READINGS = 3;
/** A reading further than this many standard deviations, plus the margin, from the prediction is doubted. Ours. */
const GATE_SD = 4;
const GATE_MARGIN_C = 0.4;
/** Readings this far apart at the very start do not belong together, °C. Ours. */
const START_SPREAD_C = 1;
/** No stirred bowl warms or cools faster, °C/s: 9 °C/min on a hot bath; 7 °C/min covers cold water and a cold top-up. Ours. */
const FASTEST_RISE = 0.15;
const FASTEST_FALL = -0.12;
/** How far back a good estimate is kept for, because a slow lift-out pulls the filter along before it shows. Milliseconds; ours. */
const ANCHOR_MS = 5_000;
/** Up to so many readings off is a spike: the estimate goes on as if nothing had been. Ours. */
const SPIKE_READINGS = 2;
/** Smoothing of the slope of doubted readings, seconds. Ours. */
const SLOPE_S = 2;
/** A probe back in the bowl, its lag allowed for, reads this close to where the bowl must be by now, °C. Ours. */
const RETURN_C = 0.5;
/** A new level is believed once it has moved no faster than a bowl for so long. °C/s, milliseconds; ours. */
const CALM_SLOPE = 0.06;
const CALM_MS = 15_000;
/** Below every bound of the profile a calm level is more likely the room than the bowl: believed only after so long. Milliseconds; ours. */
const CALM_OUTSIDE_MS = 300_000;
/** Rising all this time it is heat, not a gust of warm air on the tip. Milliseconds; ours. */
const RISING_MS = 40_000;
/** Two readings are never taken to be closer than this, seconds: slopes stay finite. Ours. */
const SHORTEST_S = 0.05;
/** The value some digital sensors give until their first conversion, °C (domain §5.7), and how close counts as it. */
const POWER_ON_C = 85;
const POWER_ON_MARGIN_C = 0.06;
/** A jump to the power-on value further than this from the reading before is no temperature, °C. Ours. */
const POWER_ON_JUMP_C = 5;

/** What the profile says about where readings may lie. */
export interface Expectations {
  readonly plausibleC: readonly [lowC: number, highC: number];
  /** The lowest bound of any phase, °C: a calm level a degree under it is probably the room. */
  readonly lowestBoundC: number;
}

export interface Belief {
  readonly filter: Filter | null;
  /** Readings in a row that fitted since the filter was started. */
  readonly fitted: number;
  /** Usual time between readings, milliseconds. */
  readonly usualMs: number;
  /** Last reading of any kind that was a temperature, and last good one; null before the first. */
  readonly heardAtMs: number | null;
  readonly goodAtMs: number | null;
  readonly valueC: number | null;
  readonly quality: Quality;
  /** Two earlier states of the filter, the older first, at least ANCHOR_MS apart. */
  readonly anchors: readonly [Filter, Filter] | null;
  readonly doubt: Doubt | null;
  /** Nothing but power-on values since the link came up. */
  readonly fresh: boolean;
}

export interface Doubt {
  readonly sinceMs: number;
  readonly readings: number;
  /** Where the bowl must be by now, if the doubted readings say nothing about it. */
  readonly filter: Filter;
  readonly atMs: number;
  readonly valueC: number;
  readonly slopeCPerS: number;
  readonly calmSinceMs: number | null;
  readonly agreeing: number;
}

export const NO_BELIEF: Belief = {
  filter: null,
  fitted: 0,
  usualMs: 1000,
  heardAtMs: null,
  goodAtMs: null,
  valueC: null,
  quality: 'good',
  anchors: null,
  doubt: null,
  fresh: true,
};

export interface Verdict {
  readonly belief: Belief;
  readonly quality: Quality;
  readonly reason?: RejectReason;
}

/** After the link came up nothing is known about what comes first. */
export function linkCameUp(belief: Belief): Belief {
  return { ...belief, fresh: true };
}

/** Whether the estimate is good enough to judge by. */
export function isSettled(belief: Belief): boolean {
  return belief.doubt === null && belief.fitted >= SETTLED_READINGS;
}

/** Since when the probe has said nothing about the bowl; null while it is believed, or off for no more than a spike. */
export function outSinceMs(belief: Belief): number | null {
  return belief.doubt !== null && belief.doubt.readings > SPIKE_READINGS ? belief.doubt.sinceMs : null;
}

/** Judges one corrected temperature, °C, and feeds the filter if it deserves it. */
export function takeReading(
  belief: Belief,
  atMs: number,
  valueC: number,
  expectations: Expectations,
  lagS: number | null,
): Verdict {
  const reason = refusal(belief, valueC, expectations);
  if (reason !== null) return { belief, quality: 'rejected', reason };
  const heard = hear(belief, atMs, valueC);
  const gapMs = belief.heardAtMs === null ? Infinity : atMs - belief.heardAtMs;
  if (belief.filter === null || gapMs > GAP_MS) return begin(heard, atMs, valueC, lagS);
  if (belief.doubt !== null) return doubting(heard, belief.doubt, atMs, valueC, expectations, lagS);
  return believing(heard, belief.filter, Math.max(SHORTEST_S, gapMs / 1000), atMs, valueC, lagS);
}

function refusal(belief: Belief, valueC: number, { plausibleC }: Expectations): RejectReason | null {
  if (!(valueC >= plausibleC[0] && valueC <= plausibleC[1])) return 'implausible';
  const powerOn = Math.abs(valueC - POWER_ON_C) < POWER_ON_MARGIN_C;
  const jumped = belief.valueC === null || Math.abs(valueC - belief.valueC) > POWER_ON_JUMP_C;
  if (powerOn && (belief.fresh || jumped)) return 'power-on-value';
  return null;
}

function hear(belief: Belief, atMs: number, valueC: number): Belief {
  const gapMs = belief.heardAtMs === null ? 0 : atMs - belief.heardAtMs;
  const usualMs = gapMs > 0 && gapMs <= GAP_MS ? belief.usualMs + (gapMs - belief.usualMs) / 8 : belief.usualMs;
  return { ...belief, heardAtMs: atMs, valueC, usualMs, fresh: false };
}

function begin(belief: Belief, atMs: number, valueC: number, lagS: number | null): Verdict {
  const filter = startFilter(atMs, valueC, lagS, belief.filter?.swingC);
  return good({ ...belief, fitted: 0, anchors: [filter, filter], doubt: null }, filter, atMs);
}

function believing(
  belief: Belief,
  filter: Filter,
  dtS: number,
  atMs: number,
  valueC: number,
  lagS: number | null,
): Verdict {
  const ahead = predict(filter, atMs);
  const missC = valueC - ahead.probeC;
  if (belief.fitted < SETTLED_READINGS && Math.abs(missC) > START_SPREAD_C) return begin(belief, atMs, valueC, lagS);
  if (Math.abs(missC) > gateC(ahead)) return suspect(belief, beginDoubt(ahead, atMs, valueC, missC / dtS, 1));
  const after = correct(ahead, valueC, dtS);
  if (couldBeABowl(after, belief.fitted)) {
    return good({ ...belief, anchors: moveAnchors(belief.anchors, filter, atMs) }, after, atMs);
  }
  const early = predict(belief.anchors?.[0] ?? filter, atMs);
  return suspect(belief, beginDoubt(early, atMs, valueC, after.rateCPerS, SPIKE_READINGS + 1));
}

/** After many fitting readings the rate is known well enough to say that no bowl moves like that. */
function couldBeABowl(filter: Filter, fitted: number): boolean {
  if (fitted < 10) return true;
  return filter.rateCPerS <= FASTEST_RISE && filter.rateCPerS >= FASTEST_FALL;
}

function gateC(filter: Filter): number {
  return GATE_SD * expected(filter).sdC + GATE_MARGIN_C;
}

/** A value out of place may be a spike; a rate no bowl can have never is, and counts as more readings than a spike has. */
function beginDoubt(filter: Filter, atMs: number, valueC: number, slopeCPerS: number, readings: number): Doubt {
  return { sinceMs: atMs, readings, filter, atMs, valueC, slopeCPerS, calmSinceMs: null, agreeing: 0 };
}

function doubting(
  belief: Belief,
  doubt: Doubt,
  atMs: number,
  valueC: number,
  expectations: Expectations,
  lagS: number | null,
): Verdict {
  const next = follow(doubt, belief, atMs, valueC);
  if (next.readings <= SPIKE_READINGS + 1 && Math.abs(valueC - next.filter.probeC) <= gateC(next.filter)) {
    return good(belief, correct(next.filter, valueC, (atMs - doubt.atMs) / 1000), atMs);
  }
  if (next.agreeing >= SETTLED_READINGS) return good(belief, reseatProbe(next.filter, valueC), atMs);
  if (isNewLevel(next, expectations)) {
    const fresh = begin(belief, atMs, valueC, lagS);
    return { ...fresh, belief: { ...fresh.belief, fitted: SETTLED_READINGS } };
  }
  return suspect(belief, next);
}

/** The doubt one reading on: the bowl is carried forward without it, and the reading's own movement is watched. */
function follow(doubt: Doubt, belief: Belief, atMs: number, valueC: number): Doubt {
  const dtS = Math.max(SHORTEST_S, (atMs - doubt.atMs) / 1000);
  const readings = doubt.readings + 1;
  const from = readings === SPIKE_READINGS + 1 && belief.anchors !== null ? belief.anchors[0] : doubt.filter;
  const filter = predict(from, atMs);
  const slopeCPerS = doubt.slopeCPerS + Math.min(1, dtS / SLOPE_S) * ((valueC - doubt.valueC) / dtS - doubt.slopeCPerS);
  const calm = Math.abs(slopeCPerS) <= CALM_SLOPE;
  const ownC = valueC + filter.lagS * slopeCPerS;
  const agrees = Math.abs(ownC - filter.tempC) <= Math.max(RETURN_C, 3 * tempSdC(filter));
  return {
    sinceMs: doubt.sinceMs,
    readings,
    filter,
    atMs,
    valueC,
    slopeCPerS,
    calmSinceMs: calm ? (doubt.calmSinceMs ?? atMs) : null,
    agreeing: agrees && Math.abs(valueC - filter.tempC) < 4 ? doubt.agreeing + 1 : 0,
  };
}

function isNewLevel(doubt: Doubt, { lowestBoundC }: Expectations): boolean {
  const outside = doubt.valueC < lowestBoundC - 1;
  const calmMs = doubt.calmSinceMs === null ? 0 : doubt.atMs - doubt.calmSinceMs;
  if (calmMs >= (outside ? CALM_OUTSIDE_MS : CALM_MS)) return true;
  return doubt.slopeCPerS > 0 && doubt.valueC > doubt.filter.tempC && doubt.atMs - doubt.sinceMs >= RISING_MS;
}

function moveAnchors(anchors: Belief['anchors'], filter: Filter, atMs: number): readonly [Filter, Filter] {
  if (anchors === null) return [filter, filter];
  return atMs - anchors[1].atMs >= ANCHOR_MS ? [anchors[1], filter] : anchors;
}

function good(belief: Belief, filter: Filter, atMs: number): Verdict {
  return {
    belief: { ...belief, filter, fitted: belief.fitted + 1, goodAtMs: atMs, quality: 'good', doubt: null },
    quality: 'good',
  };
}

function suspect(belief: Belief, doubt: Doubt): Verdict {
  return {
    belief: { ...belief, filter: doubt.filter, quality: 'suspect', doubt },
    quality: 'suspect',
    reason: doubt.readings > SPIKE_READINGS ? 'not-the-bowl' : 'spike',
  };
}
