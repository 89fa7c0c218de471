/** Two to six runs laid over one another: which, aligned where, over what stretch, each as a line. Pure. */
import type { Card } from '../server/core/record/card.ts';
import type { Band } from '../server/core/record/profile.ts';
import { columnMs, isHole } from '../server/core/show/holes.ts';
import { curveOf } from '../server/core/show/account-curve.ts';
import type { Account, CurvePoint } from '../server/core/show/account.ts';
import { beganAtMs } from '../server/core/show/view.ts';
import type { View } from '../server/core/show/view.ts';
import { viewAt } from './playback.ts';
import type { OpenedRun } from './fetched.ts';
import { LAID_MOST } from './run-list.ts';
import { accountOfRun } from './run-account.ts';

/** As many as can be laid over one another. */
const LETTERS = 'ABCDEF';

export interface Laid {
  /** By which it is known on this page. */
  readonly letter: string;
  readonly run: OpenedRun;
  /** null: it could not be had. */
  readonly card: Card | null;
  readonly view: View;
  readonly account: Account;
  readonly curve: readonly CurvePoint[];
}

/** What the address names: each once, no more than can be told apart. */
export function runsIn(about: string): readonly string[] {
  return [...new Set(about.split(',').filter((run) => run !== ''))].slice(0, LAID_MOST);
}

export function layOver(opened: readonly { readonly run: OpenedRun; readonly card: Card | null }[]): readonly Laid[] {
  return opened.map(({ run, card }, i) => {
    const view = viewAt(run, Infinity);
    const curve = curveOf(run.tiles, view.pastAlarms);
    return { letter: LETTERS[i]!, run, card, view, account: accountOfRun(run, view), curve };
  });
}

/** Where lines are brought together: at the start of each run, or where each first entered a phase. */
export type Aligned = { readonly at: 'start' } | { readonly at: 'phase'; readonly phase: string };

/** Every phase that any of them entered, in the order of the first that did. */
export function phasesOf(laid: readonly Laid[]): readonly string[] {
  return [...new Set(laid.flatMap(({ view }) => view.visits.map(({ phase }) => phase)))];
}

/** Phases at which at least two can be brought together. */
export function alignablePhases(laid: readonly Laid[]): readonly string[] {
  return phasesOf(laid).filter(
    (phase) => laid.filter((each) => originOf(each, { at: 'phase', phase }) !== null).length > 1,
  );
}

/** The moment of a run that lies at nought, feed clock; null: it never entered that phase. */
export function originOf({ run, view }: Laid, aligned: Aligned): number | null {
  if (aligned.at === 'start') return beganAtMs(run.info, view.visits);
  return view.visits.find(({ phase }) => phase === aligned.phase)?.enteredAtMs ?? null;
}

/** So much is shown around a phase, ms (ours: how it was come to, and what came of it). */
const AROUND_MS = 5 * 60_000;
const PAST_C = 0.5;

/** From where to where, ms from the alignment, °C. */
export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
  readonly lowC: number;
  readonly highC: number;
}

export type Line = readonly CurvePoint[];

/** A run's line from its alignment on, within the stretch; null where the pen is lifted. */
export function lineOf(laid: Laid, aligned: Aligned, fromMs: number, toMs: number): Line {
  const origin = originOf(laid, aligned);
  if (origin === null) return [];
  const points: CurvePoint[] = [];
  const widthMs = columnMs(laid.curve);
  for (const [atMs, tempC] of laid.curve) {
    const at = atMs - origin;
    if (at < fromMs || at > toMs) continue;
    const last = points.at(-1);
    if (last !== undefined && isHole(at - last[0], widthMs)) points.push([last[0] + 1, null]);
    points.push([at, tempC]);
  }
  return points;
}

/** The lane drawn behind: the band of the phase, or that of the work, as the first run's profile has it. */
export function bandOf(laid: readonly Laid[], aligned: Aligned): Band | null {
  const phases = laid[0]?.run.info.profile.phases ?? [];
  if (aligned.at === 'phase') return phases.find(({ id }) => id === aligned.phase)?.bandC ?? null;
  return phases.findLast(({ heading }) => heading === 'hold')?.bandC ?? null;
}

export function stretchOf(laid: readonly Laid[], aligned: Aligned): Stretch {
  const lengths = laid.map((each) => lengthOf(each, aligned));
  const longestMs = Math.max(60_000, ...lengths);
  const [fromMs, toMs] = aligned.at === 'start' ? [0, longestMs] : [-AROUND_MS, longestMs + AROUND_MS];
  const values = laid.flatMap((each) => lineOf(each, aligned, fromMs, toMs).flatMap(([, tempC]) => tempC ?? []));
  const all = [...values, ...(bandOf(laid, aligned) ?? [])];
  const [lowC, highC] = all.length === 0 ? [0, 1] : [Math.min(...all), Math.max(...all)];
  return { fromMs, toMs, lowC: lowC - PAST_C, highC: highC + PAST_C };
}

/** Of the whole run, or of its first stay in the phase. */
function lengthOf({ account }: Laid, aligned: Aligned): number {
  if (aligned.at === 'start') return account.lastedS * 1000;
  return (account.stays.find(({ phase }) => phase === aligned.phase)?.lastedS ?? 0) * 1000;
}

/** Time in a phase, all stays in it together, s; null: never entered. */
export function phaseS({ account }: Laid, phase: string): number | null {
  const stays = account.stays.filter((stay) => stay.phase === phase);
  return stays.length === 0 ? null : stays.reduce((sum, { lastedS }) => sum + lastedS, 0);
}
