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
  /** Infinity: it will not come true by itself. */
  readonly dueMs: (watch: Readonly<Watch>, belief: Readonly<Belief>, startedAtMs: number) => number;
  readonly meet: (turn: Turn) => void;
}

/** A deadline that has passed, and its own moment. */
export interface Due {
  readonly atMs: number;
  readonly meet: (turn: Turn) => void;
}

/** The earliest thing that has come true by itself up to and including `toMs`; null where nothing has. */
export function nextDeadline(
  watch: Readonly<Watch>,
  belief: Readonly<Belief>,
  startedAtMs: number,
  toMs: number,
): Due | null {
  if (watch.phase === null) return null;
  let first: Deadline | null = null;
  let atMs = Infinity;
  for (const one of DEADLINES) {
    const dueMs = one.dueMs(watch, belief, startedAtMs);
    if (dueMs < atMs) [first, atMs] = [one, dueMs];
  }
  return first === null || atMs > toMs ? null : { atMs, meet: first.meet };
}

const silent: Deadline = {
  dueMs({ alarms }, { heardAtMs, usualMs, stuckSinceMs }, startedAtMs) {
    if (isRaised(alarms, 'probe-silent')) return Infinity;
    const silentMs = (heardAtMs ?? startedAtMs) + Math.max(SILENT_MS, SILENT_INTERVALS * usualMs);
    // One that only repeats itself says no more than one that says nothing, but may have stood still by chance.
    return stuckSinceMs === null ? silentMs : Math.min(silentMs, stuckSinceMs + STUCK_TOLD_MS);
  },
  meet: (turn) => raise(turn, 'probe-silent'),
};

const lifted: Deadline = {
  dueMs({ alarms }, belief) {
    const sinceMs = outSinceMs(belief);
    return sinceMs === null || isRaised(alarms, 'probe-lifted') ? Infinity : sinceMs + LIFTED_MS;
  },
  meet: (turn) => raise(turn, 'probe-lifted'),
};

function raise(turn: Turn, alarm: 'probe-silent' | 'probe-lifted'): void {
  look(turn, { alarm, on: true, off: false, onDelayMs: 0, valueC: null, limitC: null, worse: 'higher' });
}

const unseen: Deadline = {
  dueMs: (watch) => unseenDeadlineMs(watch) ?? Infinity,
  meet: (turn) => setStanding(turn, 'unproven', 'gap'),
};

const strip: Deadline = {
  dueMs: ({ stripDueAtMs, alarms }) =>
    stripDueAtMs === null || isRaised(alarms, 'probe-silent') ? Infinity : stripDueAtMs,
  meet(turn) {
    turn.watch.stripDueAtMs = turn.atMs + STRIP_MS;
    giveCue(turn, 'strip-test', null);
  },
};

/** Of several at one moment the first here comes first. */
const DEADLINES: readonly Deadline[] = [silent, lifted, unseen, strip];
