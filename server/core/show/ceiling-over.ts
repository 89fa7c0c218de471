/** Which ceilings are over each stay in a phase, and when: by position in the profile, as the alarms are. Pure. */
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
  /** Until when; null: to the end of the stay. */
  readonly untilMs: number | null;
}

/**
 * Those of each visit, oldest first. The working ceiling guards from the moment the seeding band was reached, or what follows the cooling
 * was entered; from then on over each cooling that was stepped back to as well, until all is melted anew. On the way down to the seed
 * that of the melt does: what burns, burns there too.
 */
export function ceilingsOver(profile: Profile, visits: readonly PhaseVisit[]): readonly (readonly CeilingOver[])[] {
  const seedAt = firstDownIndex(profile);
  const meltC = profile.phases.slice(0, Math.max(0, seedAt)).find(({ ceilingC }) => ceilingC !== undefined)?.ceilingC;
  let guardC: number | null = null;
  return visits.map(({ phase, enteredAtMs: fromMs, reachedAtMs }): readonly CeilingOver[] => {
    const at = phaseIndex(profile, phase);
    const own = profile.phases[at]?.ceilingC ?? null;
    const isBefore = seedAt === -1 || at < seedAt;
    if (isBefore) guardC = null;
    if (isBefore || (at === seedAt && own !== null)) return [{ kind: 'scorch', limitC: own, fromMs, untilMs: null }];
    if (profile.phases[at]!.heading !== 'down') {
      guardC = own ?? guardC;
      return [{ kind: 'working', limitC: own, fromMs, untilMs: null }];
    }
    if (guardC !== null) return [{ kind: 'working', limitC: own ?? guardC, fromMs, untilMs: null }];
    const scorch: CeilingOver = { kind: 'scorch', limitC: meltC ?? null, fromMs, untilMs: reachedAtMs };
    if (reachedAtMs === null) return [scorch];
    guardC = nextCeilingC(profile, at);
    return [scorch, { kind: 'working', limitC: own ?? guardC, fromMs: reachedAtMs, untilMs: null }];
  });
}

function nextCeilingC({ phases }: Profile, at: number): number | null {
  return phases.find(({ ceilingC }, index) => index > at && ceilingC !== undefined)?.ceilingC ?? null;
}
