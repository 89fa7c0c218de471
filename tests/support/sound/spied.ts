/** A page whose sound is written down: each round it begins, when and for how long, and the browser's audio in the test's hands. */
import type { Page } from 'playwright-core';
import { VOICES } from '../../../web/sound/voices.ts';
import type { Urgency } from '../../../web/sound/voices.ts';

/** Clock times of this machine, ms; the same for all pages on it. */
export interface Round {
  readonly urgency: Urgency;
  readonly repeats: boolean;
  readonly beganAtMs: number;
  /** null: not stopped; a single round ends by itself. */
  readonly stoppedAtMs: number | null;
}

/** Runs in the page before it makes any sound. */
function spy(): void {
  const spied = { contexts: [] as AudioContext[], rounds: [] as object[], pressedAtMs: 0 };
  Object.assign(window, { spied });
  window.AudioContext = class extends AudioContext {
    constructor(options?: AudioContextOptions) {
      super(options);
      spied.contexts.push(this);
    }
  };
  const nowMs = (): number => performance.timeOrigin + performance.now();
  window.AudioBufferSourceNode = class extends AudioBufferSourceNode {
    readonly #round = { seconds: 0, repeats: false, beganAtMs: 0, stoppedAtMs: null as number | null };

    override start(): void {
      Object.assign(this.#round, { seconds: this.buffer!.duration, repeats: this.loop, beganAtMs: nowMs() });
      spied.rounds.push(this.#round);
      super.start();
    }

    override stop(): void {
      this.#round.stoppedAtMs = nowMs();
      super.stop();
    }
  };
  window.addEventListener('pointerup', () => (spied.pressedAtMs = nowMs()), true);
}

interface Spied {
  readonly contexts: readonly AudioContext[];
  readonly rounds: readonly { seconds: number; repeats: boolean; beganAtMs: number; stoppedAtMs: number | null }[];
  readonly pressedAtMs: number;
}

type SpiedWindow = Window & { readonly spied: Spied };

/** A page that has not sounded yet, from now on with its sound written down. Gone with a reload. */
export function spyOn(page: Page): Promise<void> {
  return page.evaluate(spy);
}

export async function rounds(page: Page): Promise<readonly Round[]> {
  const found = await page.evaluate(() => (window as unknown as SpiedWindow).spied.rounds);
  return found.map(({ seconds, ...round }) => ({ ...round, urgency: urgencyLasting(seconds) }));
}

/** What rings on now, in the order of its beginning. */
export async function ringingNow(page: Page): Promise<readonly Urgency[]> {
  const all = await rounds(page);
  return all.filter(({ repeats, stoppedAtMs }) => repeats && stoppedAtMs === null).map(({ urgency }) => urgency);
}

export function pressedAtMs(page: Page): Promise<number> {
  return page.evaluate(() => (window as unknown as SpiedWindow).spied.pressedAtMs);
}

/** As a browser does with a page it wants silent. */
export async function suspendSound(page: Page): Promise<void> {
  await page.evaluate(() => (window as unknown as SpiedWindow).spied.contexts.at(-1)!.suspend());
}

/** As after a screen lock: it says running, and its clock stands still. */
export async function freezeSound(page: Page): Promise<void> {
  await page.evaluate(() => {
    const context = (window as unknown as SpiedWindow).spied.contexts.at(-1)!;
    Object.defineProperty(context, 'currentTime', { value: context.currentTime });
  });
}

function urgencyLasting(seconds: number): Urgency {
  const urgencies = Object.keys(VOICES) as Urgency[];
  return urgencies.find((urgency) => Math.abs(VOICES[urgency].everyS - seconds) < 0.01)!;
}
