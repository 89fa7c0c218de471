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
import {
  allowForSteps,
  carry,
  copyFilter,
  correct,
  expectedC,
  expectedSdC,
  predicted,
  reseatProbe,
  startFilter,
  tempSdC,
} from './filter.ts';
import type { Filter } from './filter.ts';
import { fastestFall, fastestRise } from './surroundings.ts';

/** Longer without a reading and the bowl may have become anything: begin again from the next one. Milliseconds; ours. */
export const GAP_MS = 10_000;
/** Readings in agreement before an estimate may move a phase or raise an alarm. Field notes: 3. */
export const SETTLED_READINGS = 3;
/** A reading further than this many standard deviations, plus the margin, from the prediction is doubted. Ours. */
const GATE_SD = 4;
const GATE_MARGIN_C = 0.4;
/** Readings this far apart at the very start do not belong together, °C. Ours. */
const START_SPREAD_C = 1;
/** A rate this much beyond what a bowl can do, known to be so, is not a bowl's. Ours. */
const BEYOND = 1.3;
/** How far back a good estimate is kept for, because a slow lift-out pulls the filter along before it shows. Milliseconds; ours. */
const ANCHOR_MS = 5_000;
/** Up to so many readings off is a spike: the estimate goes on as if nothing had been. Ours. */
const SPIKE_READINGS = 2;
/** Smoothing of the slope of the readings themselves, seconds. Ours. */
const SLOPE_S = 2.5;
/** Readings that fitted before the bowl counts as known. Ours. */
const KNOWN_READINGS = 10;
/** Readings running away: so far from the prediction and so one-sidedly, standard deviations, for so long, milliseconds. Ours. */
const AWAY_SD = 2;
const AWAY_SIDE = 0.8;
const AWAY_MS = 1_500;
/** A gap longer than this may have changed the bowl altogether, milliseconds. Ours. */
const LONG_GAP_MS = 180_000;
/** Steps of a thermometer are looked for between these, °C. Ours. */
const FINEST_STEP_C = 0.005;
const COARSEST_STEP_C = 0.5;
/** A probe back in the bowl, its lag allowed for, reads this close to where the bowl must be by now, °C. Ours. */
const RETURN_C = 0.5;
/** and so much wider for each second that nobody could see what was done to the bowl, °C/s: a degree a minute. Ours. */
const RETURN_WIDENS = 1 / 60;
/** and its raw value no further than this, °C: a probe on its way through does not count. Ours. */
const NEAR_C = 4;
/** Doubted readings are looked at in spans: stirring hides what a bowl or a probe in the air does within seconds. Milliseconds; ours. */
const SPAN_MS = 10_000;
/** Moving no faster than this over a span is how a bowl moves, °C/s: 4 °C/min. Ours. */
const CALM_PACE = 0.07;
/** Spans until a calm level, and until a steady climb, are believed. A gust of warm air on the tip is over by then. Ours. */
const CALM_SPANS = 2;
const CLIMB_SPANS = 4;
/** Below every bound of the profile a calm level is more likely the room than the bowl: believed after so many spans only. Ours. */
const OUTSIDE_SPANS = 30;
/**
 * A probe in the air nears the room within seconds to a minute, a bowl its bath within many: readings that in their third span
 * still go at this share of their first pace are the bowl's, however fast. Ours.
 */
const PACE_SPANS = 3;
const PACE_KEPT = 0.75;
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

/** Plain data. A step works in place on its own copy (`copyBelief`). */
export interface Belief {
  filter: Filter | null;
  /** Readings in a row that fitted since the filter was started. */
  fitted: number;
  /** Usual time between readings, milliseconds. */
  usualMs: number;
  /** Smallest step seen between two readings, °C; null before the second. */
  stepC: number | null;
  /** How fast the readings themselves move, smoothed, °C/s. */
  slopeCPerS: number;
  /** Since when they have been running away from the estimate faster than a bowl can; null while they are not. */
  awaySinceMs: number | null;
  /** Last reading of any kind that was a temperature, and last good one; null before the first. */
  heardAtMs: number | null;
  goodAtMs: number | null;
  valueC: number | null;
  quality: Quality;
  /** Two earlier states of the filter, the older first, at least ANCHOR_MS apart; never changed once made. */
  anchors: readonly [Readonly<Filter>, Readonly<Filter>] | null;
  /** While readings are doubted the filter is carried forward without them. */
  doubt: Doubt | null;
  /** Nothing but power-on values since the link came up. */
  fresh: boolean;
}

