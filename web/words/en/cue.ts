/** What a cue says while it is worth saying: act, detail, and for leaving heat or cold the band that counts down. Pure. */
import type { StirReason } from '../../../server/core/record/event.ts';
import type { Profile } from '../../../server/core/record/profile.ts';
import type { ShownCue } from '../../../server/core/show/view.ts';
import { troubleWords } from '../../trouble.ts';
import { degrees, guess, span } from '../measure.ts';
import type { Moment, Sentence } from './sentence.ts';
import { coastOf, standsAt } from './way.ts';

/** How long after its moment an unheeded off-heat or off-cold cue keeps the band, s (the 20 s after which the alarm takes over). */
const HEED_S = 20;
/** How long the other cues stand in place of the phase's own words, s (ours; the strip test takes 3 to 5 min). */
const CUE_SHOWN_S = { stir: 60, 'will-not-reach': 90, 'strip-test': 300, 'hold-there': 60, other: 120 } as const;

const STIR_WHY: Readonly<Record<StirReason, string>> = {
  unstirred: 'It hardly moves: it tells nothing of the rest.',
  'at-the-wall': 'The tip seems to be at the wall: hold it in the middle.',
};

/** Leaving heat or cold is asked for, or was less than 20 s ago. */
export function isLeavingDue(cue: ShownCue, atMs: number): boolean {
  if (cue.cue !== 'off-heat' && cue.cue !== 'off-cold') return false;
  return (atMs - cue.atMs) / 1000 <= (cue.inS ?? 0) + HEED_S;
}

/** The parts of the sentence the cue says otherwise than the phase; null: it has been said for long enough. */
export function cueWords(cue: ShownCue, now: Moment, profile: Profile): Partial<Sentence> | null {
  const ageS = (now.atMs - cue.atMs) / 1000;
  const phase = profile.phases.find(({ id }) => id === cue.phase);
  switch (cue.cue) {
    case 'off-heat':
    case 'off-cold':
      return isLeavingDue(cue, now.atMs) ? leavingWords(cue, Math.max(0, (cue.inS ?? 0) - ageS), now) : null;
    case 'will-not-reach':
      if (ageS > CUE_SHOWN_S['will-not-reach'] || phase === undefined) return null;
      return troubleWords()?.shortWords(cue, phase, now) ?? null;
    case 'strip-test':
      if (ageS > CUE_SHOWN_S['strip-test']) return null;
      return testWords(now);
    case 'stir':
      if (ageS > CUE_SHOWN_S.stir) return null;
      return {
        act: 'Stir, then believe it.',
        detail: cue.why === null ? 'The bowl may be uneven.' : STIR_WHY[cue.why],
      };
    case 'hold-there':
      return ageS > CUE_SHOWN_S['hold-there'] ? null : { act: 'Stir, and hold it there.' };
    case 'cool-again':
      return ageS > CUE_SHOWN_S.other ? null : { act: 'Cool it again.' };
    case 'stir-down':
      return ageS > CUE_SHOWN_S.other ? null : { act: 'Off the heat, and stir.' };
    case 'warm-gently':
      return ageS > CUE_SHOWN_S.other ? null : { act: 'Warm it gently.' };
    default:
      return null;
  }
}

/** It asks for the strip test, wherever it stands. */
export function testWords(now: Moment): Pick<Sentence, 'act' | 'detail'> {
  return { act: 'Do the strip test.', detail: `${standsAt(now)}Look after 4 min.` };
}

function leavingWords(cue: ShownCue, leftS: number, now: Moment): Partial<Sentence> {
  const isHeat = cue.cue === 'off-heat';
  const whole = Math.round(leftS);
  return {
    act: `Off the ${isHeat ? 'heat' : 'cold'} ${whole > 0 ? `in ${span(whole)}` : 'now'}.`,
    detail: coastWords(cue, isHeat, whole > 0, now),
    area: 'band',
    arm: isHeat ? 'up' : 'left',
    leftS: whole > 0 ? whole : null,
  };
}

/** Before its moment: where it lands if left then. At it: where it lands if left now, and when. */
function coastWords(cue: ShownCue, isHeat: boolean, isEarly: boolean, now: Moment): string {
  if (now.unsure !== null) return 'Stir it too: where it ends is not sure.';
  if (isEarly && cue.landsC !== null) return `Then it ${isHeat ? 'coasts' : 'drifts down'} to ${degrees(cue.landsC)}.`;
  const carries = isHeat ? 'It will coast to' : 'It will drift down to';
  const coast = coastOf(now.fanIfLeft);
  if (coast !== null && !isEarly) return `${carries} ${degrees(coast.endC)} in about ${guess(coast.inS)}.`;
  return cue.landsC === null ? 'Bowl and bath carry on by themselves.' : `${carries} ${degrees(cue.landsC)}.`;
}
