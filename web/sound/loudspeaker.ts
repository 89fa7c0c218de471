/**
 * What sounds, once a tap has armed the speaker: tested by it, watched ever after. Plays rounds of a voice once or on and on, and always
 * knows whether it can be heard. Knows nothing of alarms. A repeating round loops inside the browser's audio, so that a page in the
 * background, whose timers are slowed down, rings on in time.
 */
import type { SoundState } from './audible.ts';
import type { Hearing, Output } from './hearing.ts';
import { SILENT, soundState } from './hearing.ts';
import { soundOn } from './sound-on.ts';
import type { Stop } from './sound-on.ts';
import type { Urgency } from './voices.ts';

/** How often it is looked at whether the audio's clock goes on, ms (ours: the pace of the page). */
const LOOK_EVERY_MS = 1_000;
/** A tap is followed so long for the audio to start, ms (ours: a tired telephone takes half a second). */
const STARTS_WITHIN_MS = 1_500;

export class Loudspeaker {
  readonly #changed: () => void;
  #context: AudioContext | null = null;
  #hearing: Hearing = SILENT;
  #seenAtS = 0;
  #repeating = 0;
  #watch: number | undefined;

  /** `changed` is called after every change of state. */
  constructor(changed: () => void) {
    this.#changed = changed;
  }

  get state(): SoundState {
    return soundState(this.#hearing);
  }

  /** Must be called from a tap. Sounds the test; false where the browser will not let it. */
  async turnOn(): Promise<boolean> {
    if (!this.#isTrusted()) this.#renew();
    this.#watch ??= window.setInterval(this.#lookAtClock, LOOK_EVERY_MS);
    for (const gesture of ['pointerup', 'keydown'] as const) window.addEventListener(gesture, this.#wake);
    document.addEventListener('visibilitychange', this.#wake);
    await this.#started();
    const output = this.#output();
    this.#change({ isWanted: true, output, isMoving: output === 'running', heard: null });
    // An alarm that rings by now is test enough.
    if (this.#repeating === 0) this.play('warning');
    return output === 'running';
  }

  async turnOff(): Promise<void> {
    this.#change({ isWanted: false, heard: null });
    window.clearInterval(this.#watch);
    this.#watch = undefined;
    for (const gesture of ['pointerup', 'keydown'] as const) window.removeEventListener(gesture, this.#wake);
    document.removeEventListener('visibilitychange', this.#wake);
    await this.#context?.suspend();
  }

  /** What the person says to "Did you hear it?". */
  answer(heard: 'yes' | 'no'): void {
    this.#change({ heard });
  }

  /** One round. */
  play(urgency: Urgency): void {
    this.#begin(urgency, false);
  }

  /** Round after round, louder after a while, until stopped. */
  repeat(urgency: Urgency): Stop {
    const stop = this.#begin(urgency, true);
    this.#repeating++;
    return () => {
      this.#repeating--;
      stop();
    };
  }

  #begin(urgency: Urgency, loop: boolean): Stop {
    const context = this.#context;
    if (context === null || context.state === 'closed') return () => {};
    return soundOn(context, urgency, loop);
  }

  /** A context that has stood still is not to be trusted again: after a screen lock it may say running and be silent for good. */
  #renew(): void {
    this.#context?.removeEventListener('statechange', this.#lookAtState);
    void this.#context?.close().catch(() => undefined);
    this.#context = new AudioContext();
    this.#context.addEventListener('statechange', this.#lookAtState);
  }

  /** Resolves once it runs, or has had its time: where a tap is not taken for one, a browser never answers. */
  async #started(): Promise<void> {
    const started = this.#context?.resume().catch(() => undefined);
    await Promise.race([started, new Promise((resolve) => setTimeout(resolve, STARTS_WITHIN_MS))]);
  }

  #output(): Output {
    return this.#context?.state ?? 'none';
  }

  #isTrusted(): boolean {
    return this.#output() === 'running' && this.state !== 'stopped';
  }

  readonly #lookAtState = (): void => {
    this.#seenAtS = 0;
    this.#change({ output: this.#output(), isMoving: true });
  };

  readonly #lookAtClock = (): void => {
    const atS = this.#context?.currentTime ?? 0;
    this.#change({ output: this.#output(), isMoving: atS > this.#seenAtS });
    this.#seenAtS = atS;
  };

  /** Whatever the person does next gives sound back that the browser took; coming back to the page may do. */
  readonly #wake = (): void => {
    if (this.state !== 'stopped') return;
    if (this.#output() === 'running') this.#renew();
    void this.#context?.resume().catch(() => undefined);
  };

  #change(part: Partial<Hearing>): void {
    const before = this.state;
    this.#hearing = { ...this.#hearing, ...part };
    if (this.state !== before) this.#changed();
  }
}
