/** Since when the disk takes nothing of what is read, and why. */
import type { NowMessage } from '../core/show/wire.ts';
import { actAgainst } from '../store/problems.ts';
import type { StoreHealth } from '../store/records.ts';

export class Unrecorded {
  /** Feed clock; null: all is recorded. */
  #sinceMs: number | null = null;
  #why = '';

  /** Once for each trouble, by the feed's clock: a wall clock that is set meanwhile changes nothing in how long it is. */
  note(health: StoreHealth, nowMs: number, wallNowMs: number): void {
    this.#why = health.recording ? '' : causeAndAct(health.reason);
    if (health.recording) this.#sinceMs = null;
    else this.#sinceMs ??= nowMs - Math.max(0, wallNowMs - health.sinceWallMs);
  }

  get told(): Pick<NowMessage, 'unrecordedSinceMs' | 'unrecordedWhy'> {
    const unrecordedSinceMs = this.#sinceMs;
    return unrecordedSinceMs === null ? { unrecordedSinceMs } : { unrecordedSinceMs, unrecordedWhy: this.#why };
  }
}

/** The disk is full. Make room on it. */
function causeAndAct(reason: string): string {
  const cause = `${reason.charAt(0).toUpperCase()}${reason.slice(1)}.`;
  return `${cause} ${actAgainst(reason) ?? 'It is tried again by itself.'}`;
}
