/**
 * The walk through the profile: reaching the near edge, dwelling there, entering the next phase.
 *
 *        near edge reached        stayed holdS          next phase
 *   up/down ──────────► dwelling ─────────────► satisfied ─────────► …  hold (never satisfied: a person ends it)
 *      ▲                    │ back over the edge, or 30 s without a reading
 *      └────────────────────┘
 */
import { firstDownIndex, nearEdgeC } from '../show/course.ts';
import { onLostIndex } from '../show/profile-limits.ts';
import type { Phase } from '../record/profile.ts';
import { CONFIRM_MS, CONFIRM_SD_C, DWELL_GAP_MS, DWELL_SLACK_C, FIRST_STRIP_MS, FALLEN_C, TURNED_C } from './bounds.ts';
import { enterStanding } from './standing.ts';
import { currentPhase } from './watch.ts';
import type { Turn, Watch } from './watch.ts';

export function enterPhase(turn: Turn, index: number, by: 'reached' | 'hand' | 'recovery'): void {
  const from = turn.watch.phase === null ? null : currentPhase(turn);
  const phase = turn.profile.phases[index]!;
  const keepsCourse = from !== null && from.heading !== 'down' && phase.heading !== 'down';
  const { watch } = turn;
  watch.left = watch.phase;
  watch.phase = index;
  watch.enteredAtMs = turn.atMs;
  watch.dwellSinceMs = null;
  watch.keptSinceMs = null;
  watch.perhapsKept = false;
  watch.bandReached = false;
  watch.turned = from === null;
  watch.highestC = null;
  watch.lowestC = null;
  watch.stalledSinceMs = null;
  watch.lowSinceMs = null;
  if (!keepsCourse) watch.cues = {};
  const tested = phase.heading === 'hold' && firstDownIndex(turn.profile) >= 0;
  watch.stripDueAtMs = tested ? turn.atMs + FIRST_STRIP_MS : null;
  turn.say({ kind: 'phase-entered', phase: phase.id, from: from?.id ?? null, by });
  enterStanding(turn, by);
}

export function enterRecovery(turn: Turn): void {
  turn.watch.seeded = false;
  turn.watch.coolEnough = false;
  turn.watch.wasLost = true;
  enterPhase(turn, onLostIndex(turn.profile), 'recovery');
}

/** One believed estimate, °C, with its standard deviation, later: has the direction turned, is the edge reached, has it been held long enough? */
export function followPhase(turn: Turn, tempC: number, tempSdC: number): void {
  const phase = currentPhase(turn);
  noteTurn(turn, phase, tempC);
  if (phase.heading === 'hold') return;
  const { watch } = turn;
  const keptMs = phase.holdS === undefined ? confirmMs(tempSdC) : Math.max(CONFIRM_MS, phase.holdS * 1000);
  watch.perhapsKept ||= watch.keptSinceMs !== null && turn.atMs - watch.keptSinceMs >= keptMs;
  const slackC = watch.dwellSinceMs === null || phase.holdS === undefined ? 0 : DWELL_SLACK_C;
  if (pastNearEdgeC(phase, tempC) < -slackC) {
    watch.dwellSinceMs = null;
    watch.keptSinceMs = null;
    return;
  }
  dwell(turn, phase, tempC, keptMs);
}

/** An estimate that is off by more is so for longer: it must stay reached while stirring takes as many turns as make it as sure. */
function confirmMs(tempSdC: number): number {
  return CONFIRM_MS * Math.max(1, (tempSdC / CONFIRM_SD_C) ** 2);
}

/** How far past the near edge on this phase's heading, °C; negative: not there yet. */
export function pastNearEdgeC(phase: Phase, tempC: number): number {
  return phase.heading === 'down' ? nearEdgeC(phase) - tempC : tempC - nearEdgeC(phase);
}

/** How far beyond the band on the way it goes, °C; negative: not out of it. */
export function pastFarEdgeC({ bandC: [lowC, highC] }: Phase, tempC: number, towards: 1 | -1): number {
  return towards === 1 ? tempC - highC : lowC - tempC;
}

/** The lowest point counts once the bowl has fallen by a degree: before that nobody has begun to cool it. */
function noteTurn(turn: Turn, phase: Phase, tempC: number): void {
  const { watch, profile } = turn;
  const left = watch.left === null ? undefined : profile.phases[watch.left];
  watch.turned ||= left === undefined || pastNearEdgeC(left, tempC) < -TURNED_C;
  watch.highestC = Math.max(watch.highestC ?? -Infinity, tempC);
  const fell = watch.lowestC !== null || tempC <= watch.highestC - FALLEN_C;
  const counts = phase.heading === 'down' && watch.turned && fell;
  watch.lowestC = counts ? Math.min(watch.lowestC ?? Infinity, tempC) : null;
}

/** A probe on its way out may have shown a low point that the bowl never had: it counts from here. */
export function forgetLowest(watch: Watch): void {
  watch.lowestC = null;
}

function dwell(turn: Turn, phase: Phase, tempC: number, keptMs: number): void {
  const { watch, atMs } = turn;
  const gap = watch.judgedAtMs !== null && atMs - watch.judgedAtMs > DWELL_GAP_MS;
  const sinceMs = gap ? atMs : (watch.dwellSinceMs ?? atMs);
  if (!watch.bandReached && phase.holdS !== undefined)
    turn.say({ kind: 'band-reached', phase: phase.id, valueC: tempC });
  watch.dwellSinceMs = sinceMs;
  watch.keptSinceMs ??= atMs;
  watch.bandReached = true;
  if (atMs - sinceMs < keptMs) return;
  if (phase.heading === 'down') watch.seeded = true;
  if (watch.phase! + 1 < turn.profile.phases.length) enterPhase(turn, watch.phase! + 1, 'reached');
}
