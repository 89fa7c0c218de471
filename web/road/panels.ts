/** Which panel of the map lies open, which are folded in at the left and which are still to come. Knows nothing about pixels. */
import { phaseIndex } from '../../server/core/show/course.ts';
import type { Phase } from '../../server/core/record/profile.ts';
import type { RoadModel } from './model.ts';

/** A visit with its phase and a definite end. */
export interface Stretch {
  readonly phase: Phase;
  /** Position in the profile. */
  readonly index: number;
  readonly fromMs: number;
  /** Where it was left, or where the run stands. */
  readonly toMs: number;
  /** Still in it as far as the model goes. */
  readonly going: boolean;
}

export interface Panels {
  readonly past: readonly Stretch[];
  readonly open: Stretch;
  /** Phases the profile still has after the open one, nearest first. */
  readonly coming: readonly Phase[];
}

/** What of a model says which phases it went through, and when. */
type Walked = Pick<RoadModel, 'profile' | 'phases' | 'startedAtMs' | 'nowMs' | 'endedAtMs'>;

/** Every visit of the run, oldest first. Visits to phases the profile doesn't have are left out. A run not begun stands in its first phase. */
export function stretches(model: Walked): Stretch[] {
  const endMs = Math.max(model.nowMs, model.endedAtMs ?? -Infinity);
  const visits = model.phases.length > 0 ? model.phases : [unbegun(model)];
  return visits.flatMap((visit) => {
    const index = phaseIndex(model.profile, visit.phase);
    if (index < 0) return [];
    return {
      phase: model.profile.phases[index]!,
      index,
      fromMs: visit.enteredAtMs,
      toMs: visit.leftAtMs ?? endMs,
      going: visit.leftAtMs === null,
    };
  });
}

/** The panels as of `atMs` (now, or the middle of a held view). */
export function panelsAt(model: RoadModel, atMs: number): Panels {
  const all = stretches(model);
  const at = Math.max(
    0,
    all.findLastIndex((stretch) => stretch.fromMs <= atMs),
  );
  const open = all[at] ?? stretches({ ...model, phases: [] })[0]!;
  return { past: all.slice(0, at), open, coming: model.profile.phases.slice(open.index + 1) };
}

function unbegun(model: Walked): { phase: string; enteredAtMs: number; leftAtMs: null } {
  return { phase: model.profile.phases[0]!.id, enteredAtMs: model.startedAtMs, leftAtMs: null };
}
