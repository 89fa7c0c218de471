/** The strip test as a step of the work: when it is worth offering, and what its answers are. Pure. */
import type { Act } from '../server/core/record/command.ts';
import type { Profile } from '../server/core/record/profile.ts';
import { firstDownIndex, phaseIndex } from '../server/core/show/course.ts';
import { lowestLostC } from '../server/core/show/profile-limits.ts';
import type { View } from '../server/core/show/view.ts';
import { EVERY_MS, lastTestMs, mayDip } from './strip-test.ts';
import type { StripLook, StripTest } from './strip-test.ts';

/** The act that this look at the strip is. Tacky once is no verdict yet. */
export function lookedAt(test: StripTest, look: StripLook): Act {
  if (look === 'glossy') return 'strip-test-good';
  return look === 'streaks' || test.isSecondLook ? 'strip-test-bad' : 'strip-tacky';
}

/**
 * Worth offering: the chocolate is warm enough to dip, no warmer than any seed bears (T4), and nothing has been tested yet, nothing may be
 * dipped before it is, or the half hour is over. `tempC`: null: not known.
 */
export function isTestDue(view: View, atMs: number, profile: Profile, tempC: number | null = null): boolean {
  const at = view.phase === null ? -1 : phaseIndex(profile, view.phase);
  const firstDown = firstDownIndex(profile);
  if (firstDown < 0 || at <= firstDown || view.ended !== null || view.standing?.standing === 'lost') return false;
  if (tempC !== null && tempC >= (lowestLostC(profile) ?? Infinity)) return false;
  // First it is stirred down: laid before, the strip would not tell of what is dipped.
  if (view.alarms.some(({ alarm }) => alarm === 'overshoot')) return false;
  const isReached = view.visits.at(-1)?.reachedAtMs !== null;
  if (profile.phases[at]!.heading !== 'hold' && !isReached) return false;
  const lastMs = lastTestMs(view);
  return lastMs === null || view.cue?.cue === 'strip-test' || !mayDip(view) || atMs - lastMs >= EVERY_MS;
}
