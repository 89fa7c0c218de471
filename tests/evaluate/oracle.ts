/**
 * The oracle: it sees the chocolate and knows the physics of the bowl, but not what the person will do next. Nobody can
 * warn better of what the unchanged kitchen leads to; so it marks how much of each figure there is to be had.
 */
import type { Estimate } from '../../server/core/bowl/estimate.ts';
import type { EventBody, RunEvent } from '../../server/core/record/event.ts';
import { phaseIndex } from '../../server/core/show/course.ts';
import { carriesUpTo, TICK_S } from '../../server/source/kitchen/bench.ts';
import { later, settledC } from '../../server/source/kitchen/bowl.ts';
import { ORACLE_S } from './judge.ts';
import type { Case } from './kitchens.ts';
import { Truth } from './truth.ts';
import { ASK_S, type Watched, type Watcher } from './watchers.ts';

/** How often it looks ahead, s. */
const LOOK_S = 2;
/** A cue to take it off comes this long before the moment, s, and lands here between the edges of the band. */
const CUE_LEAD_S = 15;
const AIM_SHARE = 0.5;

/** Arrivals it gives none: with the kitchen unchanged it would know each to the second, by the way they are judged. */
export const ORACLE: Watcher = {
  name: 'oracle',
  watch(kitchen) {
    const startedMs = performance.now();
    const events = [...overshootsSeen(kitchen), ...takeOffsSeen(kitchen)].toSorted(
      (one, other) => one.atMs - other.atMs,
    );
    const numbered = events.map((event, index): RunEvent => ({ ...event, seq: index + 1 }));
    return { events: numbered, estimates: estimatesOf(kitchen), tookMs: performance.now() - startedMs };
  },
};

type Seen = EventBody & { readonly atMs: number };

/** Raised while the unchanged kitchen would cross the ceiling within two minutes, and while it is over. */
function overshootsSeen(kitchen: Case): Seen[] {
  const truth = new Truth(kitchen);
  const seen: Seen[] = [];
  const on = { 'overshoot-ahead': false, overshoot: false };
  for (let atS = 0; atS < kitchen.hours * 3600; atS += LOOK_S) {
    const tick = Math.floor(atS / TICK_S);
    const limitC = truth.ceilingAt(tick);
    const nowC = truth.atC(atS);
    const isOver = limitC !== undefined && nowC > limitC;
    const comes = limitC !== undefined && !isOver && couldReach(truth, atS, limitC);
    for (const [alarm, holds] of [
      ['overshoot', isOver],
      ['overshoot-ahead', comes],
    ] as const) {
      if (holds === on[alarm]) continue;
      on[alarm] = holds;
      const phase = kitchen.course.phases[tick] ?? '';
      seen.push(
        holds
          ? {
              atMs: atS * 1000,
              kind: 'alarm-raised',
              alarm,
              severity: 'warning',
              phase,
              valueC: nowC,
              limitC: limitC ?? null,
            }
          : { atMs: atS * 1000, kind: 'alarm-cleared', alarm, lastedMs: 0, extremeC: null },
      );
    }
  }
  return seen;
}

/** Looks ahead only where chocolate, wall or bath is above the limit: nothing else could carry it there. */
function couldReach(truth: Truth, atS: number, limitC: number): boolean {
  const { around, wallC } = truth.kitchenAt(atS);
  if (Math.max(around.tempC, wallC) <= limitC) return false;
  return truth.unchangedHighestC(atS, ORACLE_S) > limitC;
}

/** One cue for each time on the heat, a little before the moment at which the coast lands in the middle of the band. */
function takeOffsSeen(kitchen: Case): Seen[] {
  const seen: Seen[] = [];
  let told = false;
  for (let atS = 0; atS < kitchen.hours * 3600; atS += LOOK_S) {
    const tick = Math.floor(atS / TICK_S);
    const now = kitchen.course.kitchens[tick];
    const phase = kitchen.profile.phases[phaseIndex(kitchen.profile, kitchen.course.phases[tick] ?? '')];
    if (now === undefined || phase === undefined || phase.heading === 'down') continue;
    if (now.around.kind !== 'hot-bath') told = false;
    if (told || now.around.kind !== 'hot-bath') continue;
    const landC = phase.bandC[0] + AIM_SHARE * (phase.bandC[1] - phase.bandC[0]);
    const then = later(now, CUE_LEAD_S);
    if (settledC(then) < landC || !carriesUpTo(then, landC)) continue;
    seen.push({ atMs: atS * 1000, kind: 'cue', cue: 'off-heat', phase: phase.id, inS: CUE_LEAD_S, landsC: landC });
    told = true;
  }
  return seen;
}

function estimatesOf(kitchen: Case): Watched['estimates'] {
  const truth = new Truth(kitchen);
  const asks = Math.ceil((kitchen.hours * 3600) / ASK_S);
  return Array.from({ length: asks + 1 }, (_, index): Estimate => {
    const atS = index * ASK_S;
    const phase = kitchen.course.phases[Math.floor(atS / TICK_S)] ?? null;
    const none = { etaS: null, etaLowS: null, etaHighS: null, peakC: null };
    return { kind: 'estimate', atMs: atS * 1000, phase, tempC: truth.atC(atS), rateCPerMin: 0, ...none };
  });
}