export interface Doubt {
  readonly sinceMs: number;
  readonly readings: number;
  readonly atMs: number;
  readonly valueC: number;
  /** Spans gone by, and the value at the beginning of the present one, °C. */
  readonly spans: number;
  readonly spanFromC: number;
  /** Pace over the first and the last whole span, °C/s. */
  readonly firstPace: number;
  readonly lastPace: number;
  /** Spans in a row that climbed. */
  readonly climbs: number;
  readonly agreeing: number;
}

export const NO_BELIEF: Readonly<Belief> = {
  filter: null,
  fitted: 0,
  usualMs: 1000,
  stepC: null,
  slopeCPerS: 0,
  awaySinceMs: null,
  heardAtMs: null,
  goodAtMs: null,
  valueC: null,
  quality: 'good',
  anchors: null,
  doubt: null,
  fresh: true,
};

export function copyBelief(b: Readonly<Belief>): Belief {
  return {
    filter: b.filter === null ? null : copyFilter(b.filter),
    fitted: b.fitted,
    usualMs: b.usualMs,
    stepC: b.stepC,
    slopeCPerS: b.slopeCPerS,
    awaySinceMs: b.awaySinceMs,
    heardAtMs: b.heardAtMs,
    goodAtMs: b.goodAtMs,
    valueC: b.valueC,
    quality: b.quality,
    anchors: b.anchors,
    doubt: b.doubt,
    fresh: b.fresh,
  };
}

/** null: good. */
export type Verdict = { readonly quality: 'suspect' | 'rejected'; readonly reason: RejectReason } | null;

/** Whether the estimate is good enough to judge by. */
export function isSettled(belief: Readonly<Belief>): boolean {
  return belief.doubt === null && belief.fitted >= SETTLED_READINGS;
}

/** Since when the probe has said nothing about the bowl; null while it is believed, or off for no more than a spike. */
export function outSinceMs({ doubt }: Readonly<Belief>): number | null {
  return doubt !== null && doubt.readings > SPIKE_READINGS ? doubt.sinceMs : null;
}

/** Judges one corrected temperature, °C, and feeds the filter if it deserves it. `lagS` null: not measured. */
export function takeReading(
  belief: Belief,
  atMs: number,
  valueC: number,
  expectations: Expectations,
  lagS: number | null,
): Verdict {
  const reason = refusal(belief, valueC, expectations);
  if (reason !== null) return { quality: 'rejected', reason };
  const gapMs = belief.heardAtMs === null ? Infinity : atMs - belief.heardAtMs;
  hear(belief, atMs, valueC, gapMs);
  if (belief.filter === null) return begin(belief, atMs, valueC, lagS);
  if (gapMs > GAP_MS) return afterGap(belief, belief.filter, gapMs, atMs, valueC, lagS);
  const dtS = Math.max(SHORTEST_S, gapMs / 1000);
  if (belief.doubt === null) return believing(belief, belief.filter, dtS, atMs, valueC, lagS);
  return doubting(belief, belief.filter, belief.doubt, dtS, atMs, valueC, expectations, lagS);
}

function refusal(belief: Readonly<Belief>, valueC: number, { plausibleC }: Expectations): RejectReason | null {
  if (!(valueC >= plausibleC[0] && valueC <= plausibleC[1])) return 'implausible';
  const powerOn = Math.abs(valueC - POWER_ON_C) < POWER_ON_MARGIN_C;
  const jumped = belief.valueC === null || Math.abs(valueC - belief.valueC) > POWER_ON_JUMP_C;
  return powerOn && (belief.fresh || jumped) ? 'power-on-value' : null;
}

function hear(belief: Belief, atMs: number, valueC: number, gapMs: number): void {
  if (gapMs > 0 && gapMs <= GAP_MS) {
    belief.usualMs += (gapMs - belief.usualMs) / 8;
    const dtS = Math.max(SHORTEST_S, gapMs / 1000);
    const stepC = Math.abs(valueC - belief.valueC!);
    if (stepC >= FINEST_STEP_C) belief.stepC = Math.min(belief.stepC ?? COARSEST_STEP_C, stepC);
    belief.slopeCPerS += Math.min(1, dtS / SLOPE_S) * ((valueC - belief.valueC!) / dtS - belief.slopeCPerS);
  } else belief.slopeCPerS = 0;
  belief.heardAtMs = atMs;
  belief.valueC = valueC;
  belief.fresh = false;
}

