/** When the backup of a night is due, by the wall clock, and the looking whether it is. A night that was missed is made up for. */

import type { Backups } from './backups.ts';
import type { Store } from '../store/store.ts';

/** A quiet hour by the clock on the wall: 03:30 (ours: kitchens are empty. Where the clocks are put on over it, it is an
 * hour later that night; where they are put back over it, it is the first of the two). */
const QUIET = { hour: 3, minute: 30 } as const;
/** Looked at so often, and not again for so long after one that failed, ms (ours). */
const LOOK_EVERY_MS = 60_000;
const AGAIN_AFTER_MS = 3_600_000;

/** The last quiet hour that has come, ms of the wall clock, in the time of this machine. */
export function lastQuietMs(nowWallMs: number): number {
  const quiet = quietOn(nowWallMs);
  if (quiet.getTime() > nowWallMs) quiet.setDate(quiet.getDate() - 1);
  return quiet.getTime();
}

/** The next one. */
export function nextQuietMs(nowWallMs: number): number {
  const quiet = quietOn(nowWallMs);
  if (quiet.getTime() <= nowWallMs) quiet.setDate(quiet.getDate() + 1);
  return quiet.getTime();
}

function quietOn(wallMs: number): Date {
  const quiet = new Date(wallMs);
  quiet.setHours(QUIET.hour, QUIET.minute, 0, 0);
  return quiet;
}

/** Whether a night has gone by without a backup. One dated later than now says nothing: the clock was set back. */
export function isNightDue(nowWallMs: number, madeAtMs: readonly number[]): boolean {
  const quietMs = lastQuietMs(nowWallMs);
  return !madeAtMs.some((atMs) => atMs >= quietMs && atMs <= nowWallMs);
}

export interface NightlyOptions {
  readonly wallNowMs: () => number;
  /** When the nightly backups at hand were made, ms of the wall clock. */
  readonly madeAtMs: () => readonly number[];
  /** Whether there is anything to keep. */
  readonly isWorthIt: () => boolean;
  /** False: it failed. */
  readonly make: () => Promise<boolean>;
}

/** The nights of these backups, looked after; nobody is asked when one fails, so it is said. */
export function nightlyFor(
  backups: Backups,
  store: Pick<Store, 'runs'>,
  wallNowMs: () => number,
  say: (words: string) => void,
): Nightly {
  const make = async (): Promise<boolean> => {
    const answer = await backups.make('nightly');
    if (!answer.ok && answer.because !== 'given-up') say(answer.detail);
    return answer.ok;
  };
  return new Nightly({
    wallNowMs,
    madeAtMs: () => backups.nightsAtMs(),
    isWorthIt: () => hasRuns(store),
    make,
  });
}

/** A file that cannot be read is worth it too: then it is said that no backup can be made of it. */
function hasRuns(store: Pick<Store, 'runs'>): boolean {
  try {
    return store.runs({ most: 1, after: 0 }).total > 0;
  } catch {
    return true;
  }
}

/** Looks now and then; the first look, soon after the start, makes up for nights that were missed. */
export class Nightly {
  readonly #options: NightlyOptions;
  #notBeforeMs = -Infinity;
  #timer: NodeJS.Timeout | null = null;

  constructor(options: NightlyOptions) {
    this.#options = options;
  }

  start(): void {
    this.#timer = setInterval(() => void this.look(), LOOK_EVERY_MS);
    void this.look();
  }

  /** True: one was made. */
  async look(): Promise<boolean> {
    const { wallNowMs, madeAtMs, isWorthIt, make } = this.#options;
    const nowMs = wallNowMs();
    if (nowMs < this.#notBeforeMs || !isNightDue(nowMs, madeAtMs()) || !isWorthIt()) return false;
    // Also a guard against two at once.
    this.#notBeforeMs = nowMs + AGAIN_AFTER_MS;
    const isMade = await make();
    if (isMade) this.#notBeforeMs = -Infinity;
    return isMade;
  }

  stop(): void {
    if (this.#timer !== null) clearInterval(this.#timer);
    this.#timer = null;
  }
}
