/**
 * What to do next, said once and early: off the heat, off the cold, this will not get there, warm gently, hold it there.
 * Cues are at notice level; what happens when they are not heeded is foretell.ts.
 */
import { aimC, bathThatDoes, coastC, levelOf, takeOffInS } from '../bowl/forecast.ts';
import { standsForBowl } from '../bowl/mixing.ts';
import type { Bowl } from '../bowl/stretch.ts';
import type { CueName, StirReason } from '../record/event.ts';
import type { Phase } from '../record/profile.ts';
import { nearEdgeC } from '../show/course.ts';
import {
  AIM_SHARE,
  AIM_SHARE_WORKING,
  CREEP_C_PER_S,
  CREEP_DOUBT,
  CREEP_S,
  HEEDED_SHARE,
  CUE_AGAIN_MS,
  CUE_DOUBT,
  CUE_LEAD_S,
  CUE_RATE_C_PER_S,
  LEVELS_OFF_SURE,
  LOW_SHARE,
  SLOW_C_PER_S,
  STALLED_AGAIN_MS,
  STALLED_C_PER_S,
  STALLED_MS,
  STALLED_SHORT_C,
  STIR_AGAIN_MS,
  TAKE_OFF_DOUBTS,
  TAKE_OFF_DOUBTS_WORKING,
  UNSTIRRED_HOLD_MS,
  UNSTIRRED_MS,
} from './bounds.ts';
import { armedCeiling, armedFloor } from './armed.ts';
import { pastFarEdgeC, pastNearEdgeC } from './phases.ts';
import { currentPhase } from './watch.ts';
import type { SpentCue, Turn } from './watch.ts';

/** Looks at the course and says what it calls for. `tempC` and the bowl are the believed estimate of this moment. */
export function cueCourse(turn: Turn, bowl: Bowl, tempC: number): void {
  const phase = currentPhase(turn);
  askToStir(turn, bowl, phase);
  if (phase.heading !== 'down') takeOff(turn, bowl, phase, 'off-heat', 1);
  if (phase.heading === 'down') takeOff(turn, bowl, phase, 'off-cold', -1);
  if (phase.heading === 'hold') warmGently(turn, bowl, phase, tempC);
  else stalled(turn, bowl, phase, tempC);
}

/** What a cue says besides its name. */
interface Says {
  readonly inS?: number;
  readonly landsC?: number;
  readonly bathC?: number;
  readonly why?: StirReason;
}

/** Said before the act it asks for is over; `inMs` after it the moment to act comes. */
export function giveCue(turn: Turn, cue: CueName, bowl: Bowl | null, says: Says = {}): void {
  const { inS, landsC, bathC, why } = says;
  const spent: SpentCue = {
    atMs: turn.atMs,
    rateCPerS: bowl?.rateCPerS ?? 0,
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
    ...(bathC === undefined ? {} : { bathC }),
    ...(why === undefined ? {} : { why }),
  });
}

function takeOff(turn: Turn, bowl: Bowl, phase: Phase, cue: 'off-heat' | 'off-cold', towards: 1 | -1): void {
  const rate = bowl.rateCPerS * towards;
  const creeps = creepsOver(turn, bowl, towards);
  // Past the band it is not said again: foretell.ts takes over.
  const again = creeps && hasSlowed(turn, cue, bowl, towards) && pastFarEdgeC(phase, bowl.tempC, towards) <= 0;
  if (closeCourse(turn, cue, rate) && !again) return;
  const plain = rate - CUE_DOUBT * bowl.rateSdCPerS >= CUE_RATE_C_PER_S;
  if ((!plain && !creeps) || tooSoonAgain(turn, cue, CUE_AGAIN_MS)) return;
  const working = phase.heading === 'hold';
  const share = working ? AIM_SHARE_WORKING : AIM_SHARE;
  const doubts = working ? TAKE_OFF_DOUBTS_WORKING : TAKE_OFF_DOUBTS;
  const inS = takeOffInS(bowl, aimC(phase.bandC, towards, share), towards, doubts);
  if (inS === null || inS > CUE_LEAD_S) return;
  const waitS = Math.max(0, inS);
  giveCue(turn, cue, bowl, { inS: waitS, landsC: coastC(bowl) + bowl.rateCPerS * waitS });
}

