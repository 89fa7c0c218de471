/**
 * Whether the chocolate is in temper, as far as a thermometer can tell: an estimate, which the strip test overrules.
 *
 *   not-made-yet ──seeded and rewarmed──► in-temper ──over the ceiling, low for long──► at-risk
 *        ▲                                  │   ▲ strip test good                          │
 *        │ melted again          gap, forced│   │                                          │ lostAboveC
 *        └──────────── lost ◄───────────────┴ unproven ◄── strip test bad                  ▼ lost
 */
import type { Standing, StandingReason } from '../record/event.ts';
import { firstDownIndex } from '../show/course.ts';
import { armedCeiling, armedLostC } from './armed.ts';
import { LOW_MS, RISK_DOSE_C_S, RISK_MEMORY_S, UNSEEN_MS } from './bounds.ts';
import { currentPhase } from './watch.ts';
import type { Turn, Watch } from './watch.ts';

export function setStanding(turn: Turn, standing: Standing, why: StandingReason): void {
  if (turn.watch.standing === standing && turn.watch.why === why) return;
  turn.watch.standing = standing;
  turn.watch.why = why;
  turn.say({ kind: 'standing', standing, why });
}

/** What entering a phase says about the temper. Call after the watch stands in it. */
export function enterStanding(turn: Turn, by: 'reached' | 'hand' | 'recovery'): void {
  const down = firstDownIndex(turn.profile);
  if (down < 0) return;
  const { watch } = turn;
  if (watch.phase! < down) {
    watch.seeded = false;
    watch.coolEnough = false;
    if (watch.standing !== 'lost') setStanding(turn, 'not-made-yet', 'seed-not-made');
  } else if (by === 'hand' && watch.phase! > down) {
    enterByHand(turn);
  } else if (currentPhase(turn).heading === 'hold' && watch.seeded) {
    watch.doseCS = 0;
    setStanding(turn, 'in-temper', watch.wasLost ? 'made-again' : 'seeded-and-rewarmed');
  }
}

/** Temper that was seen made is not unmade by a step; temper that was not seen made is not made by one. */
function enterByHand(turn: Turn): void {
  const { watch } = turn;
  const seenMade = watch.standing === 'in-temper' || watch.standing === 'at-risk';
  if (seenMade || (watch.seeded && currentPhase(turn).heading !== 'hold')) return;
  setStanding(turn, 'unproven', watch.left === null ? 'started-tempered' : 'forced-step');
}

/** One believed estimate later. `dtS`: seconds since the estimate before. */
export function followStanding(turn: Turn, tempC: number, dtS: number): void {
  if (turn.watch.standing !== 'in-temper' && turn.watch.standing !== 'unproven') return;
  const lostC = armedLostC(turn.profile, turn.watch);
  if (lostC !== null && tempC >= lostC) setStanding(turn, 'at-risk', 'above-lost');
  else if (overDose(turn, tempC, dtS)) setStanding(turn, 'at-risk', 'over-ceiling');
  else if (lowForLong(turn, tempC)) setStanding(turn, 'at-risk', 'low-for-long');
}

/** Degrees over the working ceiling, summed over time, with a fading memory. */
function overDose(turn: Turn, tempC: number, dtS: number): boolean {
  const ceiling = armedCeiling(turn.profile, turn.watch);
  if (ceiling === null || ceiling.alarm !== 'overshoot') return false;
  const overC = Math.max(0, tempC - ceiling.limitC);
  if (overC === 0 && turn.watch.doseCS === 0) return false;
  const doseCS = turn.watch.doseCS * Math.exp(-dtS / RISK_MEMORY_S) + overC * dtS;
  turn.watch.doseCS = doseCS < 0.001 ? 0 : doseCS;
  return doseCS >= RISK_DOSE_C_S;
}

function lowForLong(turn: Turn, tempC: number): boolean {
  const phase = currentPhase(turn);
  if (phase.heading !== 'hold') return false;
  const low = tempC < (phase.bandC[0] + phase.bandC[1]) / 2;
  turn.watch.lowSinceMs = low ? (turn.watch.lowSinceMs ?? turn.atMs) : null;
  return turn.watch.lowSinceMs !== null && turn.atMs - turn.watch.lowSinceMs >= LOW_MS;
}

/** When nobody has seen the temper kept for too long; null where that changes nothing. */
export function unseenDeadlineMs({ standing, judgedAtMs }: Watch): number | null {
  return standing === 'in-temper' && judgedAtMs !== null ? judgedAtMs + UNSEEN_MS : null;
}

/** A person's strip test decides, except against a temperature at which no seed can be left. */
export function stripTest(turn: Turn, good: boolean, aboveLost: boolean): void {
  if (!good) return setStanding(turn, 'unproven', 'strip-test-bad');
  if (aboveLost) return;
  turn.watch.doseCS = 0;
  turn.watch.lowSinceMs = null;
  setStanding(turn, 'in-temper', 'strip-test-good');
}
