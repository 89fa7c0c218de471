/**
 * A clock moved by hand in the place of the process's timers: hours go by in seconds, and in the same order every time.
 * File operations and streams stay the real ones and are waited for before time goes on.
 */

interface Timer {
  dueMs: number;
  readonly everyMs: number | null;
  readonly act: () => void;
}

/** What `setTimeout` gives back, as far as anybody here uses it. */
interface Handle {
  ref(): Handle;
  unref(): Handle;
  hasRef(): boolean;
  refresh(): Handle;
}

/** A real one from before, whatever stands in its place now. */
const turnOver = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
/** A promise, a tick and a stream's turn may follow one another; more than this nothing here needs (ours). */
const QUIET_TURNS = 3;

export class VirtualTime {
  #nowMs = 0;
  readonly #timers = new Map<object, Timer>();
  readonly #real = { setTimeout, clearTimeout, setInterval, clearInterval };

  /** Until `remove`, all timers set by anybody in this process are ours. */
  install(): void {
    const later = (act: (...words: unknown[]) => void, ms = 0, ...words: unknown[]): Handle =>
      this.#set(() => act(...words), ms, null);
    const often = (act: (...words: unknown[]) => void, ms = 0, ...words: unknown[]): Handle =>
      this.#set(() => act(...words), ms, Math.max(1, ms));
    const clear = (handle: object | undefined): void => void (handle && this.#timers.delete(handle));
    Object.assign(globalThis, { setTimeout: later, setInterval: often, clearTimeout: clear, clearInterval: clear });
  }

  remove(): void {
    Object.assign(globalThis, this.#real);
    this.#timers.clear();
  }

  nowMs(): number {
    return this.#nowMs;
  }

  /** Timers that wait. */
  get waiting(): number {
    return this.#timers.size;
  }

  /** Time goes on to this moment, ms, by way of every timer that is due until then. */
  async run(toMs: number): Promise<void> {
    await settled();
    for (let next = this.#next(toMs); next !== null; next = this.#next(toMs)) {
      const [handle, timer] = next;
      this.#nowMs = Math.max(this.#nowMs, timer.dueMs);
      if (timer.everyMs === null) this.#timers.delete(handle);
      else timer.dueMs += timer.everyMs;
      timer.act();
      await settled();
    }
    this.#nowMs = Math.max(this.#nowMs, toMs);
  }

  /** Time goes on, in steps, until it holds, and for `mostMs` at most. Gives whether it does. */
  async runUntil(holds: () => boolean, mostMs: number, stepMs = 10): Promise<boolean> {
    const lastMs = this.#nowMs + mostMs;
    while (!holds() && this.#nowMs < lastMs) await this.run(this.#nowMs + stepMs);
    return holds();
  }

  #set(act: () => void, ms: number, everyMs: number | null): Handle {
    const dueIn = (): number => this.#nowMs + Math.max(1, ms);
    const timer: Timer = { dueMs: dueIn(), everyMs, act };
    const handle: Handle = {
      ref: () => handle,
      unref: () => handle,
      hasRef: () => true,
      refresh: () => {
        timer.dueMs = dueIn();
        return handle;
      },
    };
    this.#timers.set(handle, timer);
    return handle;
  }

  #next(toMs: number): readonly [object, Timer] | null {
    let next: readonly [object, Timer] | null = null;
    for (const [handle, timer] of this.#timers) {
      if (timer.dueMs <= toMs && (next === null || timer.dueMs < next[1].dueMs)) next = [handle, timer];
    }
    return next;
  }
}

/** Everything that was begun is done: no file is waited for, and the loop has gone round. */
async function settled(): Promise<void> {
  for (let quiet = 0; quiet < QUIET_TURNS; quiet++) {
    await turnOver();
    if (process.getActiveResourcesInfo().some((what) => what.startsWith('FSReq'))) quiet = -1;
  }
}
