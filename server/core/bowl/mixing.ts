/**
 * Whether a reading stands for the whole bowl, from its own liveliness: stirring moves hotter and colder chocolate past the tip,
 * so a reading that lies dead still is not being stirred (evening out over 3 cm takes hours), and one that jumps about far more than
 * any stirred bowl is held against the wall. Stillness says something only where liveliness was seen before. Knows nothing of phases or people.
 */
import type { Mixing } from './estimate.ts';

/** Memory of the liveliness, seconds. Ours. */
const LIVELY_S = 15;
/** Steadier than this nobody is stirring, livelier than that somebody is, °C r.m.s. Ours: a stirred bowl shows 0.03 or more. */
const STILL_C = 0.012;
const STIRRED_C = 0.02;
/** What it is taken to be before anything is seen, °C r.m.s.: neither. Ours. */
const START_C = 0.016;
/** A thermometer that moves in coarser steps cannot show so little, °C. */
const FINE_STEP_C = 0.02;
/** Livelier than this the tip is at the wall, calmer than that it is not, °C r.m.s. Ours: a stirred bowl shows 0.3 at most, twice that on the move. */
const WALL_C = 0.7;
const OFF_WALL_C = 0.5;
/** Stirring was seen for so long before stillness means anything, seconds. Ours. */
const SHOWS_S = 120;
/** Looked at for so long before anything is said of it, milliseconds. Ours. */
const SURE_MS = 20_000;

/** Plain data, replaced at each reading. */
export interface Liveliness {
  readonly sinceMs: number;
  /** Running mean square of what the reading does beside the bowl's course, °C². */
  readonly meanC2: number;
  /** For how long it has been lively, seconds: long enough, and this thermometer, in this bowl, shows stirring. */
  readonly livelyS: number;
  readonly mixing: Mixing | null;
}

export function startLiveliness(atMs: number, livelyS: number): Liveliness {
  return { sinceMs: atMs, meanC2: START_C ** 2, livelyS, mixing: null };
}

/** Not known is taken for stirred: most thermometers cannot tell. */
export function standsForBowl(mixing: Mixing | null): mixing is 'stirred' | null {
  return mixing === null || mixing === 'stirred';
}

/** `restC`: the reading less the course of the probe, °C; `stepC`: steps of the thermometer, null before they are known. */
export function followLiveliness(
  { sinceMs, meanC2, livelyS, mixing }: Liveliness,
  atMs: number,
  restC: number,
  dtS: number,
  stepC: number | null,
): Liveliness {
  const nextC2 = meanC2 + Math.min(0.3, dtS / LIVELY_S) * (restC * restC - meanC2);
  const livelyC = Math.sqrt(nextC2);
  const known = atMs - sinceMs >= SURE_MS;
  return {
    sinceMs,
    meanC2: nextC2,
    livelyS: livelyC > STIRRED_C ? livelyS + dtS : livelyS,
    mixing: known ? mixingOf(livelyC, mixing, livelyS > SHOWS_S && isFine(stepC)) : null,
  };
}

function isFine(stepC: number | null): boolean {
  return stepC !== null && stepC <= FINE_STEP_C;
}

function mixingOf(livelyC: number, before: Mixing | null, shows: boolean): Mixing | null {
  if (livelyC > WALL_C || (before === 'at-the-wall' && livelyC > OFF_WALL_C)) return 'at-the-wall';
  if (!shows) return null;
  if (livelyC < STILL_C || (before === 'unstirred' && livelyC < STIRRED_C)) return 'unstirred';
  return 'stirred';
}
