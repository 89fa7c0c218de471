/** Which ceiling is over each stay in a phase, and since when: by position in the profile, as the alarms are. Pure. */
import type { Profile } from '../record/profile.ts';
import { firstDownIndex, phaseIndex } from './course.ts';
import type { PhaseVisit } from './view.ts';

/** `working` guards the seed, `scorch` the chocolate itself. */
export interface CeilingOver {
  readonly kind: 'working' | 'scorch';
  /** null: the profile sets none there. */
  readonly limitC: number | null;
  /** Since when it is over this stay, feed clock. */
  readonly fromMs: number;
}

/**
 * One for each visit, oldest first; null: none is over it. The working ceiling guards from the moment the seeding band was reached, or
 * what follows the cooling was entered; from then on over each cooling that was stepped back to as well, until all is melted anew.
 */
export function ceilingsOver(profile: Profile, visits: readonly PhaseVisit[]): readonly (CeilingOver | null)[] {
  const seedAt = firstDownIndex(profile);
  let guardC: number | null = null;
  return visits.map(({ phase, enteredAtMs, reachedAtMs }) => {
    const at = phaseIndex(profile, phase);
    const own = profile.phases[at]?.ceilingC ?? null;
    const isBefore = seedAt === -1 || at < seedAt;
    if (isBefore) guardC = null;
    if (isBefore || (at === seedAt && own !== null)) return { kind: 'scorch', limitC: own, fromMs: enteredAtMs };
    if (profile.phases[at]!.heading !== 'down') {
      guardC = own ?? guardC;
      return { kind: 'working', limitC: own, fromMs: enteredAtMs };
    }
    const fromMs = guardC === null ? reachedAtMs : enteredAtMs;
    if (fromMs === null) return null;
    guardC ??= nextCeilingC(profile, at);
    return { kind: 'working', limitC: own ?? guardC, fromMs };
  });
}

function nextCeilingC({ phases }: Profile, at: number): number | null {
  return phases.find(({ ceilingC }, index) => index > at && ceilingC !== undefined)?.ceilingC ?? null;
}
