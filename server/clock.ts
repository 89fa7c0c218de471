/** The feed's one clock: what every source, command and tick is stamped with. It knows nothing of dates. */
import { uptime } from 'node:os';
import type { Clock } from './source/source.ts';

/** Two clocks of the machine: a fine one that stands still while it sleeps, and a coarse one that does not. Neither can be set. */
export interface MachineClocks {
  awakeMs(): number;
  upMs(): number;
}

const MACHINE: MachineClocks = { awakeMs: () => performance.now(), upMs: () => uptime() * 1000 };

/** When the two drift further apart than this at once, the machine has slept, ms (ours: some systems tell their uptime in whole seconds). */
const SLEPT_MS = 5_000;

/** A monotonic clock in whole milliseconds that stands at `startAtMs` now. Chocolate goes on cooling while a laptop sleeps, and so does it. */
export function feedClock(startAtMs: number, machine: MachineClocks = MACHINE): Clock {
  const awakeAtStartMs = machine.awakeMs();
  const upAtStartMs = machine.upMs();
  let sleptMs = 0;
  return {
    nowMs() {
      const awakeMs = machine.awakeMs() - awakeAtStartMs;
      const asleepMs = machine.upMs() - upAtStartMs - awakeMs;
      if (asleepMs > sleptMs + SLEPT_MS) sleptMs = asleepMs;
      return startAtMs + Math.floor(awakeMs + sleptMs);
    },
  };
}

/**
 * Where the clock has to stand for a run that goes on after the server was away: as far after its last input as the wall clock has moved.
 * A wall clock that was set back meanwhile gives no gap rather than a negative one; an unreadable label counts as now.
 */
export function clockAfterGap(lastAtMs: number, lastAtWall: string, nowWallMs: number): number {
  const lastWallMs = Date.parse(lastAtWall);
  const gapMs = Number.isNaN(lastWallMs) ? 0 : nowWallMs - lastWallMs;
  return lastAtMs + Math.max(0, Math.round(gapMs));
}