/** The bowl cannot have gone far in a short gap: a value far from it may be a probe out of the bowl, or what somebody did to it. */
function afterGap(
  belief: Belief,
  filter: Filter,
  gapMs: number,
  atMs: number,
  valueC: number,
  lagS: number | null,
): Verdict {
  const known = belief.doubt !== null || belief.fitted >= KNOWN_READINGS;
  if (gapMs > LONG_GAP_MS || !known) return begin(belief, atMs, valueC, lagS);
  carry(filter, atMs);
  if (Math.abs(valueC - expectedC(filter)) <= gateC(filter)) return begin(belief, atMs, valueC, lagS);
  return suspect(belief, beginDoubt(atMs, valueC, SPIKE_READINGS + 1));
}

function begin(belief: Belief, atMs: number, valueC: number, lagS: number | null): Verdict {
  belief.filter = startFilter(atMs, valueC, lagS, belief.filter?.swingC);
  allowForSteps(belief.filter, belief.stepC ?? 0);
  belief.fitted = 0;
  belief.anchors = null;
  return good(belief, atMs);
}

function believing(
  belief: Belief,
  filter: Filter,
  dtS: number,
  atMs: number,
  valueC: number,
  lagS: number | null,
): Verdict {
  moveAnchors(belief, filter, atMs);
  carry(filter, atMs);
  const missC = valueC - expectedC(filter);
  if (belief.fitted < SETTLED_READINGS && Math.abs(missC) > START_SPREAD_C) return begin(belief, atMs, valueC, lagS);
  if (Math.abs(missC) > gateC(filter)) return suspect(belief, beginDoubt(atMs, valueC, 1));
  const leaving = missC / expectedSdC(filter);
  allowForSteps(filter, belief.stepC ?? 0);
  correct(filter, valueC, dtS);
  belief.awaySinceMs = runsAway(belief, filter, leaving) ? (belief.awaySinceMs ?? atMs) : null;
  if (couldBeABowl(belief, filter, atMs)) return good(belief, atMs);
  backToAnchor(belief, atMs);
  return suspect(belief, beginDoubt(atMs, valueC, SPIKE_READINGS + 1));
}

/**
 * After many fitting readings the rate is known well enough to say that no bowl moves like that. Readings that run away from
 * the estimate that fast are enough: a slowly cooling probe would have pulled the estimate along before its rate showed it.
 */
function couldBeABowl({ fitted, awaySinceMs }: Readonly<Belief>, filter: Readonly<Filter>, atMs: number): boolean {
  if (fitted < KNOWN_READINGS) return true;
  if (awaySinceMs !== null && atMs - awaySinceMs >= AWAY_MS) return false;
  const { rateCPerS, tempC } = filter;
  return rateCPerS <= BEYOND * fastestRise(tempC) && rateCPerS >= BEYOND * fastestFall(tempC);
}

function runsAway({ slopeCPerS }: Readonly<Belief>, filter: Readonly<Filter>, leaving: number): boolean {
  const up = slopeCPerS > BEYOND * fastestRise(filter.tempC) && leaving > AWAY_SD;
  const down = slopeCPerS < BEYOND * fastestFall(filter.tempC) && leaving < -AWAY_SD;
  return (up || down) && Math.abs(filter.side) > AWAY_SIDE;
}

function gateC(filter: Readonly<Filter>): number {
  return GATE_SD * expectedSdC(filter) + GATE_MARGIN_C;
}

/** A value out of place may be a spike; a rate no bowl can have never is, and counts as more readings than a spike has. */
function beginDoubt(atMs: number, valueC: number, readings: number): Doubt {
  return {
    sinceMs: atMs,
    readings,
    atMs,
    valueC,
    spans: 0,
    spanFromC: valueC,
    firstPace: 0,
    lastPace: 0,
    climbs: 0,
    agreeing: 0,
  };
}

