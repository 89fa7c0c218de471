/** Setting and resting by the clock: how long the pieces are left, and from when they can be judged. All moments are of the wall clock, ms. Pure. */
import type { Setting, SettingPlace } from '../server/core/record/card.ts';
import type { Profile } from '../server/core/record/profile.ts';
import type { RunInfo } from '../server/core/show/wire.ts';
import type { RunLine } from './run-list.ts';

/**
 * Minutes to choose from. In cool moving air 10 to 30 (design: the job, 8); how long a room takes depends on the room and the piece, these
 * are ours.
 */
export const SETTING_MINUTES: Readonly<Record<SettingPlace, readonly number[]>> = {
  'cool-air': [10, 15, 20, 30],
  room: [30, 45, 60, 90],
};

const MIN_MS = 60_000;
/** Gloss and snap are judged after a day (`domain.md` §3: common practice). */
const REST_MS = 24 * 60 * MIN_MS;
/** A timer is offered so long after the end of a run (ours: later the pieces have set long ago). */
const OFFERED_MS = 6 * 60 * MIN_MS;

export type Rest =
  /** Nobody has said how it is left to set. */
  | { readonly kind: 'unsaid' }
  | { readonly kind: 'setting'; readonly leftS: number; readonly share: number; readonly untilMs: number }
  /** `isNextDay`: a night has passed, so judging is offered. */
  | { readonly kind: 'resting'; readonly setAtMs: number; readonly restedAtMs: number; readonly isNextDay: boolean }
  | { readonly kind: 'rested'; readonly setAtMs: number };

/** How it stands now with a run that ended then. Without a timer it is taken to have set when the run ended. */
export function restOf(setting: Setting | null, endedAtMs: number, nowMs: number): Rest {
  if (setting === null && nowMs - endedAtMs < OFFERED_MS) return { kind: 'unsaid' };
  const setAtMs = setting === null ? endedAtMs : Date.parse(setting.startedAtWall) + setting.minutes * MIN_MS;
  if (setting !== null && nowMs < setAtMs) {
    const wholeMs = setting.minutes * MIN_MS;
    // The way of an answer can make a clock seem to stand a little before the start.
    const leftMs = Math.min(wholeMs, setAtMs - nowMs);
    return { kind: 'setting', leftS: leftMs / 1000, share: 1 - leftMs / wholeMs, untilMs: setAtMs };
  }
  const restedAtMs = setAtMs + REST_MS;
  if (nowMs >= restedAtMs) return { kind: 'rested', setAtMs };
  return { kind: 'resting', setAtMs, restedAtMs, isNextDay: dayOf(nowMs) !== dayOf(setAtMs) };
}

/** Whether chocolate came so far that pieces were made of it: of any other bowl there is nothing to set. */
export function wasWorked({ phases }: Profile, visits: readonly { readonly phase: string }[]): boolean {
  return visits.some(({ phase }) => phases.find(({ id }) => id === phase)?.heading === 'hold');
}

/** Whether the timer is still told of: it goes on, and rings, though somebody has judged the pieces before. */
export function isTimed(setting: Setting | null, rest: Rest): boolean {
  return setting !== null && (rest.kind === 'setting' || rest.kind === 'resting');
}

/** The wall clock of a moment of a run on the feed's clock. */
export function wallAt(info: Pick<RunInfo, 'startedAtWall' | 'startedAtMs'>, atMs: number): number {
  return Date.parse(info.startedAtWall) + (atMs - info.startedAtMs);
}

/** Whether judging is offered rather than only possible. */
export function isToJudge(rest: Rest): boolean {
  return rest.kind === 'rested' || (rest.kind === 'resting' && rest.isNextDay);
}

/** As a list of many runs sees it: ended, not judged, a day's rest behind it, and not so long ago that nobody will (ours: a week). */
export function isWaitingForVerdict(
  run: Pick<RunLine, 'endedAtMs' | 'beganAtWall' | 'durationMs' | 'verdict' | 'simulated'>,
  nowMs: number,
): boolean {
  if (run.endedAtMs === null || run.verdict !== null || run.simulated) return false;
  const restedMs = nowMs - (Date.parse(run.beganAtWall) + run.durationMs);
  return restedMs >= REST_MS && restedMs < 8 * REST_MS;
}

/** The viewer's own day. */
function dayOf(atMs: number): string {
  return new Date(atMs).toDateString();
}
