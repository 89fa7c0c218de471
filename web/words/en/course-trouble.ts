/** What is said of a course that will not reach the band, and of what comes before the dipping: the first strip test, a bowl that was kept low. Pure. */
import type { Phase } from '../../../server/core/record/profile.ts';
import { nearEdgeC } from '../../../server/core/show/course.ts';
import type { ShownCue, View } from '../../../server/core/show/view.ts';
import { STEADY_C_PER_MIN } from '../../way-form.ts';
import { unitSign } from '../manner.ts';
import { apart, degrees, goal } from '../measure.ts';
import { whole } from '../whole.ts';
import { saidTempC } from '../../said-temperature.ts';
import { mayDip } from '../../strip-test.ts';
import { LOW_FOR_LONG } from '../standing.ts';
import { testWords } from './cue.ts';
import type { Moment, Sentence } from './sentence.ts';

type TroubleSaid = Pick<Sentence, 'act' | 'detail'>;

/** Water is no warmer than this, °C (ours: just below boiling on a hill); beyond it only air or the heat itself helps. */
const WATER_MAX_C = 95;
/** Further past where it was to level off than this, °C, it goes on after all (ours: more than stirring does). */
const GONE_ON_C = 0.3;

/** The bowl itself has shown since that the cue was wrong, or somebody has warmed it. */
function hasGoneOn({ landsC }: ShownCue, phase: Phase, { estimate }: Moment): boolean {
  if (landsC === null || estimate === null) return false;
  const towards = phase.heading === 'down' ? -1 : 1;
  return (estimate.tempC - landsC) * towards > GONE_ON_C && estimate.rateCPerMin * towards > STEADY_C_PER_MIN;
}

/** What to set the bowl in, and where it ends otherwise; null: it goes on after all. */
export function shortWords(cue: ShownCue, phase: Phase, now: Moment): TroubleSaid | null {
  if (hasGoneOn(cue, phase, now)) return null;
  const medium = (cue.bathC ?? nearEdgeC(phase)) > WATER_MAX_C ? 'air' : 'water';
  const act = `${phase.heading === 'down' ? 'Colder' : 'Warmer'} ${medium}.`;
  const where = cue.landsC === null ? null : `Levels off at ${degrees(cue.landsC)}`;
  if (cue.bathC !== null) {
    const bath = `Set the bowl in ${whole(cue.bathC)} ${unitSign()} ${medium}.`;
    return { act, detail: where === null ? bath : `${where}. ${bath}` };
  }
  return { act, detail: where === null ? paceWords(phase, now) : `${where}, short of ${goal(nearEdgeC(phase))}.` };
}

function paceWords(phase: Phase, now: Moment): string {
  const rate = now.estimate?.rateCPerMin ?? 0;
  const near = goal(nearEdgeC(phase));
  if (Math.abs(rate) < STEADY_C_PER_MIN) return `Standing still; it would never reach ${near}.`;
  return `${rate > 0 ? 'Rising' : 'Falling'} ${apart(Math.abs(rate))} a minute; that takes too long to ${near}.`;
}

/** Least that is worth warming it by, °C (ours: what the number shows). */
const LEAST_LIFT_C = 0.1;

/** What is to be done first, in the working band; null: nothing is. */
export function beforeDipWords(view: View, phase: Phase, now: Moment): TroubleSaid | null {
  return thickerWords(view, phase, now) ?? firstTestWords(view, now);
}

/** Its cue comes so long after the work has begun, ms (the engine's); until then the page asks for it by itself. */
export const FIRST_TEST_CUE_MS = 60_000;

/** Rewarmed, it asked for the strip test: it goes on asking until one lies there, and does not say to dip in between. */
function firstTestWords(view: View, now: Moment): TroubleSaid | null {
  const [before, work] = view.visits.slice(-2);
  if (before === undefined || work === undefined || !mayDip(view)) return null;
  if (now.atMs - work.enteredAtMs >= FIRST_TEST_CUE_MS) return null;
  const isBegun = view.marks.some(
    (mark) => mark.kind === 'act' && mark.act.startsWith('strip-') && mark.atMs >= before.enteredAtMs,
  );
  return isBegun ? null : testWords(now);
}

/** Crystals grow in a bowl that was kept low for long; null: it was not, or is on its way up. */
function thickerWords({ standing }: View, { bandC: [lowC, highC] }: Phase, now: Moment): TroubleSaid | null {
  const tempC = saidTempC(now);
  if (tempC === null) return null;
  if (standing?.standing !== 'at-risk' || standing.why !== 'low-for-long') return null;
  const liftC = (lowC + highC) / 2 - tempC;
  if (liftC < LEAST_LIFT_C) return null;
  return {
    act: `Thicker? Lift it ${apart(liftC)}.`,
    detail: `Over ${LOW_FOR_LONG} in the low half. Strip test before you dip.`,
  };
}
