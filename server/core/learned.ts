/** What a run taught of the bowl itself, for the next run's header; and what a header says of it. */
import type { Bath, Baths } from './bowl/courses.ts';
import type { Learned } from './record/run.ts';
import type { State } from './state.ts';

/** How far a time constant of an earlier run may be off, ln seconds, squared: less in the bowl, stirred harder. Ours. */
const EARLIER_LN_VAR = 0.1;

/** What this one run taught so far. */
export function learnedOf({ belief }: State): Learned {
  const { hot, cold } = belief.stretch?.baths ?? { hot: null, cold: null };
  const wall = belief.stretch?.wall;
  const coastS = wall?.here === true ? Math.round(Math.exp(wall.ln)) : null;
  return { runs: 1, heatCourseS: wholeS(hot), coldCourseS: wholeS(cold), coastS };
}

/** What a run begins with knowing. */
export function bathsOf(learned: Learned | undefined): Baths {
  return { hot: earlier(learned?.heatCourseS), cold: earlier(learned?.coldCourseS) };
}

function wholeS(bath: Bath | null): number | null {
  return bath === null || !bath.here ? null : Math.round(Math.exp(bath.lnTau));
}

function earlier(courseS: number | null | undefined): Bath | null {
  return typeof courseS === 'number'
    ? { levelC: null, lnTau: Math.log(courseS), lnTauVar: EARLIER_LN_VAR, here: false }
    : null;
}
