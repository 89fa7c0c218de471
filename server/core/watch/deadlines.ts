/**
 * What happens because nothing happened: silence, a probe left out, temper nobody has seen, a strip test due.
 * A tick only asks; each of these carries the moment at which it came true.
 */
import { outSinceMs } from '../bowl/belief.ts';
import type { Belief } from '../bowl/belief.ts';
import { isRaised } from './alarms.ts';
import { LIFTED_MS, SILENT_INTERVALS, SILENT_MS, STRIP_MS, STUCK_TOLD_MS } from './bounds.ts';
import { giveCue } from './cues.ts';
import { look } from './limits.ts';
import { setStanding, unseenDeadlineMs } from './standing.ts';
import type { Turn, Watch } from './watch.ts';

interface Deadline {
  readonly atMs: number;
  meet(turn: Turn): void;
}

/** The earliest thing that comes true by itself; null when nothing will. */
export function nextDeadline(watch: Watch, belief: Belief, startedAtMs: number): Deadline | null {
  if (watch.phase === null) return null;
  const all = [silent(watch, belief, startedAtMs), lifted(watch, belief), unseen(watch), strip(watch)];
  let first: Deadline | null = null;
  for (const one of all) if (one !== null && (first === null || one.atMs < first.atMs)) first = one;
  return first;
}

function silent(watch: Watch, belief: Belief, startedAtMs: number): Deadline | null {
  if (isRaised(watch.alarms, 'probe-silent')) return null;
  const silentMs = (belief.heardAtMs ?? startedAtMs) + Math.max(SILENT_MS, SILENT_INTERVALS * belief.usualMs);
  // One that only repeats itself says no more than one that says nothing, but may have stood still by chance.
  const atMs = belief.stuckSinceMs === null ? silentMs : Math.min(silentMs, belief.stuckSinceMs + STUCK_TOLD_MS);
  return { atMs, meet: (turn) => raise(turn, 'probe-silent') };
}

function lifted(watch: Watch, belief: Belief): Deadline | null {
  const sinceMs = outSinceMs(belief);
  if (sinceMs === null || isRaised(watch.alarms, 'probe-lifted')) return null;
  return { atMs: sinceMs + LIFTED_MS, meet: (turn) => raise(turn, 'probe-lifted') };
}

function raise(turn: Turn, alarm: 'probe-silent' | 'probe-lifted'): void {
  look(turn, { alarm, on: true, off: false, onDelayMs: 0, valueC: null, limitC: null, worse: 'higher' });
}

function unseen(watch: Watch): Deadline | null {
  const atMs = unseenDeadlineMs(watch);
  return atMs === null ? null : { atMs, meet: (turn) => setStanding(turn, 'unproven', 'gap') };
}

function strip(watch: Watch): Deadline | null {
  if (watch.stripDueAtMs === null || isRaised(watch.alarms, 'probe-silent')) return null;
  return {
    atMs: watch.stripDueAtMs,
    meet(turn) {
      turn.watch.stripDueAtMs = turn.atMs + STRIP_MS;
      giveCue(turn, 'strip-test', null);
    },
  };
}
