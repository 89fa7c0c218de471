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
import { isMoltenAtFirst } from './expectations.ts';
import type { Expectations } from './expectations.ts';
import { SPIKE_READINGS, beginDoubt, followDoubt, hasReturned, isNewLevel, newPace, unseenC } from './doubt.ts';
import type { Doubt } from './doubt.ts';
import {
  allowForSteps,
  carry,
  copyFilter,
  correct,
  expectOtherRate,
  expectedC,
  expectedSdC,
  predicted,
  reseatProbe,
  startFilter,
} from './filter.ts';
import type { Filter } from './filter.ts';
import { refusal } from './refusal.ts';
import { followSame, isStuck } from './stuck.ts';
import type { Same } from './stuck.ts';
import { copyStretch, followStretch, meltsOut, ownCourseS, restartStretch, startStretch } from './stretch.ts';
import type { Stretch } from './stretch.ts';
import { followLiveliness, startLiveliness } from './mixing.ts';
import type { Liveliness } from './mixing.ts';
import { isBowlRate } from './surroundings.ts';
import { unseenWall } from './wall.ts';

/** Longer without a reading and the bowl may have become anything: begin again from the next one. Milliseconds; ours. */
export const GAP_MS = 10_000;
/** Readings in agreement, and for so long, milliseconds, before an estimate may move a phase or raise an alarm. Field notes: 3; ours. */
const SETTLED_READINGS = 3;
const SETTLED_MS = 1_500;
/** A reading further than this many standard deviations, plus the margin, from the prediction is doubted. Ours. */
const GATE_SD = 4;
const GATE_MARGIN_C = 0.4;
/** Readings this far apart at the very start do not belong together, °C. Ours. */
const START_SPREAD_C = 1;
/** How far back a good estimate is kept for, because a slow lift-out pulls the filter along before it shows. Milliseconds; ours. */
const ANCHOR_MS = 5_000;
/** Smoothing of the slope of the readings themselves, seconds. Ours. */
const SLOPE_S = 2.5;
/** Readings that fitted, and for so long, milliseconds, before the bowl counts as known. Ours. */
const KNOWN_READINGS = 10;
const KNOWN_MS = 5_000;
/** Readings running away: so far from the prediction and so one-sidedly, standard deviations, for so long, milliseconds. Ours. */
const AWAY_SD = 2;
const AWAY_SIDE = 0.8;
const AWAY_MS = 1_500;
/** A gap longer than this may have changed the bowl altogether, milliseconds. Ours. */
const LONG_GAP_MS = 180_000;
/** How much a new interval counts towards the usual one. Ours. */
const USUAL_SHARE = 1 / 8;
/** A probe just back is not judged by for so long and twice its lag more, milliseconds: it is still on its way. Ours. */
const BACK_MS = 2_000;
/** Steps of a thermometer are looked for between these, °C. Ours. */
const FINEST_STEP_C = 0.005;
const COARSEST_STEP_C = 0.5;
/** Two readings are never taken to be closer than this, seconds: slopes stay finite. Ours. */
const SHORTEST_S = 0.05;
/** The bowl as it was believed to be. */
interface Anchor {
  readonly filter: Readonly<Filter>;
  readonly stretch: Readonly<Stretch>;
}

/** Plain data. A step works in place on its own copy (`copyBelief`). */
export interface Belief {
  filter: Filter | null;
  /** The same over the time since somebody last changed something; null with it. */
  stretch: Stretch | null;
  /** How lively the reading is; null with it. */
  liveliness: Liveliness | null;
  /** How long the newest value has been the very same; null before the first. */
  same: Same | null;
  /** Since when it is held to be stuck; null: it is not. */
  stuckSinceMs: number | null;
  /** Readings in a row that fitted since the filter was started or the probe came back, and since when. */
  fitted: number;
  fittedSinceMs: number;
  /** Usual time between readings, milliseconds. */
  usualMs: number;
  /** Smallest step seen between two readings, °C; null before the second. */
  stepC: number | null;
  /** How fast the readings themselves move, smoothed, °C/s. */
  slopeCPerS: number;
  /** Since when they have been running away from the estimate faster than a bowl can; null while they are not. */
  awaySinceMs: number | null;
  /** When the probe last came back into the bowl; null before the first time. */
  backAtMs: number | null;
  /** Last reading of any kind that was a temperature, and last good one; null before the first. */
  heardAtMs: number | null;
  goodAtMs: number | null;
  valueC: number | null;
  quality: Quality;
  /** Two earlier states of the filter, the older first, at least ANCHOR_MS apart; never changed once made. */
  anchors: readonly [Anchor, Anchor] | null;
  /** While readings are doubted the filter is carried forward without them. */
  doubt: Doubt | null;
  /** Nothing but power-on values since the link came up. */
  fresh: boolean;
}

