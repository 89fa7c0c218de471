/**
 * Why the temper stands so, for whoever asks: the word, why, the shortest way on, and that it is an estimate. Figures where the run has
 * them. Pure; by heading and place of a phase, never by its id.
 */
import type { AlarmName } from '../../../server/core/record/event.ts';
import type { Phase, Profile } from '../../../server/core/record/profile.ts';
import { firstDownIndex, nearEdgeC, phaseIndex } from '../../../server/core/show/course.ts';
import { lowestLostC } from '../../../server/core/show/profile-limits.ts';
import type { View } from '../../../server/core/show/view.ts';
import { saidTempC } from '../../said-temperature.ts';
import { isTestOwed } from '../../strip-test.ts';
import { bound, degrees, span } from '../measure.ts';
import { lasted } from '../lasted.ts';
import { wayOf } from '../alarm-words.ts';
import { STANDING_WHY } from '../log-names.ts';
import type { Moment } from './sentence.ts';
import { LOW_FOR_LONG, standingName } from './standing.ts';

export interface StandingWords {
  readonly name: string;
  /** Why, in fewer than ten words. */
  readonly why: string;
  /** What to do, in the shortest words. */
  readonly next: string;
  /** A strip test would tell more than we can. */
  readonly isTestable: boolean;
}

export const STANDING_IS_A_GUESS = 'Our estimate, from the temperature alone. The strip test decides.';

/** `isKnown`: false while the number is not live; then nothing is claimed. */
export function standingWords(view: View, now: Moment, profile: Profile, isKnown: boolean): StandingWords {
  const isOver = view.ended !== null;
  const told = isKnown || isOver ? view.standing : null;
  if (told === null) {
    return {
      name: standingName(null),
      why: 'No reading to tell it by.',
      next: 'Bring the reading back. Then the strip test.',
      isTestable: false,
    };
  }
  const course = courseOf(view, profile);
  return {
    name: standingName(told.standing, isOver),
    why: whyWords(told, view, now, course),
    next: nextWords(told, now, course),
    isTestable: told.standing !== 'not-made-yet' && told.standing !== 'lost' && !isBeyond(now, course),
  };
}

type Told = NonNullable<View['standing']>;

/** What of the profile and of where the run stands on it decides the words. */
interface Course {
  readonly seedC: number;
  readonly seedHoldS: number;
  readonly working: Phase | undefined;
  readonly lostC: number | null;
  readonly place: 'before' | 'cooling' | 'holding' | 'after';
  /** After temper is lost it goes on with cooling again, not with the melt. */
  readonly coolsAgain: boolean;
  /** Over the ceiling, or lost and made again, since it was last tested. */
  readonly owesTest: boolean;
}

function courseOf(view: View, profile: Profile): Course {
  const down = profile.phases[firstDownIndex(profile)];
  const at = view.phase === null ? -1 : phaseIndex(profile, view.phase);
  const reached = view.visits.some(({ phase, reachedAtMs }) => phase === down?.id && reachedAtMs !== null);
  return {
    seedC: down === undefined ? NaN : nearEdgeC(down),
    seedHoldS: down?.holdS ?? 0,
    working: profile.phases.findLast(({ heading }) => heading === 'hold') ?? profile.phases.at(-1),
    lostC: lowestLostC(profile),
    place: placeOf(at - firstDownIndex(profile), reached),
    coolsAgain: wayOf(view, profile).coolsAgain,
    owesTest: isTestOwed(view),
  };
}

/** `past`: how many phases it is past the first cooling one. */
function placeOf(past: number, reached: boolean): Course['place'] {
  if (past < 0) return 'before';
  if (past > 0) return 'after';
  return reached ? 'holding' : 'cooling';
}

function whyWords({ why, atMs }: Told, view: View, now: Moment, course: Course): string {
  const ago = `${span((now.atMs - atMs) / 1000)} ago`;
  const seed = bound(course.seedC);
  switch (why) {
    case 'seed-not-made':
      return view.ended === null ? unmadeWords(now, course) : neverMadeWords(course);
    case 'seeded-and-rewarmed': {
      const held = course.seedHoldS > 0 ? `, held ${span(course.seedHoldS)}` : '';
      return `Cooled to ${seed}${held}, rewarmed.`;
    }
    case 'made-again':
      return `Was lost; cooled to ${seed} again and rewarmed.`;
    case 'strip-test-good':
      return `The strip test was good, ${ago}.`;
    case 'strip-test-bad':
      return `The strip test was not good, ${ago}.`;
    case 'started-tempered':
      return 'You said it came tempered. Not tested.';
    case 'forced-step':
      return 'A step was skipped by hand.';
    case 'gap':
      return 'More than a minute without a good reading.';
    case 'over-ceiling':
      return overWords('overshoot', view, now) ?? `${capital(STANDING_WHY[why])}.`;
    case 'low-for-long':
      return course.working === undefined
        ? `${capital(STANDING_WHY[why])}.`
        : `Under ${bound(middle(course.working))} for over ${LOW_FOR_LONG}: crystals grow.`;
    case 'above-lost':
      return overWords('temper-lost', view, now) ?? lostWords(now, course);
  }
}

