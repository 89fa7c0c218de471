/** One believed estimate, judged: bounds first, then the walk through the profile, the temper, and on a half-second grid the course. */
import type { Bowl } from '../bowl/stretch.ts';
import { lowestLostC } from '../show/profile-limits.ts';
import { clear } from './alarms.ts';
import { DEAD_BAND_C, LONGEST_DOSE_S } from './bounds.ts';
import { cueCourse, giveCue } from './cues.ts';
import { foretell } from './foretell.ts';
import { watchLimits } from './limits.ts';
import { followPhase } from './phases.ts';
import { followStanding } from './standing.ts';
import { currentPhase } from './watch.ts';
import type { Turn } from './watch.ts';

/** The forecast is looked at on this grid, counted from the run's first input, milliseconds (invariant 8). */
const GRID_MS = 500;

export function judge(turn: Turn, bowl: Bowl, tempC: number, startedAtMs: number): void {
  const { watch } = turn;
  noteCoolEnough(turn, tempC);
  const { judgedAtMs, bandReached } = watch;
  watchLimits(turn, bowl, tempC);
  followPhase(turn, tempC, bowl.tempSdC);
  const dtS = judgedAtMs === null ? 0 : Math.min(LONGEST_DOSE_S, (turn.atMs - judgedAtMs) / 1000);
  followStanding(turn, tempC, dtS);
  if (watch.bandReached && !bandReached && currentPhase(turn).heading === 'down') {
    giveCue(turn, 'hold-there', bowl);
  }
  const gridAt = Math.floor((turn.atMs - startedAtMs) / GRID_MS);
  if (gridAt > watch.gridAt) {
    cueCourse(turn, bowl, tempC);
    foretell(turn, bowl, tempC);
  }
  watch.judgedAtMs = turn.atMs;
  watch.gridAt = gridAt;
}

function noteCoolEnough(turn: Turn, tempC: number): void {
  if (turn.watch.coolEnough || !turn.watch.seeded) return;
  const lostC = lowestLostC(turn.profile);
  turn.watch.coolEnough = lostC !== null && tempC <= lostC - DEAD_BAND_C;
}

/** Ends the alarm that said nothing was heard, or that the probe was out, as soon as that is no longer so. */
export function endProbeAlarm(turn: Turn, alarm: 'probe-silent' | 'probe-lifted'): void {
  turn.watch.alarms = clear(turn.watch.alarms, alarm, turn.atMs, (body) => turn.say(body));
}
