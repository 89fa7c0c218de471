/**
 * What to do next, said once and early: off the heat, off the cold, this will not get there, warm gently, hold it there.
 * Cues are at notice level; what happens when they are not heeded is foretell.ts.
 */
import { aimC, coastC, takeOffInS } from '../bowl/forecast.ts';
import { rateSdCPerS } from '../bowl/filter.ts';
import type { Filter } from '../bowl/filter.ts';
import type { CueName } from '../record/event.ts';
import type { Phase } from '../record/profile.ts';
import {
  AIM_SHARE,
  AIM_SHARE_WORKING,
  CUE_AGAIN_MS,
  CUE_DOUBT,
  CUE_LEAD_S,
  CUE_RATE_C_PER_S,
  LOW_SHARE,
  STALLED_AGAIN_MS,
  STALLED_C_PER_S,
  STALLED_MS,
  STALLED_SHORT_C,
} from './bounds.ts';
import { pastNearEdgeC } from './phases.ts';
import { currentPhase } from './watch.ts';
import type { SpentCue, Turn } from './watch.ts';

/** Looks at the course and says what it calls for. `tempC` and the filter are the believed estimate of this moment. */
export function cueCourse(turn: Turn, filter: Filter, tempC: number): void {
  const phase = currentPhase(turn);
  if (phase.heading !== 'down') takeOff(turn, filter, phase, 'off-heat', 1);
  if (phase.heading === 'down') takeOff(turn, filter, phase, 'off-cold', -1);
  if (phase.heading === 'hold') warmGently(turn, filter, phase, tempC);
  else stalled(turn, filter, phase, tempC);
}

/** Said before the act it asks for is over; `inMs` after it the moment to act comes. */
export function giveCue(turn: Turn, cue: CueName, filter: Filter | null, inS?: number, landsC?: number): void {
  const spent: SpentCue = {
    atMs: turn.atMs,
    rateCPerS: filter?.rateCPerS ?? 0,
    inMs: Math.round((inS ?? 0) * 1000),
    heeded: false,
    done: false,
  };
  turn.watch.cues = { ...turn.watch.cues, [cue]: spent };
  turn.say({
    kind: 'cue',
    cue,
    phase: currentPhase(turn).id,
    ...(inS === undefined ? {} : { inS: Math.round(inS) }),
    ...(landsC === undefined ? {} : { landsC: Math.round(landsC * 100) / 100 }),
  });
}

function takeOff(turn: Turn, filter: Filter, phase: Phase, cue: 'off-heat' | 'off-cold', towards: 1 | -1): void {
  const rate = filter.rateCPerS * towards;
  if (closeCourse(turn, cue, rate)) return;
  if (rate - CUE_DOUBT * rateSdCPerS(filter) < CUE_RATE_C_PER_S || tooSoonAgain(turn, cue, CUE_AGAIN_MS)) return;
  const share = phase.heading === 'hold' ? AIM_SHARE_WORKING : AIM_SHARE;
  const inS = takeOffInS(filter, aimC(phase.bandC, towards, share), towards);
  if (inS === null || inS > CUE_LEAD_S) return;
  const waitS = Math.max(0, inS);
  giveCue(turn, cue, filter, waitS, coastC(filter) + filter.rateCPerS * waitS);
}

/** A course is over when the bowl stands still or turns: only then may the same cue come again. True while it is spent. */
function closeCourse(turn: Turn, cue: CueName, rate: number): boolean {
  const spent = turn.watch.cues[cue];
  if (spent === undefined || spent.done) return false;
  if (rate < CUE_RATE_C_PER_S / 2) turn.watch.cues = { ...turn.watch.cues, [cue]: { ...spent, done: true } };
  return true;
}

function tooSoonAgain(turn: Turn, cue: CueName, againMs: number): boolean {
  const spent = turn.watch.cues[cue];
  return spent !== undefined && turn.atMs - spent.atMs < againMs;
}

/** Working, near the lower edge and falling: warm it for seconds, before it thickens. */
function warmGently(turn: Turn, filter: Filter, phase: Phase, tempC: number): void {
  const [lowC, highC] = phase.bandC;
  const spent = turn.watch.cues['warm-gently'];
  if (spent !== undefined && !spent.done) {
    if (tempC > (lowC + highC) / 2) {
      turn.watch.cues = { ...turn.watch.cues, 'warm-gently': { ...spent, done: true } };
    }
    return;
  }
  const low = tempC < lowC + LOW_SHARE * (highC - lowC) && filter.rateCPerS < 0;
  if (low && !tooSoonAgain(turn, 'warm-gently', CUE_AGAIN_MS)) giveCue(turn, 'warm-gently', filter);
}

function stalled(turn: Turn, filter: Filter, phase: Phase, tempC: number): void {
  const towards = phase.heading === 'up' ? 1 : -1;
  const standing = pastNearEdgeC(phase, tempC) < -STALLED_SHORT_C && filter.rateCPerS * towards < STALLED_C_PER_S;
  const stalledSinceMs = standing ? (turn.watch.stalledSinceMs ?? turn.atMs) : null;
  turn.watch.stalledSinceMs = stalledSinceMs;
  if (stalledSinceMs === null || turn.atMs - stalledSinceMs < STALLED_MS) return;
  if (!tooSoonAgain(turn, 'will-not-reach', STALLED_AGAIN_MS)) giveCue(turn, 'will-not-reach', filter);
}
