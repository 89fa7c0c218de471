/**
 * The ahead-alarms: a bound will be crossed, the cue to prevent it was given and not heeded, or acting no longer helps.
 * Two steps, as agreed: a well-handled run hears cues and none of these.
 */
import { coastC, surelyCoastsC } from '../bowl/forecast.ts';
import type { Bowl } from '../bowl/stretch.ts';
import type { AlarmName, CueName } from '../record/event.ts';
import { isRaised } from './alarms.ts';
import { armedCeiling, armedFloor } from './armed.ts';
import type { Bound } from './armed.ts';
import {
  AHEAD_S,
  CREEP_C_PER_S,
  CUE_RATE_C_PER_S,
  DEAD_BAND_C,
  HEEDED_SHARE,
  HEED_MS,
  ON_DELAY_MS,
  SURE_COAST_S,
  UNHEEDED_AHEAD_S,
  UNHEEDED_WAY_C,
} from './bounds.ts';
import { look } from './limits.ts';
import { pastFarEdgeC } from './phases.ts';
import { currentPhase } from './watch.ts';
import type { Turn } from './watch.ts';

export function foretell(turn: Turn, bowl: Bowl, tempC: number): void {
  const ceiling = armedCeiling(turn.profile, turn.watch);
  const floor = armedFloor(turn.profile, turn.watch);
  ahead(turn, 'overshoot-ahead', ceiling, 'off-heat', 1, bowl, tempC);
  ahead(turn, 'scorch-ahead', ceiling, 'off-heat', 1, bowl, tempC);
  ahead(turn, 'undershoot-ahead', floor, 'off-cold', -1, bowl, tempC);
}

function ahead(
  turn: Turn,
  alarm: AlarmName,
  bound: Bound | null,
  cue: CueName,
  towards: 1 | -1,
  bowl: Bowl,
  tempC: number,
): void {
  const mine = bound !== null && bound.ahead === alarm;
  if (!mine && turn.watch.alarms[alarm] === undefined) return;
  const limitC = mine ? bound.limitC : null;
  // Once the bound itself is crossed its own alarm speaks, and this one has nothing more to foretell.
  const told = mine && isRaised(turn.watch.alarms, bound.alarm);
  const rate = bowl.rateCPerS * towards;
  const wayC = limitC === null ? Infinity : (limitC - tempC) * towards;
  const inS = rate > 0 ? Math.max(0, wayC) / rate : Infinity;
  const sureRate = sureRateOf(bowl, towards);
  const sure = sureRate > CREEP_C_PER_S;
  const surelyC = Math.max(sureRate * SURE_COAST_S, surelyCoastsC(bowl, sureRate * towards) * towards);
  const coasts = wayC < surelyC;
  const coming =
    limitC !== null &&
    (coasts
      ? inS <= AHEAD_S
      : (inS <= UNHEEDED_AHEAD_S || wayC <= UNHEEDED_WAY_C) &&
        unheeded(turn, cue, rate, tempC, towards) &&
        endsNear(turn, limitC, tempC + surelyC * towards));
  const on = !told && sure && coming;
  if (!on && turn.watch.alarms[alarm] === undefined) return;
  const off = told || limitC === null || wayC > rate * AHEAD_S + DEAD_BAND_C || rate < CREEP_C_PER_S / 2;
  look(turn, {
    alarm,
    on,
    off,
    onDelayMs: ON_DELAY_MS.ahead,
    valueC: tempC,
    limitC,
    worse: towards === 1 ? 'higher' : 'lower',
    ...(Number.isFinite(inS) ? { inS: Math.round(inS) } : {}),
    peakC: Math.round(coastC(bowl) * 100) / 100,
  });
}

/** What it surely goes at: a bowl just taken off the heat shows in the last half minute first, a creeping one only over minutes. */
function sureRateOf({ rateCPerS, rateSdCPerS, latestRateCPerS }: Bowl, towards: 1 | -1): number {
  const rate = rateCPerS * towards - rateSdCPerS;
  return rate < CUE_RATE_C_PER_S ? rate : Math.min(rate, latestRateCPerS * towards);
}

/** Even leaving now would end out of the band, and nearer the bound than the band. */
function endsNear(turn: Turn, limitC: number, landsC: number): boolean {
  const [lowC, highC] = currentPhase(turn).bandC;
  const overC = Math.max(landsC - highC, lowC - landsC);
  return overC > 0 && overC > Math.abs(limitC - landsC);
}

/** The moment to act came at least HEED_MS ago and the bowl goes on nearly as fast, or it is past the band and still goes on. */
function unheeded(turn: Turn, cue: CueName, rate: number, tempC: number, towards: 1 | -1): boolean {
  const spent = turn.watch.cues[cue];
  if (pastFarEdgeC(currentPhase(turn), tempC, towards) > 0) {
    return spent === undefined || turn.atMs - spent.atMs >= HEED_MS;
  }
  if (spent === undefined || spent.done || spent.heeded) return false;
  const late = turn.atMs - (spent.atMs + spent.inMs) >= HEED_MS;
  return late && rate > HEEDED_SHARE * Math.abs(spent.rateCPerS);
}
