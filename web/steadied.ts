/**
 * What is said of the way ahead, held still. The engine reckons it anew several times a second, and in the first minutes of a course the
 * answers differ in kind; a sentence that changes its form all the time is believed by nobody. Pure.
 */
import type { Estimate } from '../server/core/bowl/estimate.ts';
import type { Phase } from '../server/core/record/profile.ts';
import { wayForm } from './way-form.ts';
import type { WayForm } from './way-form.ts';

/** Another form is taken up once the one in use has been wrong for so long on end, ms; for longer where the new one claims more (ours). */
const HELD_MS = 10_000;
const SURER_AFTER_MS = 20_000;
/** The figures in one form are said anew this often, ms: seconds at once, minutes only so that they do not flicker (ours). */
const FIGURES_EVERY_MS = 5_000;
/** Below this the figures are seconds, s. */
const SECONDS_UP_TO_S = 120;

/** What the words go by. */
export interface Steadied {
  readonly phase: string;
  readonly form: WayForm;
  /** The last estimate that was of this form. */
  readonly estimate: Estimate;
  /** When that was taken up, feed clock. */
  readonly takenAtMs: number;
  /** Since when the form has not been right; null: it is. */
  readonly wrongSinceMs: number | null;
}

/** How much a form claims: the higher the surer. Arrival itself waits for nothing. */
const CLAIMS: Readonly<Record<WayForm, number>> = {
  unsure: 0,
  'or-more': 1,
  within: 1,
  far: 1,
  just: 1,
  short: 1,
  still: 1,
  away: 1,
  'about-and': 2,
  about: 3,
  leaving: 4,
  there: 4,
};

/** `before`: null at first. `isUnknown`: the rate is. */
export function steadied(
  before: Steadied | null,
  phase: Phase,
  estimate: Estimate,
  atMs: number,
  isUnknown = false,
): Steadied {
  const form = wayForm(phase, estimate, isUnknown);
  const fresh = { phase: phase.id, form, estimate, takenAtMs: atMs, wrongSinceMs: null };
  if (before === null || before.phase !== phase.id) return fresh;
  // Which way it goes is shown beside the words: they must not say the other.
  const turned = before.form === 'away' && before.estimate.rateCPerMin * estimate.rateCPerMin < 0;
  if (turned) return fresh;
  const arrives = form === 'there' || before.form === 'there';
  if (arrives && phase.heading !== 'hold') return fresh;
  if (form === before.form) {
    const isDue = (estimate.etaS ?? 0) < SECONDS_UP_TO_S || atMs - before.takenAtMs >= FIGURES_EVERY_MS;
    return isDue ? fresh : { ...before, wrongSinceMs: null };
  }
  const wrongSinceMs = before.wrongSinceMs ?? atMs;
  const afterMs = CLAIMS[form] > CLAIMS[before.form] ? SURER_AFTER_MS : HELD_MS;
  return atMs - wrongSinceMs >= afterMs ? fresh : { ...before, wrongSinceMs };
}
