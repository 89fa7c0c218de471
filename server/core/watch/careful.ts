/**
 * The ceiling to go by while nobody has said which chocolate it is: the lowest at which any of them burns. Only scorching counts, as the
 * chocolate may already be tempered, or on its way there. Knows nothing of clocks, runs or screens.
 */
import type { Profile } from '../record/profile.ts';
import { scorchCeiling } from './armed.ts';
import { DEAD_BAND_C } from './bounds.ts';

export interface CarefulCeiling {
  readonly limitC: number;
  /** Whose ceiling it is. */
  readonly coating: Profile['coating'];
}

/** The first of the lowest; null where no profile sets a ceiling on its melting. */
export function mostCarefulCeiling(profiles: readonly Profile[]): CarefulCeiling | null {
  const ceilings = profiles.flatMap((profile): CarefulCeiling[] => {
    const bound = scorchCeiling(profile);
    return bound === null ? [] : [{ limitC: bound.limitC, coating: profile.coating }];
  });
  return ceilings.toSorted((a, b) => a.limitC - b.limitC)[0] ?? null;
}

/** So many good readings in a row say it, and so many unsay it (ours: one alone may be the spoon). */
export const CAREFUL_READINGS = 3;

export interface CarefulWatch {
  readonly isOver: boolean;
  /** Good readings in a row that speak against that. */
  readonly against: number;
}

export const NOT_OVER: CarefulWatch = { isOver: false, against: 0 };

/** One good reading later. At the ceiling is over it; back under is further down by the dead band. */
export function watchCeiling(before: CarefulWatch, tempC: number, { limitC }: CarefulCeiling): CarefulWatch {
  const isAgainst = before.isOver ? tempC <= limitC - DEAD_BAND_C : tempC >= limitC;
  const against = isAgainst ? before.against + 1 : 0;
  return against < CAREFUL_READINGS ? { ...before, against } : { isOver: !before.isOver, against: 0 };
}