/** However slowly: it surely goes towards the bound, and will be over it before anybody looks again. */
function creepsOver(turn: Turn, bowl: Bowl, towards: 1 | -1): boolean {
  const bound = towards === 1 ? armedCeiling(turn.profile, turn.watch) : armedFloor(turn.profile, turn.watch);
  if (bound === null) return false;
  const rate = bowl.rateCPerS * towards;
  const wayC = (bound.limitC - bowl.tempC) * towards;
  return rate - CREEP_DOUBT * bowl.rateSdCPerS > CREEP_C_PER_S && wayC < rate * CREEP_S;
}

/** A course is over when the bowl stands still or turns: only then may the same cue come again. True while it is spent. */
function closeCourse(turn: Turn, cue: CueName, rate: number): boolean {
  const spent = turn.watch.cues[cue];
  if (spent === undefined || spent.done) return false;
  if (rate < Math.min(CUE_RATE_C_PER_S, Math.abs(spent.rateCPerS)) / 2)
    turn.watch.cues = { ...turn.watch.cues, [cue]: { ...spent, done: true } };
  return true;
}

/** The cue was heeded in part: it goes on slowly, and is not slowing down any more as a bowl does that coasts. */
function hasSlowed(turn: Turn, cue: CueName, { rateCPerS, latestRateCPerS }: Bowl, towards: 1 | -1): boolean {
  const spent = turn.watch.cues[cue];
  const rate = rateCPerS * towards;
  const goesOn = rate < SLOW_C_PER_S && latestRateCPerS * towards > HEEDED_SHARE * rate;
  return spent !== undefined && goesOn && rate < HEEDED_SHARE * Math.abs(spent.rateCPerS);
}

function tooSoonAgain(turn: Turn, cue: CueName, againMs: number): boolean {
  const spent = turn.watch.cues[cue];
  return spent !== undefined && turn.atMs - spent.atMs < againMs;
}

/** Working, near the lower edge and falling: warm it for seconds, before it thickens. */
function warmGently(turn: Turn, bowl: Bowl, phase: Phase, tempC: number): void {
  const [lowC, highC] = phase.bandC;
  const spent = turn.watch.cues['warm-gently'];
  if (spent !== undefined && !spent.done) {
    if (tempC > (lowC + highC) / 2) {
      turn.watch.cues = { ...turn.watch.cues, 'warm-gently': { ...spent, done: true } };
    }
    return;
  }
  const low = tempC < lowC + LOW_SHARE * (highC - lowC) && bowl.rateCPerS < 0;
  if (low && !tooSoonAgain(turn, 'warm-gently', CUE_AGAIN_MS)) giveCue(turn, 'warm-gently', bowl);
}

/** Standing still short of the edge, or on a course that levels off before it. */
function stalled(turn: Turn, bowl: Bowl, phase: Phase, tempC: number): void {
  const towards = phase.heading === 'up' ? 1 : -1;
  const rate = bowl.rateCPerS * towards;
  const endsC = levelOf(bowl);
  const short = pastNearEdgeC(phase, tempC) < -STALLED_SHORT_C;
  // Melting takes up heat and looks like a course that ends: what slows then goes on when the last crystal is gone.
  const ends = !bowl.isMelting && pastNearEdgeC(phase, endsC) < -STALLED_SHORT_C;
  const levelsOff = ends && bowl.rateSdCPerS < LEVELS_OFF_SURE * rate;
  const stalledSinceMs =
    short && (rate < STALLED_C_PER_S || levelsOff) ? (turn.watch.stalledSinceMs ?? turn.atMs) : null;
  turn.watch.stalledSinceMs = stalledSinceMs;
  if (stalledSinceMs === null || turn.atMs - stalledSinceMs < STALLED_MS) return;
  if (tooSoonAgain(turn, 'will-not-reach', STALLED_AGAIN_MS)) return;
  const bathC = bathThatDoes(tempC, nearEdgeC(phase), towards);
  const landsC = rate < STALLED_C_PER_S ? tempC : endsC;
  giveCue(turn, 'will-not-reach', bowl, bathC === null ? { landsC } : { landsC, bathC });
}

/** One reading says nothing of an unstirred bowl, and one at the wall less. */
function askToStir(turn: Turn, { mixing }: Bowl, phase: Phase): void {
  if (standsForBowl(mixing)) {
    turn.watch.unmixedSinceMs = null;
    return;
  }
  turn.watch.unmixedSinceMs ??= turn.atMs;
  const forMs = phase.heading === 'hold' ? UNSTIRRED_HOLD_MS : UNSTIRRED_MS;
  if (turn.atMs - turn.watch.unmixedSinceMs < forMs || tooSoonAgain(turn, 'stir', STIR_AGAIN_MS)) return;
  giveCue(turn, 'stir', null, { why: mixing });
}
