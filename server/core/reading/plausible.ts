/** Which temperatures could be the bowl's at all: a window that follows the profile, not a fixed one. Knows no thermometer. */
import type { Profile } from '../record/profile.ts';

/** Room around the profile's own bounds, °C: a fridge below, boiling water and a warm-air gun above. From the profile contract. */
export const PLAUSIBLE_MARGIN_C = 60;

/** Lowest and highest believable value, °C, both included: the profile's lowest bound − 60 and its highest + 60. */
export function plausibleWindowC(profile: Profile): readonly [lowC: number, highC: number] {
  const boundsC = profile.phases.flatMap(({ bandC, floorC, ceilingC, lostAboveC }) =>
    [...bandC, floorC, ceilingC, lostAboveC].filter((boundC) => boundC !== undefined),
  );
  return [Math.min(...boundsC) - PLAUSIBLE_MARGIN_C, Math.max(...boundsC) + PLAUSIBLE_MARGIN_C];
}
