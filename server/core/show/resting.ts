/**
 * A bowl left overnight rings nobody at three. Where nobody has told Bowlside anything for an hour, and the bowl rests, alarms stay on
 * the page and nothing sounds. The rule and its numbers are ours.
 *
 * A bowl rests while it is below the floor of the work and neither warms nor falls faster than a bowl in a room does. Falling silent, a
 * resting one goes on resting; any other only after ten minutes of it: who dips for an hour and taps nothing still hears that the plug
 * came out. What is critical sounds on.
 */
import type { RunEvent } from '../record/event.ts';
import type { Profile } from '../record/profile.ts';
import type { ActiveAlarm } from './view.ts';
import type { NowMessage } from './wire.ts';

/** Nobody has told Bowlside anything for so long, ms. Ours. */
export const UNTENDED_MS = 60 * 60_000;
/** A silence so long counts as rest, ms. Ours. */
export const SILENT_MS = 10 * 60_000;
/** Warming faster than this it is on some heat, °C/min; falling faster it stands in some cold. Ours. */
export const WARMING_C_PER_MIN = 0.05;
export const FALLING_C_PER_MIN = 0.1;

export interface Bowl {
  /** Feed clock of the last thing that a person told Bowlside. */
  readonly tendedAtMs: number;
  readonly profile: Profile;
  readonly alarms: readonly ActiveAlarm[];
  readonly now: Pick<NowMessage, 'atMs' | 'stale' | 'reading' | 'estimate'>;
}

/** `before`: what was found last time. */
export function isLeftAlone(before: boolean, { tendedAtMs, profile, alarms, now }: Bowl): boolean {
  if (now.atMs - tendedAtMs < UNTENDED_MS) return false;
  if (alarms.some((alarm) => alarm.severity === 'critical' && !alarm.acknowledged)) return false;
  if (now.stale || now.estimate === null) return before || now.atMs - (now.reading?.atMs ?? tendedAtMs) >= SILENT_MS;
  const { tempC, rateCPerMin } = now.estimate;
  return tempC < workingFloorC(profile) && rateCPerMin <= WARMING_C_PER_MIN && rateCPerMin >= -FALLING_C_PER_MIN;
}

/** Of the working phase; of a profile without one, the lowest of its bands. */
function workingFloorC({ phases }: Profile): number {
  const work = phases.findLast(({ heading }) => heading === 'hold');
  return work === undefined ? Math.min(...phases.map(({ bandC }) => bandC[0])) : (work.floorC ?? work.bandC[0]);
}

/** Whether a person stands behind it: an act, a tap on an alarm, a step by hand, a setting. */
export function isByPerson(event: RunEvent): boolean {
  switch (event.kind) {
    case 'act':
    case 'alarm-acknowledged':
    case 'alarm-quietened':
    case 'correction-changed':
    case 'role-changed':
      return true;
    case 'phase-entered':
      return event.by === 'hand';
    default:
      return false;
  }
}
