/**
 * The strip test as a step: a knife tip is dipped, laid down, and looked at after four minutes. Here is how long and how often, and
 * what the answers mean; on the feed's clock, so that a page that is loaded again goes on where it was. Pure.
 */
import type { Act } from '../server/core/record/command.ts';
import type { Profile } from '../server/core/record/profile.ts';
import { firstDownIndex, phaseIndex } from '../server/core/show/course.ts';
import type { View } from '../server/core/show/view.ts';

/** A strip sets in 3 to 5 min at room temperature (common practice): it is looked at in the middle of that, and not before its start. */
export const SETS_IN_MS = 4 * 60_000;
const SOONEST_MS = 3 * 60_000;
/** A strip that is still tacky gets so much longer, once (ours: 6 min in all, where untempered stays tacky for 10 and more). */
const ONCE_MORE_MS = 2 * 60_000;
/** How often it wants doing while dipping, ms (the craft's "about every half hour"). */
export const EVERY_MS = 30 * 60_000;

/** A strip that lies there. */
export interface StripTest {
  readonly run: string;
  /** Feed clock. */
  readonly laidAtMs: number;
  readonly lookAtMs: number;
  /** It was tacky at the first look. */
  readonly isSecondLook: boolean;
}

export type StripLook = 'glossy' | 'streaks' | 'tacky';

export function layStrip(run: string, atMs: number): StripTest {
  return { run, laidAtMs: atMs, lookAtMs: atMs + SETS_IN_MS, isSecondLook: false };
}

/** The act that this look at the strip is; or the strip that is to be looked at once more. */
export function lookedAt(test: StripTest, look: StripLook, atMs: number): Act | StripTest {
  if (look === 'glossy') return 'strip-test-good';
  if (look === 'streaks' || test.isSecondLook) return 'strip-test-bad';
  return { ...test, lookAtMs: atMs + ONCE_MORE_MS, isSecondLook: true };
}

/** Whether it can say anything yet, and whether it is time. */
export function stripStage(test: StripTest, atMs: number): 'too-soon' | 'may-look' | 'look' {
  if (atMs >= test.lookAtMs) return 'look';
  return !test.isSecondLook && atMs - test.laidAtMs < SOONEST_MS ? 'too-soon' : 'may-look';
}

/** When the last strip test of the present visit to a phase was noted, feed clock; null: none. */
export function lastTestMs({ marks, visits }: View): number | null {
  const enteredAtMs = visits.at(-1)?.enteredAtMs ?? Infinity;
  const test = marks.findLast((mark) => mark.kind === 'act' && isStripTest(mark.act));
  return test === undefined || test.atMs < enteredAtMs ? null : test.atMs;
}

/** Worth offering: the chocolate is warm enough to dip and nothing has been tested yet, or the half hour is over. */
export function isTestDue(view: View, atMs: number, profile: Profile): boolean {
  const at = view.phase === null ? -1 : phaseIndex(profile, view.phase);
  const firstDown = firstDownIndex(profile);
  if (firstDown < 0 || at <= firstDown || view.ended !== null || view.standing?.standing === 'lost') return false;
  const isReached = view.visits.at(-1)?.reachedAtMs !== null;
  if (profile.phases[at]!.heading !== 'hold' && !isReached) return false;
  const lastMs = lastTestMs(view);
  return lastMs === null || view.cue?.cue === 'strip-test' || atMs - lastMs >= EVERY_MS;
}

export function isStripTest(act: Act): boolean {
  return act === 'strip-test-good' || act === 'strip-test-bad';
}

export function isStripTestKept(value: unknown): value is StripTest {
  if (typeof value !== 'object' || value === null) return false;
  const { run, laidAtMs, lookAtMs, isSecondLook } = value as Readonly<Record<string, unknown>>;
  const isTimed = Number.isFinite(laidAtMs) && Number.isFinite(lookAtMs);
  return typeof run === 'string' && isTimed && typeof isSecondLook === 'boolean';
}
