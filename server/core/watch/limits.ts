/** The alarms that the estimate itself raises: over a ceiling, under a floor, past the lost line, turned up too early. */
import type { Bowl } from '../bowl/stretch.ts';
import type { AlarmName, CueName } from '../record/event.ts';
import { nearEdgeC } from '../show/course.ts';
import { lowestLostC } from '../show/profile-limits.ts';
import { isRaised, tend } from './alarms.ts';
import type { Condition } from './alarms.ts';
import { armedCeiling, armedFloor, armedLostC } from './armed.ts';
import type { Bound } from './armed.ts';
import {
  DEAD_BAND_C,
  ON_DELAY_MS,
  TOP_UP_MS,
  TURNED_UP_C,
  TURNED_UP_C_PER_S,
  TURNED_UP_SURELY_C,
  UNSURE_C,
} from './bounds.ts';
import { giveCue } from './cues.ts';
import { enterRecovery } from './phases.ts';
import { setStanding } from './standing.ts';
import { currentPhase } from './watch.ts';
import type { Turn } from './watch.ts';

export function watchLimits(turn: Turn, bowl: Bowl, tempC: number): void {
  const { profile, watch } = turn;
  const ceiling = armedCeiling(profile, watch);
  const floor = armedFloor(profile, watch);
  const unsureC = Math.min(UNSURE_C, bowl.tempSdC);
  over(turn, 'scorch', ceiling, tempC, unsureC, ON_DELAY_MS.scorch);
  over(turn, 'overshoot', ceiling, tempC, unsureC, ON_DELAY_MS.overshoot);
  under(turn, 'undershoot', floor, tempC, ON_DELAY_MS.undershoot);
  under(turn, 'below-working', floor, tempC, ON_DELAY_MS['below-working']);
  turnedUp(turn, bowl, tempC);
  lost(turn, tempC);
}

/** The shortest way back from each alarm, told with it: the last step, the strip test, when an overshoot is over. */
const RECOVERY: Readonly<Partial<Record<AlarmName, CueName>>> = {
  overshoot: 'stir-down',
  'temper-lost': 'cool-again',
  'not-cooled-enough': 'cool-again',
  undershoot: 'warm-gently',
  'below-working': 'warm-gently',
};

function recover(turn: Turn, alarm: AlarmName, raised: boolean): void {
  const isOver = !raised && alarm === 'overshoot' && turn.watch.standing !== 'lost';
  const cue = raised ? RECOVERY[alarm] : isOver ? 'strip-test' : undefined;
  if (cue !== undefined) giveCue(turn, cue, null);
}

/** Lets an alarm live on or end by its condition. Skips the common case, nothing on and nothing remembered, at no cost. */
export function look(turn: Turn, condition: Condition): void {
  if (!condition.on && turn.watch.alarms[condition.alarm] === undefined) return;
  const before = isRaised(turn.watch.alarms, condition.alarm);
  turn.watch.alarms = tend(turn.watch.alarms, condition, turn.atMs, currentPhase(turn).id, (body) => turn.say(body));
  const after = isRaised(turn.watch.alarms, condition.alarm);
  if (before !== after) recover(turn, condition.alarm, after);
}

/** A ceiling counts as crossed once the estimate cannot be told from it. */
function over(
  turn: Turn,
  alarm: AlarmName,
  bound: Bound | null,
  tempC: number,
  unsureC: number,
  onDelayMs: number,
): void {
  const mine = bound !== null && bound.alarm === alarm;
  if (!mine && turn.watch.alarms[alarm] === undefined) return;
  const limitC = mine ? bound.limitC : null;
  const on = limitC !== null && tempC + unsureC > limitC;
  if (!on && turn.watch.alarms[alarm] === undefined) return;
  const off = limitC === null || tempC <= limitC - DEAD_BAND_C;
  look(turn, { alarm, on, off, onDelayMs, valueC: tempC, limitC, worse: 'higher' });
}

function under(turn: Turn, alarm: AlarmName, bound: Bound | null, tempC: number, onDelayMs: number): void {
  const mine = bound !== null && bound.alarm === alarm;
  if (!mine && turn.watch.alarms[alarm] === undefined) return;
  const limitC = mine ? bound.limitC : null;
  const on = limitC !== null && tempC < limitC;
  if (!on && turn.watch.alarms[alarm] === undefined) return;
  const off = limitC === null || tempC >= limitC + DEAD_BAND_C;
  look(turn, { alarm, on, off, onDelayMs, valueC: tempC, limitC, worse: 'lower' });
}

/**
 * Turned upward before the seeding band was reached, or out of it again before the seed had its time. Where it may have had that while
 * nobody saw the bowl, the step does not count as made, but that it was left out is not said either.
 */
function turnedUp(turn: Turn, bowl: Bowl, tempC: number): void {
  const { watch } = turn;
  const phase = currentPhase(turn);
  const watched = phase.heading === 'down' && watch.lowestC !== null;
  if (!watched && watch.alarms['not-cooled-enough'] === undefined) return;
  const lowestC = watch.lowestC ?? tempC;
  const fromC = Math.max(lowestC, watched ? nearEdgeC(phase) : lowestC);
  const toppedUp = watch.toppedUpAtMs !== null && turn.atMs - watch.toppedUpAtMs < TOP_UP_MS;
  const rising = bowl.rateCPerS > TURNED_UP_C_PER_S && bowl.rateCPerS > bowl.rateSdCPerS;
  const turned = tempC >= fromC + (rising ? TURNED_UP_C : TURNED_UP_SURELY_C);
  const on = watched && !toppedUp && !watch.perhapsKept && turned;
  const off = !watched || tempC <= fromC + DEAD_BAND_C;
  const limitC = nearEdgeC(phase);
  look(turn, {
    alarm: 'not-cooled-enough',
    on,
    off,
    onDelayMs: ON_DELAY_MS['not-cooled-enough'],
    valueC: lowestC,
    limitC,
    worse: 'lower',
  });
}

/** By the estimate alone and by the profile's limit alone: then the recovery phase is entered. */
function lost(turn: Turn, tempC: number): void {
  const limitC = armedLostC(turn.profile, turn.watch);
  const before = isRaised(turn.watch.alarms, 'temper-lost');
  if (limitC === null && !before) return;
  const clearBelowC = (limitC ?? lowestLostC(turn.profile) ?? Infinity) - DEAD_BAND_C;
  look(turn, {
    alarm: 'temper-lost',
    on: limitC !== null && tempC >= limitC,
    off: tempC <= clearBelowC,
    onDelayMs: ON_DELAY_MS['temper-lost'],
    valueC: tempC,
    limitC,
    worse: 'higher',
  });
  if (!before && isRaised(turn.watch.alarms, 'temper-lost')) {
    setStanding(turn, 'lost', 'above-lost');
    enterRecovery(turn);
  }
}