function doubting(
  belief: Belief,
  filter: Filter,
  before: Doubt,
  dtS: number,
  atMs: number,
  valueC: number,
  expectations: Expectations,
  lagS: number | null,
): Verdict {
  carry(filter, atMs);
  const fits = Math.abs(valueC - expectedC(filter)) <= gateC(filter);
  if (before.readings <= SPIKE_READINGS && fits) {
    correct(filter, valueC, dtS);
    return good(belief, atMs);
  }
  const bowl = before.readings === SPIKE_READINGS ? backToAnchor(belief, atMs) : filter;
  const doubt = follow(before, bowl, belief.slopeCPerS, atMs, valueC);
  if (doubt.agreeing >= SETTLED_READINGS) {
    reseatProbe(bowl, valueC, unseenC(doubt));
    belief.fitted = 0;
    return good(belief, atMs);
  }
  if (!isNewLevel(doubt, belief.slopeCPerS, expectations)) return suspect(belief, doubt);
  begin(belief, atMs, valueC, lagS);
  // The gentler of the two: a span that began before the probe came back tells of the probe, not of the bowl.
  const { slopeCPerS } = belief;
  belief.filter!.rateCPerS = Math.abs(slopeCPerS) < Math.abs(doubt.lastPace) ? slopeCPerS : doubt.lastPace;
  belief.fitted = SETTLED_READINGS;
  return null;
}

/** The doubt one reading on: the reading's own movement is watched, and whether it is where the bowl must be by now. */
function follow(doubt: Doubt, bowl: Readonly<Filter>, slopeCPerS: number, atMs: number, valueC: number): Doubt {
  const ownC = valueC + bowl.lagS * slopeCPerS;
  const agrees = Math.abs(ownC - bowl.tempC) <= Math.max(RETURN_C + unseenC(doubt), 3 * tempSdC(bowl));
  return {
    ...doubt,
    ...(atMs - doubt.sinceMs >= (doubt.spans + 1) * SPAN_MS ? nextSpan(doubt, valueC) : {}),
    readings: doubt.readings + 1,
    atMs,
    valueC,
    agreeing: agrees && Math.abs(valueC - bowl.tempC) < NEAR_C ? doubt.agreeing + 1 : 0,
  };
}

/** How far the bowl may have been taken while its readings were doubted, °C. */
function unseenC({ sinceMs, atMs }: Doubt): number {
  return (RETURN_WIDENS * (atMs - sinceMs)) / 1000;
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

/** Whether the doubted readings have behaved as only a bowl does: someone changed what is in it, or what it stands in. */
function isNewLevel(
  { spans, firstPace, lastPace, climbs, valueC }: Doubt,
  slopeCPerS: number,
  { lowestBoundC }: Expectations,
): boolean {
  // A probe dipped into the air and back has gone nowhere over a span either, but it is still on the move.
  const calm = Math.abs(lastPace) <= CALM_PACE && Math.abs(slopeCPerS) <= 2 * CALM_PACE;
  if (valueC < lowestBoundC - 1) return calm && spans >= OUTSIDE_SPANS;
  if (calm && spans >= CALM_SPANS) return true;
  const possible = lastPace <= fastestRise(valueC) && lastPace >= fastestFall(valueC);
  if (possible && spans >= PACE_SPANS && lastPace / firstPace >= PACE_KEPT) return true;
  return climbs >= CLIMB_SPANS;
}

function moveAnchors(belief: Belief, filter: Readonly<Filter>, atMs: number): void {
  const { anchors } = belief;
  if (anchors !== null && atMs - anchors[1].atMs < ANCHOR_MS) return;
  const here = copyFilter(filter);
  belief.anchors = [anchors === null ? here : anchors[1], here];
}

/** The bowl as it was before the probe began to leave it, carried to now. */
function backToAnchor(belief: Belief, atMs: number): Filter {
  const bowl = predicted(belief.anchors?.[0] ?? belief.filter!, atMs);
  belief.filter = bowl;
  return bowl;
}

function good(belief: Belief, atMs: number): Verdict {
  belief.fitted += 1;
  belief.goodAtMs = atMs;
  belief.quality = 'good';
  belief.doubt = null;
  return null;
}

function suspect(belief: Belief, doubt: Doubt): Verdict {
  belief.quality = 'suspect';
  belief.awaySinceMs = null;
  belief.doubt = doubt;
  return { quality: 'suspect', reason: doubt.readings > SPIKE_READINGS ? 'not-the-bowl' : 'spike' };
}
