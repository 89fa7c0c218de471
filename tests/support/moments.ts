/** Moments of a run with an invented profile, for what is said of them: what was told so many seconds ago, and what stands now. */
import type { Estimate } from '../../server/core/bowl/estimate.ts';
import type { EventBody, RunEvent, Standing, StandingReason } from '../../server/core/record/event.ts';
import type { Profile } from '../../server/core/record/profile.ts';
import { emptyView, foldEvents } from '../../server/core/show/view.ts';
import type { Moment } from '../../web/words/sentence.ts';

export const PROFILE: Profile = {
  id: 'ginger',
  title: 'Ginger dark',
  coating: 'dark',
  source: 'ours',
  phases: [
    { id: 'one', heading: 'up', bandC: [46, 49], ceilingC: 52, holdS: 120 },
    { id: 'two', heading: 'down', bandC: [26.5, 27.5], floorC: 26, holdS: 180 },
    { id: 'three', heading: 'up', bandC: [31, 32], ceilingC: 32.5, lostAboveC: 34 },
    { id: 'four', heading: 'hold', bandC: [31, 32], ceilingC: 32.5, floorC: 30.5, lostAboveC: 34 },
  ],
};

export const ENTERED_MS = 1_000;
export const NOW_MS = ENTERED_MS + 24 * 60_000;

export function enter(phase: string): EventBody {
  return { kind: 'phase-entered', phase, from: null, by: 'reached' };
}

/** Events told at the given moments; the first of a pair is seconds before now. */
export function viewOf(...told: readonly (readonly [agoS: number, body: EventBody])[]) {
  const events = told.map(([agoS, body], i): RunEvent => ({ ...body, seq: i + 1, atMs: NOW_MS - agoS * 1000 }));
  return foldEvents(emptyView, events);
}

export function at(tempC: number, more: Partial<Estimate> = {}, moment: Partial<Moment> = {}): Moment {
  return {
    atMs: NOW_MS,
    reading: { valueC: tempC, atMs: NOW_MS - 1000, quality: 'good' },
    stale: false,
    probeOutSinceMs: null,
    fanIfLeft: [],
    dwellLeftS: null,
    unsure: null,
    estimate: {
      kind: 'estimate',
      atMs: NOW_MS,
      phase: null,
      tempC,
      rateCPerMin: 1,
      etaS: null,
      etaLowS: null,
      etaHighS: null,
      peakC: null,
      ...more,
    },
    ...moment,
  };
}

/** When the phase was entered, seconds before now. */
export const AGO = 24 * 60;

export function stands(standing: Standing, why: StandingReason): EventBody {
  return { kind: 'standing', standing, why };
}
export const raised = { kind: 'alarm-raised', severity: 'warning', phase: 'four', valueC: 32.8, limitC: 32.5 } as const;
