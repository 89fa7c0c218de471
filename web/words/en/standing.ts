/** How the temper stands, in a word, and when that may be said. Pure; by heading and place of a phase, never by its id. */
import type { AlarmName, Standing } from '../../../server/core/record/event.ts';
import type { Profile } from '../../../server/core/record/profile.ts';
import { firstDownIndex } from '../../../server/core/show/course.ts';
import type { View } from '../../../server/core/show/view.ts';
import { STANDING_AT_END, STANDING_NAME } from '../names.ts';

/** Whether a profile makes temper at all: one that never cools is no tempering curve. */
export function hasStanding(profile: Profile): boolean {
  return firstDownIndex(profile) >= 0;
}

/** Whether it may be said: not in one breath with an alarm that forbids to dip, which is raised before temper is at risk. */
export function maySayStanding({ standing, alarms }: View): boolean {
  return standing?.standing !== 'in-temper' || !alarms.some(({ alarm }) => FORBIDS_DIPPING.has(alarm));
}

const FORBIDS_DIPPING: ReadonlySet<AlarmName> = new Set(['overshoot', 'temper-lost', 'scorch']);

export function standingName(standing: Standing | null, isOver = false): string {
  if (standing === null) return 'Temper not known';
  return (isOver ? STANDING_AT_END : STANDING_NAME)[standing];
}

/** How it stood in the end, where it is plain that the end is meant: of most the usual name says that in fewer words. */
export function standingAtEnd(standing: Standing | null): string {
  return standingName(standing, standing === 'not-made-yet');
}

/** How long is long in the lower half of the band: the engine's own bound. */
export const LOW_FOR_LONG = '40 min';
