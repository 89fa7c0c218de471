/**
 * Two stand-ins that know no better than a thermometer with an alarm does: a bare threshold on the reading, and a
 * straight line through the last half minute. What the engine is worth is what it does better.
 */
import type { Estimate } from '../../server/core/bowl/estimate.ts';
import type { EventBody, RunEvent } from '../../server/core/record/event.ts';
import { nearEdgeC } from '../../server/core/show/course.ts';
import type { Phase } from '../../server/core/record/profile.ts';
import type { Sample } from '../../server/source/kitchen/probe.ts';
import type { Case } from './kitchens.ts';
import { asksMs, type Watched, type Watcher } from './watchers.ts';

/** An alarm when the reading passes the ceiling, phases by the reading alone; nothing ahead. */
export const THRESHOLD: Watcher = { name: 'threshold', watch: (kitchen) => standIn(kitchen, null) };

/** The same, and a straight line through the last 30 s carried on for a minute. */
export const STRAIGHT_LINE: Watcher = {
  name: 'line 30 s',
  watch: (kitchen) => standIn(kitchen, { overS: 30, aheadS: 60 }),
};

interface Line {
  readonly nowC: number;
  readonly perS: number;
}

const CLEARED_C = 0.2;
const AGAIN_AFTER_S = 60;

function standIn(kitchen: Case, ahead: { readonly overS: number; readonly aheadS: number } | null): Watched {
  const { phases } = kitchen.profile;
  const events: RunEvent[] = [];
  const estimates: (Estimate | null)[] = [];
  let phaseIndex = 0;
  let heldFromS: number | null = null;
  let over = false;
  let warned = false;
  let toldAtS = -Infinity;
  let newest = 0;
  let oldest = 0;
  const startedMs = performance.now();
  const tell = (atS: number, body: EventBody): void => {
    events.push({ ...body, seq: events.length + 1, atMs: Math.round(atS * 1000) });
  };
  tell(0, { kind: 'phase-entered', phase: phases[0]?.id ?? '', from: null, by: 'reached' });

  for (const askMs of asksMs(kitchen)) {
    let line: Line | null = null;
    for (; (kitchen.samples[newest]?.atS ?? Infinity) * 1000 <= askMs; newest += 1) {
      const sample = kitchen.samples[newest];
      const phase = phases[phaseIndex];
      if (sample === undefined || phase === undefined) break;
      while ((kitchen.samples[oldest]?.atS ?? Infinity) < sample.atS - (ahead?.overS ?? 0)) oldest += 1;
      line = ahead === null ? { nowC: sample.valueC, perS: 0 } : lineThrough(kitchen.samples, oldest, newest);
      heldFromS = reached(phase, sample.valueC) ? (heldFromS ?? sample.atS) : null;
      const following = phases[phaseIndex + 1];
      if (heldFromS !== null && following !== undefined && sample.atS - heldFromS >= (phase.holdS ?? 0)) {
        tell(sample.atS, { kind: 'phase-entered', phase: following.id, from: phase.id, by: 'reached' });
        phaseIndex += 1;
        heldFromS = null;
      }
      const limitC = phases[phaseIndex]?.ceilingC;
      if (limitC === undefined || phaseIndex < 2) continue;
      const alarm = {
        kind: 'alarm-raised',
        severity: 'warning',
        phase: phase.id,
        valueC: sample.valueC,
        limitC,
      } as const;
      const wasOver = over;
      over = sample.valueC > (over ? limitC - CLEARED_C : limitC);
      if (over && !wasOver) tell(sample.atS, { ...alarm, alarm: 'overshoot' });
      if (wasOver && !over)
        tell(sample.atS, { kind: 'alarm-cleared', alarm: 'overshoot', lastedMs: 0, extremeC: null });
      if (ahead === null || line === null) continue;
      const comes = !over && line.nowC + line.perS * ahead.aheadS > limitC;
      if (!comes && warned)
        tell(sample.atS, { kind: 'alarm-cleared', alarm: 'overshoot-ahead', lastedMs: 0, extremeC: null });
      warned &&= comes;
      if (!comes || sample.atS - toldAtS < AGAIN_AFTER_S) continue;
      tell(sample.atS, { ...alarm, alarm: 'overshoot-ahead' });
      toldAtS = sample.atS;
      warned = true;
    }
    estimates.push(line === null ? (estimates.at(-1) ?? null) : estimateOf(line, askMs, phases[phaseIndex]));
  }
  return { events, estimates, tookMs: performance.now() - startedMs };
}

export function reached(phase: Phase, valueC: number): boolean {
  if (phase.heading === 'hold') return false;
  return phase.heading === 'up' ? valueC >= nearEdgeC(phase) : valueC <= nearEdgeC(phase);
}

function lineThrough(samples: readonly Sample[], from: number, to: number): Line {
  const last = samples[to];
  if (last === undefined) return { nowC: Number.NaN, perS: 0 };
  let count = 0;
  let sumT = 0;
  let sumC = 0;
  let sumTT = 0;
  let sumTC = 0;
  for (let index = from; index <= to; index += 1) {
    const { atS, valueC } = samples[index] ?? last;
    const t = atS - last.atS;
    count += 1;
    sumT += t;
    sumC += valueC;
    sumTT += t * t;
    sumTC += t * valueC;
  }
  const spread = count * sumTT - sumT * sumT;
  if (spread <= 0) return { nowC: last.valueC, perS: 0 };
  const perS = (count * sumTC - sumT * sumC) / spread;
  return { nowC: (sumC - perS * sumT) / count, perS };
}

function estimateOf(line: Line, atMs: number, phase: Phase | undefined): Estimate {
  const away = phase === undefined ? 0 : nearEdgeC(phase) - line.nowC;
  const etaS = away * line.perS > 0 ? Math.round(away / line.perS) : null;
  return {
    kind: 'estimate',
    atMs,
    phase: phase?.id ?? null,
    tempC: line.nowC,
    rateCPerMin: line.perS * 60,
    etaS,
    etaLowS: etaS,
    etaHighS: etaS,
    peakC: null,
  };
}
