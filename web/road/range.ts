/**
 * How tall a panel's scale is. It follows the phase in steps, when a panel opens or the near edge comes within reach, and
 * never breathes: nothing here depends on the newest value but through a step. Knows nothing about pixels.
 */
import { firstDownIndex, nearEdgeC } from '../../server/core/show/course.ts';
import type { Phase } from '../../server/core/record/profile.ts';
import type { RoadModel } from './model.ts';
import type { Stretch } from './panels.ts';
import type { Extremes } from './pyramid.ts';

/** Lowest and highest temperature of a panel, °C. */
export type Range = readonly [lowC: number, highC: number];

/** Room past the outermost bound, °C (ours): half a degree where half a degree decides, a whole one on a long way. */
export const PAST_BOUND_C = 0.5;
const PAST_BOUND_LONG_C = 1;
/** … and past the lost line so much that its name can stand there on a low map too, °C (ours). */
const PAST_LOST_C = 1;
/** Room past the band where the phase has no bound on that side, °C (ours). */
const PAST_BAND_C = 2;
/** The near edge is within reach from here on, °C (ours). */
const REACH_C = 6;
/** Height of the near scale on a long way, °C (ours). */
const LONG_WAY_C = 12.5;
/** A scale that must grow does so to the next multiple of this, °C (ours). */
const STEP_C = 5;
/** How long the value must be back inside before the scale steps down again (ours). */
const SETTLE_MS = 60_000;
/** Of a holding panel at least this share of the height is the band (ours: one degree must be steerable at arm's length). */
const HOLD_BAND_SHARE = 0.2;
/** A band that is this share of the far scale can be steered on it, and the way there stays in sight (ours). */
const WIDE_BAND_SHARE = 0.12;
/** Where nothing has been read yet, a way is drawn this long, °C (ours). */
const UNKNOWN_WAY_C = 15;

/** The open panel's scale while the view follows. */
export function followRange(model: RoadModel, open: Stretch): Range {
  if (open.phase.heading === 'hold') return holdRange(open.phase);
  const near = nearRange(model, open);
  const seen = seenIn(model, open);
  const far = farRange(open, near, seen);
  const [bandLowC, bandHighC] = open.phase.bandC;
  const isSteerable = bandHighC - bandLowC >= WIDE_BAND_SHARE * (far[1] - far[0]);
  return !isSteerable && isNear(open, near, seen) ? near : far;
}

/** A working panel's scale: all its bounds where they fit, and always the band on a fifth of the height or more. */
export function holdRange(phase: Phase): Range {
  const [bandLowC, bandHighC] = phase.bandC;
  const tallestC = (bandHighC - bandLowC) / HOLD_BAND_SHARE;
  const spareC = tallestC - (bandHighC - bandLowC);
  const aboveC = outerHigh(phase) - bandHighC;
  const belowC = bandLowC - outerLow(phase);
  if (aboveC + belowC <= spareC) return [outerLow(phase), outerHigh(phase)];
  const ceilingC = (phase.ceilingC ?? bandHighC) + PAST_BOUND_C - bandHighC;
  const keptBelowC = Math.min(belowC, Math.max(spareC - ceilingC, spareC / 4));
  return [bandLowC - keptBelowC, bandHighC + Math.min(aboveC, spareC - keptBelowC)];
}

/** A panel still to come, or folded: its band amid its bounds. */
export function bandRange(phase: Phase): Range {
  return [outerLow(phase), outerHigh(phase)];
}

function outerLow(phase: Phase, pastC = PAST_BOUND_C): number {
  return phase.floorC === undefined ? phase.bandC[0] - PAST_BAND_C : phase.floorC - pastC;
}

function outerHigh(phase: Phase, pastC = PAST_BOUND_C): number {
  if (phase.lostAboveC !== undefined) return phase.lostAboveC + Math.max(pastC, PAST_LOST_C);
  return phase.ceilingC === undefined ? phase.bandC[1] + PAST_BAND_C : phase.ceilingC + pastC;
}

/** Before seed is made, and on the way down, the way is long; after it, a few degrees decide. */
function nearRange(model: RoadModel, open: Stretch): Range {
  const firstDown = firstDownIndex(model.profile);
  const isLongWay = firstDown < 0 || open.index <= firstDown || open.phase.heading === 'down';
  if (!isLongWay) return bandRange(open.phase);
  const [lowC, highC] = [outerLow(open.phase, PAST_BOUND_LONG_C), outerHigh(open.phase, PAST_BOUND_LONG_C)];
  const tallC = Math.max(LONG_WAY_C, highC - lowC);
  return open.phase.heading === 'down' ? [lowC, lowC + tallC] : [highC - tallC, highC];
}

function isNear({ phase }: Stretch, near: Range, { recent, lowC, highC }: Seen): boolean {
  const goingDown = phase.heading === 'down';
  const isPast = goingDown ? recent.low < near[0] : recent.high > near[1];
  const isStillOutside = goingDown ? recent.low > near[1] : recent.high < near[0];
  if (Number.isNaN(recent.low) || isPast || isStillOutside) return false;
  const edgeC = nearEdgeC(phase);
  const roomC = goingDown ? near[1] - edgeC : edgeC - near[0];
  const closestC = goingDown ? lowC - edgeC : edgeC - highC;
  return closestC <= Math.min(REACH_C, roomC * 0.9);
}

function farRange({ phase }: Stretch, near: Range, { lowC, highC }: Seen): Range {
  const edgeC = nearEdgeC(phase);
  const goingDown = phase.heading === 'down';
  const lowestC = orElse(lowC, goingDown ? near[0] : edgeC - UNKNOWN_WAY_C);
  const highestC = orElse(highC, goingDown ? edgeC + UNKNOWN_WAY_C : near[1]);
  return [Math.min(near[0], stepDown(lowestC, near[0])), Math.max(near[1], stepUp(highestC, near[1]))];
}

/** What the value did: of late, and over the phase and of late; NaN where nothing was measured. */
interface Seen {
  readonly recent: Extremes;
  readonly lowC: number;
  readonly highC: number;
}

function seenIn(model: RoadModel, open: Stretch): Seen {
  const recent = recentExtremes(model);
  const since = model.curve.estimateExtremes(open.fromMs, model.nowMs);
  return { recent, lowC: least(since.low, recent.low), highC: most(since.high, recent.high) };
}

/** What the value did lately; the estimate alone where the curve has nothing that new. */
function recentExtremes(model: RoadModel): Extremes {
  const seen = model.curve.estimateExtremes(model.nowMs - SETTLE_MS, model.nowMs);
  if (!Number.isNaN(seen.low)) return seen;
  const value = model.estimate?.tempC ?? NaN;
  return { low: value, high: value };
}

/** The lesser; NaN counts as not measured. */
function least(a: number, b: number): number {
  return Number.isNaN(a) ? b : Number.isNaN(b) ? a : Math.min(a, b);
}

function most(a: number, b: number): number {
  return -least(-a, -b);
}

function orElse(value: number, otherwise: number): number {
  return Number.isNaN(value) ? otherwise : value;
}

function stepDown(valueC: number, enoughC: number): number {
  return valueC >= enoughC ? enoughC : Math.floor(valueC / STEP_C) * STEP_C;
}

function stepUp(valueC: number, enoughC: number): number {
  return valueC <= enoughC ? enoughC : Math.ceil(valueC / STEP_C) * STEP_C;
}
