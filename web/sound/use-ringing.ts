/** Joins what the engine says to this screen's voice: rings for what wants to be heard, chimes once for a cue or a notice. */
import { useEffect, useRef } from 'preact/hooks';
import { ringing } from '../../server/core/show/ringing.ts';
import type { View } from '../../server/core/show/view.ts';
import type { LiveState } from '../live.ts';
import { carefulOf } from '../moment.ts';
import type { Sound, Urgency } from '../sound.ts';

/** `nowMs`: feed clock. */
export function useRinging(sound: Sound, state: LiveState, nowMs: number): void {
  const bowl = state.bowl ?? '';
  const wanted = wantedOf(state, nowMs);
  const newest = newestNotice(state.view);
  const chimedFor = useRef(newest);
  const isChimed = wanted === null && !isLeftAlone(state);
  useEffect(() => sound.ring(wanted, bowl), [sound, wanted, bowl]);
  useEffect(() => {
    if (newest > chimedFor.current && isChimed) sound.chime();
    chimedFor.current = newest;
  }, [sound, newest, isChimed]);
  useEffect(() => () => sound.ring(null, bowl), [sound, bowl]);
}

/** Nobody has been near for long and the bowl rests: nothing sounds (the server's word). */
export function isLeftAlone({ now }: Pick<LiveState, 'now'>): boolean {
  return now?.isLeftAlone === true;
}

function wantedOf(state: LiveState, nowMs: number): Urgency | null {
  if (carefulOf(state) !== null) return 'warning';
  if (isLeftAlone(state)) return null;
  const worst = ringing(state.view.alarms, nowMs)[0];
  if (worst === undefined) return null;
  return worst.severity === 'critical' ? 'critical' : 'warning';
}

/** Moment of the newest cue or notice; 0 where there is none. */
function newestNotice(view: View): number {
  const notices = view.alarms.filter((alarm) => alarm.severity === 'notice').map((alarm) => alarm.raisedAtMs);
  return Math.max(0, view.cue?.atMs ?? 0, ...notices);
}
