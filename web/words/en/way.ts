/**
 * The way to a phase's goal in words: when it is reached, or that it is not on this course; and where heat or cold that is not left
 * leads. Says nothing of when where the reading does not stand for the bowl. Pure; by heading and bounds, never by id.
 */
import type { Estimate, FanBead } from '../../../server/core/bowl/estimate.ts';
import type { Phase } from '../../../server/core/record/profile.ts';
import { nearEdgeC } from '../../../server/core/show/course.ts';
import { apart, arrival, bound, degrees, goal, guess, measured } from '../measure.ts';
import { saidTempC } from '../../said-temperature.ts';
import { isCooledBy, STEADY_C_PER_MIN, wayForm } from '../../way-form.ts';
import type { WayForm } from '../../way-form.ts';
import type { Moment } from './sentence.ts';

/** Why what comes can't be told from the reading: it hardly stirs, its tip is at the wall, or the probe has only just come back. */
export type Unsure = 'unstirred' | 'at-the-wall' | 'just-back';

/** What would have to be done first, in place of a time. */
const FIRST: Readonly<Record<Unsure, string>> = {
  unstirred: 'Stir it to know when.',
  'at-the-wall': 'Tip off the wall to know when.',
  'just-back': 'The time in a moment.',
};

/** The small standing line by the number. */
export const UNSURE_HINT: Readonly<Record<Unsure, string>> = {
  unstirred: 'Not stirred: the tip alone',
  'at-the-wall': 'The tip seems at the wall',
  'just-back': 'Probe just back in',
};

/** Where to and when, or why not. */
export function wayWords(phase: Phase, now: Moment): string {
  const near = goal(nearEdgeC(phase));
  const { estimate, unsure } = now;
  if (estimate === null) return `To ${near}.`;
  if (unsure !== null && estimate.etaS !== 0) return `To ${near}. ${FIRST[unsure]}`;
  return courseWords(phase, aheadOf(phase, now)!, saidTempC(now)!);
}

/** What is told of the way ahead at this moment: as it was held still, else as it stands. null: there is no estimate. */
export function aheadOf(phase: Phase, { ahead, estimate, isRateUnknown }: Moment): Required<Moment>['ahead'] | null {
  if (ahead !== undefined || estimate === null) return ahead ?? null;
  return { form: wayForm(phase, estimate, isRateUnknown), estimate };
}

/** "27.5 °C in about 4 min." · "Levels off near 28.4, short of 27.5 °C." `tempC`: where it stands now, as it is said. */
export function courseWords(
  phase: Phase,
  { form, estimate }: { form: WayForm; estimate: Estimate },
  tempC = estimate.tempC,
): string {
  const edgeC = nearEdgeC(phase);
  const near = goal(edgeC);
  switch (form) {
    case 'there':
      return `${measured(tempC)}, in the band.`;
    case 'unsure':
      return `To ${near}. Not sure yet when.`;
    case 'still':
      return `Standing still, ${apart(Math.abs(edgeC - tempC))} short of ${near}.`;
    case 'away':
      return `${estimate.rateCPerMin > 0 ? 'Rising' : 'Falling'}, away from ${near}.`;
    case 'short':
      return `Levels off near ${degrees(estimate.peakC!)}, short of ${near}.`;
    case 'just':
      return `${near} only just, if at all.`;
    case 'far':
      return `More than an hour to ${near}.`;
    default:
      return `${near} ${arrival(estimate.etaS, estimate.etaLowS, estimate.etaHighS)}.`;
  }
}

/** "31.6 and still. ", as the start of a line; only where it is so. */
export function standsAt(now: Moment): string {
  const tempC = saidTempC(now);
  return tempC === null ? '' : `${degrees(tempC)}${isStill(now) ? ' and still' : ''}. `;
}

/** It stands still, as far as can be told. */
export function isStill({ estimate, isRateUnknown }: Moment): boolean {
  return estimate !== null && isRateUnknown !== true && Math.abs(estimate.rateCPerMin) < STEADY_C_PER_MIN;
}

export function atNow(now: Moment): string {
  const valueC = saidTempC(now) ?? now.reading?.valueC;
  return valueC === undefined ? 'There' : degrees(valueC);
}

/** Within this of where it ends a coast has arrived, °C (ours: the last figure shown). */
const ARRIVED_C = 0.1;

/** Where a coast ends and after how long, s; null where nothing is known of it. */
export function coastOf(fan: readonly FanBead[]): { readonly endC: number; readonly inS: number } | null {
  const last = fan.at(-1);
  if (last === undefined) return null;
  const there = fan.find(({ medianC }) => Math.abs(medianC - last.medianC) <= ARRIVED_C) ?? last;
  return { endC: last.medianC, inS: there.inS };
}

/** What comes of doing nothing at a choice: which bound is met and when, or where it stands at the end. "over 32.5 in about 90 s" */
export function leftWords(leftOn: readonly FanBead[], fromC: number, phase: Phase): string {
  const last = leftOn.at(-1);
  if (last === undefined) return '';
  const isDown = isCooledBy(leftOn, fromC);
  const limitC = isDown ? phase.floorC : phase.ceilingC;
  const inS = limitC === undefined ? null : metInS(leftOn, fromC, limitC);
  if (limitC === undefined || inS === null) return `${degrees(last.medianC)} in ${guess(last.inS)}`;
  return `${isDown ? 'under' : 'over'} ${bound(limitC)} in ${guess(inS)}`;
}

/** "Left on" the heat, "left in" the cold. */
export function leftName(leftOn: readonly FanBead[], fromC: number): 'left on' | 'left in' {
  return isCooledBy(leftOn, fromC) ? 'left in' : 'left on';
}

/** "Left on: over 32.5 in 2 min", what the dashed line of the road says. */
export function leftLine(leftOn: readonly FanBead[], fromC: number, phase: Phase): string {
  const name = leftName(leftOn, fromC) === 'left on' ? 'Left on' : 'Left in';
  return `${name}: ${leftWords(leftOn, fromC, phase)}`;
}

/** Seconds until the median of these beads meets a bound, between the beads by proportion; null: not within them. */
function metInS(beads: readonly FanBead[], fromC: number, limitC: number): number | null {
  let before = { inS: 0, medianC: fromC };
  for (const bead of beads) {
    const share = (limitC - before.medianC) / (bead.medianC - before.medianC);
    if (share >= 0 && share <= 1) return before.inS + share * (bead.inS - before.inS);
    before = bead;
  }
  return null;
}
