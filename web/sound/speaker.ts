/** The page's one speaker: off until a tap arms it, and then what sounds tells how it stands. That comes with what answers a hand. */
import { fetchAtHand } from '../part.tsx';
import type { SoundState } from './audible.ts';
import type { Loudspeaker } from './loudspeaker.ts';
import type { Stop } from './sound-on.ts';
import type { Urgency } from './voices.ts';

export class Speaker {
  #loud: Loudspeaker | null = null;
  readonly #listeners = new Set<() => void>();

  get state(): SoundState {
    return this.#loud?.state ?? 'off';
  }

  /** Calls back after every change of state; returns how to stop that. */
  subscribe(listener: () => void): Stop {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Has what sounds at hand: a tap is not to wait for it, for a browser may take that for no tap any more. */
  async fetch(): Promise<void> {
    const part = await fetchAtHand().catch(() => null);
    if (part === null) return;
    this.#loud ??= new part.Loudspeaker(() => {
      for (const listener of this.#listeners) listener();
    });
  }

  /** Must be called from a tap. Sounds the test; false where the browser will not let it, or what sounds can't be had. */
  async turnOn(): Promise<boolean> {
    if (this.#loud === null) await this.fetch();
    return this.#loud?.turnOn() ?? false;
  }

  async turnOff(): Promise<void> {
    await this.#loud?.turnOff();
  }

  /** What the person says to "Did you hear it?". */
  answer(heard: 'yes' | 'no'): void {
    this.#loud?.answer(heard);
  }

  /** One round. */
  play(urgency: Urgency): void {
    this.#loud?.play(urgency);
  }

  /** Round after round, louder after a while, until stopped. */
  repeat(urgency: Urgency): Stop {
    return this.#loud?.repeat(urgency) ?? (() => {});
  }
}

/** A page has one. */
export const speaker = new Speaker();
