/**
 * The strip test as a step: a knife tip is dipped, laid down, and looked at after four minutes. Here is how long and how often, and
 * what the answers mean. That a strip was laid is an act of the run: every screen counts the same minutes, also after a reload. Pure.
 */
import type { Act } from '../server/core/record/command.ts';
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
  /** Of the mark that says it was laid: struck out, the test is given up. */
  readonly id: string;
  /** Feed clock. */
  readonly laidAtMs: number;
  readonly lookAtMs: number;
  /** It was tacky at the first look. */
  readonly isSecondLook: boolean;
}

export type StripLook = 'glossy' | 'streaks' | 'tacky';

/** The strip that lies there by what was noted; null: none, or one that tells nothing any more of what is in the bowl. */
export function stripLying(view: View): StripTest | null {
  const { marks, ended } = view;
  if (ended !== null) return null;
  const told = marks.flatMap((mark) => (mark.kind === 'act' && isOfStrip(mark.act) ? [mark] : []));
  const laid = told.findLast(({ act }) => act === 'strip-laid');
  const last = told.at(-1);
  if (laid === undefined || last === undefined || isStripTest(last.act)) return null;
  const { id, atMs: laidAtMs } = laid;
  if (isFromBefore(laidAtMs, view)) return null;
  if (last === laid) return { id, laidAtMs, lookAtMs: laidAtMs + SETS_IN_MS, isSecondLook: false };
  return { id, laidAtMs, lookAtMs: last.atMs + ONCE_MORE_MS, isSecondLook: true };
}

/** Of chocolate that has been too warm, or too cool for long, since it was laid: glossy as it may set, it knows nothing of that. */
function isFromBefore(laidAtMs: number, view: View): boolean {
  const { standing } = view;
  if (standing?.standing === 'lost') return true;
  return laidAtMs < lastOverMs(view) || (standing?.standing === 'at-risk' && laidAtMs < standing.atMs);
}

/** When it last went over the working ceiling, feed clock; -Infinity: it never did. */
function lastOverMs({ alarms, pastAlarms }: Pick<View, 'alarms' | 'pastAlarms'>): number {
  const over = [...alarms, ...pastAlarms].filter(({ alarm }) => alarm === 'overshoot');
  return Math.max(-Infinity, ...over.map(({ raisedAtMs }) => raisedAtMs));
}

/**
 * In temper as far as we can tell, but over the ceiling since that was said or tested, however short it was: its alarm asked for a strip test. Or
 * made again out of chocolate that had lost it, and not tested since.
 */
export function isTestOwed(view: View): boolean {
  const { standing, marks } = view;
  if (standing?.standing !== 'in-temper') return false;
  const test = marks.findLast((mark) => mark.kind === 'act' && isStripTest(mark.act));
  const testedMs = test?.atMs ?? -Infinity;
  if (standing.why === 'made-again') return testedMs < Math.max(standing.atMs, lastOverMs(view));
  return lastOverMs(view) > Math.max(standing.atMs, testedMs);
}

/** Nothing is dipped that is not in temper, as far as we can tell, or waits for the strip test that was asked for. */
export function mayDip(view: View): boolean {
  return view.standing?.standing === 'in-temper' && !isTestOwed(view);
}

function isOfStrip(act: Act): boolean {
  return act.startsWith('strip-');
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

/** A step on the way to a verdict. */
export function isStripStep(act: Act | null): boolean {
  return act === 'strip-laid' || act === 'strip-tacky';
}

export function isStripTest(act: Act): boolean {
  return act === 'strip-test-good' || act === 'strip-test-bad';
}