export const NO_BELIEF: Readonly<Belief> = {
  filter: null,
  stretch: null,
  liveliness: null,
  same: null,
  stuckSinceMs: null,
  fitted: 0,
  fittedSinceMs: 0,
  usualMs: 1000,
  stepC: null,
  slopeCPerS: 0,
  awaySinceMs: null,
  backAtMs: null,
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
    stretch: b.stretch === null ? null : copyStretch(b.stretch),
    liveliness: b.liveliness,
    same: b.same,
    stuckSinceMs: b.stuckSinceMs,
    fitted: b.fitted,
    fittedSinceMs: b.fittedSinceMs,
    usualMs: b.usualMs,
    stepC: b.stepC,
    slopeCPerS: b.slopeCPerS,
    awaySinceMs: b.awaySinceMs,
    backAtMs: b.backAtMs,
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

/** Whether the estimate is good enough to judge by at the moment of its last reading. */
export function isSettled(belief: Readonly<Belief>): boolean {
  const { doubt, awaySinceMs, filter, quality } = belief;
  if (doubt !== null || awaySinceMs !== null || quality !== 'good' || !hasFitted(belief, SETTLED_READINGS, SETTLED_MS))
    return false;
  return isBack(belief, filter!);
}

/** Whether the tip has had the time to follow since the probe came back. */
function isBack({ backAtMs, heardAtMs }: Readonly<Belief>, { lagS }: Readonly<Filter>): boolean {
  return backAtMs === null || heardAtMs! - backAtMs >= BACK_MS + 2 * 1000 * lagS;
}

function hasFitted({ fitted, fittedSinceMs, heardAtMs }: Readonly<Belief>, readings: number, forMs: number): boolean {
  return fitted >= readings && heardAtMs! - fittedSinceMs >= forMs;
}

function isKnown(belief: Readonly<Belief>): boolean {
  return hasFitted(belief, KNOWN_READINGS, KNOWN_MS);
}

/** Since when the probe has said nothing about the bowl; null while it is believed, or off for no more than a spike. */
export function outSinceMs({ doubt }: Readonly<Belief>): number | null {
  return doubt !== null && doubt.readings > SPIKE_READINGS ? doubt.sinceMs : null;
}

/** Judges one corrected temperature, °C, and feeds the filter if it deserves it. */
export function takeReading(belief: Belief, atMs: number, valueC: number, expectations: Expectations): Verdict {
  const reason = refusal(belief, valueC, expectations.plausibleC);
  if (reason !== null) return { quality: 'rejected', reason };
  const gapMs = belief.heardAtMs === null ? Infinity : atMs - belief.heardAtMs;
  hear(belief, atMs, valueC, gapMs);
  if (belief.filter === null) return begin(belief, expectations);
  if (gapMs > GAP_MS) return afterGap(belief, belief.filter, gapMs, expectations);
  const dtS = Math.max(SHORTEST_S, gapMs / 1000);
  if (belief.doubt === null) return believing(belief, belief.filter, dtS, expectations);
  return doubting(belief, belief.filter, belief.doubt, dtS, expectations);
}

function hear(belief: Belief, atMs: number, valueC: number, gapMs: number): void {
  if (gapMs > 0 && gapMs <= GAP_MS) {
    belief.usualMs += USUAL_SHARE * (gapMs - belief.usualMs);
    const dtS = Math.max(SHORTEST_S, gapMs / 1000);
    const stepC = Math.abs(valueC - belief.valueC!);
    if (stepC >= FINEST_STEP_C) belief.stepC = Math.min(belief.stepC ?? COARSEST_STEP_C, stepC);
    belief.slopeCPerS += Math.min(1, dtS / SLOPE_S) * ((valueC - belief.valueC!) / dtS - belief.slopeCPerS);
  } else if (gapMs > GAP_MS) belief.slopeCPerS = 0;
  belief.same = followSame(belief.same, atMs, valueC);
  belief.heardAtMs = atMs;
  belief.valueC = valueC;
  belief.fresh = false;
}

/** The bowl cannot have gone far in a short gap: a value far from it may be a probe out of the bowl, or what somebody did to it. */
function afterGap(belief: Belief, filter: Filter, gapMs: number, expectations: Expectations): Verdict {
  const { atMs, valueC } = lastHeard(belief);
  const known = belief.doubt !== null || belief.fitted >= KNOWN_READINGS;
  if (gapMs > LONG_GAP_MS || !known) return begin(belief, expectations);
  carry(filter, atMs);
  if (Math.abs(valueC - expectedC(filter)) <= gateC(filter)) return goOn(belief, expectations);
  return suspect(belief, beginDoubt(atMs, valueC, false));
}

/** Nothing says that anything changed meanwhile: the stretch goes on, the filter begins anew. */
function goOn(belief: Belief, expectations: Expectations): Verdict {
  const { stretch } = belief;
  const verdict = begin(belief, expectations);
  belief.stretch = stretch;
  return verdict;
}

function begin(belief: Belief, expectations: Expectations): Verdict {
  belief.stuckSinceMs = null;
  const { atMs, valueC } = lastHeard(belief);
  belief.filter = startFilter(atMs, valueC, expectations.lagS, belief.filter?.swingC);
  allowForSteps(belief.filter, belief.stepC ?? 0);
  belief.stretch = startStretch(
    belief.filter,
    belief.stretch?.baths ?? expectations.baths,
    belief.stretch?.wall ?? unseenWall(expectations.wallS),
    belief.stretch?.molten ?? isMoltenAtFirst(valueC, expectations),
  );
  belief.anchors = null;
  startFitting(belief, atMs);
  return good(belief);
}

function startFitting(belief: Belief, atMs: number): void {
  belief.liveliness = startLiveliness(atMs, belief.liveliness?.livelyS ?? 0);
  belief.fitted = 0;
  belief.fittedSinceMs = atMs;
}

function believing(belief: Belief, filter: Filter, dtS: number, expectations: Expectations): Verdict {
  const { atMs, valueC } = lastHeard(belief);
  moveAnchors(belief, filter, atMs);
  carry(filter, atMs);
  if (isStuck(belief.same!, atMs, belief.stepC, filter)) return stuck(belief);
  belief.stuckSinceMs = null;
  const missC = valueC - expectedC(filter);
  if (belief.fitted < SETTLED_READINGS && Math.abs(missC) > START_SPREAD_C) return begin(belief, expectations);
  if (Math.abs(missC) > gateC(filter)) return suspect(belief, beginDoubt(atMs, valueC, true));
  const leaving = missC / expectedSdC(filter);
  allowForSteps(filter, belief.stepC ?? 0);
  takeIn(belief, filter, valueC, dtS);
  belief.awaySinceMs = runsAway(belief, filter, leaving) ? (belief.awaySinceMs ?? atMs) : null;
  if (couldBeABowl(belief, filter)) return good(belief);
  backToAnchor(belief);
  return suspect(belief, beginDoubt(atMs, valueC, false));
}

/** Somebody says that heat or bowl was just changed: what was known of its course counts for little from here. */
export function expectChange(belief: Belief): void {
  const { filter, stretch } = belief;
  if (filter === null || stretch === null) return;
  expectOtherRate(filter);
  restartStretch(stretch, filter);
  belief.anchors = null;
}

/** What a second channel says of the bath, °C. */
export function takeBath({ stretch }: Belief, atMs: number, valueC: number): void {
  if (stretch !== null) stretch.bath = { valueC, atMs };
}

/** Into the filter, and into the stretch; while the tip is still on its way back that knows what the filter knows. */
function takeIn(belief: Belief, filter: Filter, valueC: number, dtS: number): void {
  correct(filter, valueC, dtS);
  if (isBack(belief, filter)) followStretch(belief.stretch!, filter, valueC, dtS);
  else restartStretch(belief.stretch!, filter);
  const restC = filter.restC - filter.biasC;
  belief.liveliness = followLiveliness(belief.liveliness!, belief.heardAtMs!, restC, dtS, belief.stepC);
  filter.courseS = belief.stretch!.courseS;
  filter.meltsOut = meltsOut(belief.stretch!);
}

function stuck(belief: Belief): Verdict {
  belief.stuckSinceMs ??= belief.same!.sinceMs;
  belief.quality = 'suspect';
  return { quality: 'suspect', reason: 'stuck' };
}

/**
 * After many fitting readings the rate is known well enough to say that no bowl moves like that. Readings that run away from
 * the estimate that fast are enough: a slowly cooling probe would have pulled the estimate along before its rate showed it.
 */
function couldBeABowl(belief: Readonly<Belief>, filter: Readonly<Filter>): boolean {
  if (!isKnown(belief)) return true;
  const { awaySinceMs, heardAtMs } = belief;
  if (awaySinceMs !== null && heardAtMs! - awaySinceMs >= AWAY_MS) return false;
  return isBowlRate(filter.rateCPerS, filter.tempC, ownCourseS(belief.stretch!));
}

function runsAway({ slopeCPerS, stretch }: Readonly<Belief>, filter: Readonly<Filter>, leaving: number): boolean {
  if (Math.abs(filter.side) < AWAY_SIDE || isBowlRate(slopeCPerS, filter.tempC, ownCourseS(stretch!))) return false;
  return slopeCPerS > 0 ? leaving > AWAY_SD : leaving < -AWAY_SD;
}

function gateC(filter: Readonly<Filter>): number {
  return GATE_SD * expectedSdC(filter) + GATE_MARGIN_C;
}

function doubting(belief: Belief, filter: Filter, before: Doubt, dtS: number, expectations: Expectations): Verdict {
  const { atMs, valueC } = lastHeard(belief);
  carry(filter, atMs);
  const fits = Math.abs(valueC - expectedC(filter)) <= gateC(filter);
  if (before.readings <= SPIKE_READINGS && fits) {
    takeIn(belief, filter, valueC, dtS);
    return good(belief);
  }
  const bowl = before.readings === SPIKE_READINGS ? backToAnchor(belief) : filter;
  const doubt = followDoubt(before, bowl, belief.slopeCPerS, atMs, valueC);
  if (hasReturned(doubt)) return comeBack(belief, bowl, doubt);
  if (isNewLevel(doubt, expectations.lowestBoundC, ownCourseS(belief.stretch!)))
    return beginAnew(belief, doubt, expectations);
  return suspect(belief, doubt);
}

function comeBack(belief: Belief, bowl: Filter, doubt: Doubt): Verdict {
  reseatProbe(bowl, doubt.valueC, unseenC(doubt));
  restartStretch(belief.stretch!, bowl);
  startFitting(belief, doubt.atMs);
  belief.backAtMs = doubt.atMs;
  return good(belief);
}

/** The bowl is somewhere new, and has been watched there for long enough to be judged by at once. */
function beginAnew(belief: Belief, doubt: Doubt, expectations: Expectations): Verdict {
  begin(belief, expectations);
  belief.filter!.rateCPerS = newPace(doubt);
  restartStretch(belief.stretch!, belief.filter!);
  belief.fitted = SETTLED_READINGS;
  belief.fittedSinceMs = doubt.sinceMs;
  return null;
}

function moveAnchors(belief: Belief, filter: Readonly<Filter>, atMs: number): void {
  const { anchors } = belief;
  if (anchors !== null && atMs - anchors[1].filter.atMs < ANCHOR_MS) return;
  const here = { filter: copyFilter(filter), stretch: copyStretch(belief.stretch!) };
  belief.anchors = [anchors === null ? here : anchors[1], here];
}

/** The bowl as it was before the probe began to leave it, carried to now. */
function backToAnchor(belief: Belief): Filter {
  const anchor = belief.anchors?.[0];
  const bowl = predicted(anchor?.filter ?? belief.filter!, belief.heardAtMs!);
  belief.filter = bowl;
  if (anchor !== undefined) belief.stretch = copyStretch(anchor.stretch);
  return bowl;
}

function good(belief: Belief): Verdict {
  belief.fitted += 1;
  belief.goodAtMs = belief.heardAtMs;
  belief.quality = 'good';
  belief.doubt = null;
  return null;
}

/** The reading being judged; `hear` has just noted it. */
function lastHeard(belief: Readonly<Belief>): { atMs: number; valueC: number } {
  return { atMs: belief.heardAtMs!, valueC: belief.valueC! };
}

function suspect(belief: Belief, doubt: Doubt): Verdict {
  belief.quality = 'suspect';
  belief.awaySinceMs = null;
  belief.doubt = doubt;
  return { quality: 'suspect', reason: doubt.readings > SPIKE_READINGS ? 'not-the-bowl' : 'spike' };
}
