/**
 * The page's voice: rings for the worst alarm that wants to be heard, chimes once for a cue. What it is to ring for it is told; whether it
 * is heard, the speaker knows.
 */
import { isSounding } from './sound/audible.ts';
import { speaker } from './sound/speaker.ts';
import type { Stop } from './sound/sound-on.ts';
import type { Urgency } from './sound/voices.ts';

export type { Urgency } from './sound/voices.ts';

export class Sound {
  /** By bowl. */
  readonly #wanted = new Map<string, Urgency | null>();
  #ringing: Urgency | null = null;
  #stop: Stop = () => {};
  #wasOn = false;

  constructor() {
    // Armed, or given back by the browser, while an alarm stands: it rings from here on.
    speaker.subscribe(() => {
      if (this.isOn() !== this.#wasOn) this.#ringAgain();
    });
  }

  /** Sound was asked for here, and nothing known keeps it from sounding. */
  isOn(): boolean {
    return isSounding(speaker.state);
  }

  /** Must be called from a tap. Plays the test tone; false where the browser will not let it sound. */
  turnOn(): Promise<boolean> {
    return speaker.turnOn();
  }

  turnOff(): Promise<void> {
    return speaker.turnOff();
  }

  chime(): void {
    if (this.isOn()) speaker.play('cue');
  }

  /** Rings on until told otherwise, for the worst that any bowl wants; null is silence. Told the same again, it goes on as it was. */
  ring(urgency: Urgency | null, bowl: string): void {
    this.#wanted.set(bowl, urgency);
    const all = [...this.#wanted.values()];
    const worst = all.find((each) => each === 'critical') ?? all.find((each) => each !== null) ?? null;
    if (worst === this.#ringing) return;
    this.#ringing = worst;
    this.#ringAgain();
  }

  #ringAgain(): void {
    this.#stop();
    this.#wasOn = this.isOn();
    this.#stop = this.#ringing === null || !this.isOn() ? () => {} : speaker.repeat(this.#ringing);
  }
}
