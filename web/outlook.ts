/**
 * The live road: what is known of the run as the map draws it, with what is to be expected. At an act-now cue the way ahead forks:
 * the fan is what comes of leaving heat or cold now, the dashed line what comes of leaving it be. Pure.
 */
import type { FanBead } from '../server/core/bowl/estimate.ts';
import type { AlarmName } from '../server/core/record/event.ts';
import { beganAtMs } from '../server/core/show/view.ts';
import type { View } from '../server/core/show/view.ts';
import type { RunInfo } from '../server/core/show/wire.ts';
import type { LiveState } from './live.ts';
import { isLiveNumber, roadMarks } from './moment.ts';
import type { RoadModel } from './road/model.ts';
import { isLeavingDue } from './words/cue.ts';
import type { Moment } from './words/sentence.ts';

/** These alarms ask for what the cue asked for, and there is still time. */
const ASK_TO_LEAVE: ReadonlySet<AlarmName> = new Set<AlarmName>([
  'scorch-ahead',
  'overshoot-ahead',
  'undershoot-ahead',
]);

/** `alarm`: the road stands on the page of an alarm. */
export function liveRoad(state: LiveState, moment: Moment, info: RunInfo, alarm: boolean): RoadModel {
  const { view, curve } = state;
  return {
    profile: info.profile,
    phases: view.visits,
    curve,
    startedAtMs: beganAtMs(info, view.visits),
    nowMs: view.ended?.atMs ?? moment.atMs,
    live: view.ended !== null ? 'over' : isLiveNumber(state) ? 'live' : 'stale',
    estimate: moment.estimate,
    marks: roadMarks(view.marks),
    window: { kind: 'follow' },
    alarm,
    ...aheadOf(state, moment),
  };
}

/** The fan and, at a choice, the fork; neither from a number that is not live, and no fork from one that can't be told ahead. */
export function aheadOf(state: LiveState, moment: Moment): Pick<RoadModel, 'fan' | 'leftOn' | 'uncertain'> {
  const { view, now } = state;
  if (!isLiveNumber(state) || now === null || view.ended !== null) return { fan: [] };
  const uncertain = moment.unsure !== null;
  const isFork = !uncertain && isLeavingAsked(view, moment.atMs) && now.fan.length > 0 && now.fanIfLeft.length > 0;
  return isFork ? { fan: now.fanIfLeft, leftOn: now.fan, uncertain } : { fan: now.fan, uncertain };
}

/** What the dashed line of the fork is, for those who show it in words; null: no fork. */
export function leftOnOf(state: LiveState, moment: Moment): readonly FanBead[] | null {
  return aheadOf(state, moment).leftOn ?? null;
}

/** By the sentence at the top: an alarm speaks before the cue, and one that nobody has seen before one that somebody has. */
function isLeavingAsked({ alarms, cue }: View, atMs: number): boolean {
  const speaking = alarms.find((alarm) => !alarm.acknowledged) ?? alarms[0];
  if (speaking !== undefined) return ASK_TO_LEAVE.has(speaking.alarm) && !speaking.acknowledged;
  return cue !== null && isLeavingDue(cue, atMs);
}