function unmadeWords({ dwellLeftS }: Moment, { place, seedC }: Course): string {
  const seed = bound(seedC);
  if (place === 'after') return `Cooled to ${seed}; not rewarmed yet.`;
  if (place === 'holding' && dwellLeftS !== null && dwellLeftS > 0)
    return `Under ${seed}; ${span(dwellLeftS)} more for the seed.`;
  return `Not down to ${seed} yet: no seed made.`;
}

/** Of a run that is over. */
function neverMadeWords({ place, seedC }: Course): string {
  const seed = bound(seedC);
  if (place === 'after') return `Cooled to ${seed}, but not rewarmed.`;
  return place === 'holding'
    ? `Under ${seed}, but not long enough for the seed.`
    : `Never down to ${seed}: no seed made.`;
}

/** "Up to 32.9, over 32.5 for 3 min 35 s." of the alarm that stands, or else the last one that is over. */
function overWords(name: AlarmName, view: View, now: Moment): string | null {
  const active = view.alarms.find(({ alarm }) => alarm === name);
  if (active !== undefined && active.limitC !== null) {
    const tempC = saidTempC(now) ?? active.valueC;
    const at = tempC === null ? 'Now' : `${degrees(tempC)},`;
    return `${at} over ${bound(active.limitC)} for ${lasted((now.atMs - active.raisedAtMs) / 1000)}.`;
  }
  const past = view.pastAlarms.findLast(({ alarm }) => alarm === name);
  if (past === undefined || past.limitC === null) return null;
  const reach = past.extremeC === null ? 'Was' : `Up to ${degrees(past.extremeC)},`;
  return `${reach} over ${bound(past.limitC)} for ${lasted(past.lastedMs / 1000)}.`;
}

function lostWords(now: Moment, { lostC }: Course): string {
  if (lostC === null) return 'Too warm for any seed.';
  const tempC = saidTempC(now);
  if (tempC === null || tempC < lostC) return `Was over ${bound(lostC)}: no seed left.`;
  return `${degrees(tempC)}, over ${bound(lostC)}: no seed left.`;
}

/** Where a strip test would be believed by nobody. */
const TOO_WARM_NEXT = 'Off the heat, stir it down. No strip test counts so warm.';

function nextWords({ standing, why }: Told, now: Moment, course: Course): string {
  const seed = bound(course.seedC);
  switch (standing) {
    case 'not-made-yet':
      return UNMADE_NEXT[course.place](seed);
    case 'in-temper':
      if (!course.owesTest) return 'Dip. Strip test every half hour.';
      return why === 'made-again'
        ? 'Strip test first, then dip.'
        : 'It was over the ceiling. Strip test before you dip.';
    case 'unproven':
      if (why === 'strip-test-bad') return `Stir well, test again. Still not good: cool to ${seed}.`;
      if (isBeyond(now, course)) return TOO_WARM_NEXT;
      return 'Strip test before you dip.';
    case 'at-risk':
      if (isBeyond(now, course)) return TOO_WARM_NEXT;
      if (why === 'low-for-long') return 'Warm it to the upper half, stir. Strip test.';
      return isBack(now, course.working)
        ? 'Stir. Strip test before you dip.'
        : 'Off the heat, stir it down. Strip test.';
    case 'lost':
      if (!course.coolsAgain) return `Melt it all again. Then cool to ${seed}.`;
      return `No lumps: cool to ${seed} with fresh seed. Lumps: melt it first.`;
  }
}

const UNMADE_NEXT: Readonly<Record<Course['place'], (seed: string) => string>> = {
  before: (seed) => `Melt it all. Then cool to ${seed}, stirring.`,
  cooling: (seed) => `Cool to ${seed}, stirring.`,
  holding: () => 'Hold it there, stirring.',
  after: () => 'Warm it gently. Then the strip test.',
};

/** T4: so warm that no seed can be left, whatever a strip shows. */
function isBeyond({ estimate }: Moment, { lostC }: Course): boolean {
  return estimate !== null && lostC !== null && estimate.tempC >= lostC;
}

function isBack({ estimate }: Moment, working: Phase | undefined): boolean {
  return estimate !== null && working !== undefined && estimate.tempC <= working.bandC[1];
}

function middle({ bandC: [lowC, highC] }: Phase): number {
  return (lowC + highC) / 2;
}

function capital(text: string): string {
  return text[0]!.toUpperCase() + text.slice(1);
}
