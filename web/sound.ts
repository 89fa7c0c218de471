/**
 * The page's voice: tones made on the spot. Silent until a tap has armed it, and says so. Knows three urgencies and nothing of alarms.
 */

export type Urgency = 'chime' | 'warning' | 'critical';

/**
 * Partials between 500 and 3,000 Hz, where a noisy kitchen leaves most room and small loudspeakers still speak; each with its share of
 * the loudness. Two steps for each urgency, so that they differ by tune as well as by pace.
 */
const VOICES: Readonly<
  Record<Urgency, { readonly stepsHz: readonly number[]; readonly stepS: number; readonly times: number }>
> = {
  chime: { stepsHz: [784, 988], stepS: 0.18, times: 1 },
  warning: { stepsHz: [740, 587], stepS: 0.22, times: 3 },
  critical: { stepsHz: [988, 659], stepS: 0.14, times: 5 },
};
const PARTIALS = [
  { times: 1, share: 0.4 },
  { times: 1.5, share: 0.25 },
  { times: 2, share: 0.2 },
  { times: 3, share: 0.15 },
];
/** Rise and fall of a tone, s: short enough to be sharp, long enough not to click. */
const EDGE_S = 0.012;
/** An alarm sounds again after this long, ms (ours: room to speak in between). */
const REPEAT_MS = 3_000;
/** And louder once nobody has come for this long, ms. */
const LOUDER_AFTER_MS = 30_000;
const QUIET_GAIN = 0.5;
const LOUD_GAIN = 0.9;

export class Sound {
  #context: AudioContext | null = null;
  #repeat: number | undefined;
  #ringing: Urgency | null = null;
  #ringingSinceMs = 0;

  isOn(): boolean {
    return this.#context?.state === 'running';
  }

  /** Must be called from a tap. Plays the test tone; false where the browser will not let it sound. */
  async turnOn(): Promise<boolean> {
    this.#context ??= new AudioContext();
    await this.#context.resume().catch(() => undefined);
    if (!this.isOn()) return false;
    this.#play('warning', QUIET_GAIN);
    return true;
  }

  async turnOff(): Promise<void> {
    this.ring(null);
    await this.#context?.suspend();
  }

  chime(): void {
    this.#play('chime', QUIET_GAIN);
  }

  /** Rings on until told otherwise; null is silence. Told the same again, it goes on as it was. */
  ring(urgency: Urgency | null): void {
    if (urgency === this.#ringing) return;
    window.clearInterval(this.#repeat);
    this.#ringing = urgency;
    if (urgency === null) return;
    this.#ringingSinceMs = performance.now();
    this.#play(urgency, QUIET_GAIN);
    this.#repeat = window.setInterval(() => this.#play(urgency, this.#gain()), REPEAT_MS);
  }

  #gain(): number {
    return performance.now() - this.#ringingSinceMs > LOUDER_AFTER_MS ? LOUD_GAIN : QUIET_GAIN;
  }

  #play(urgency: Urgency, gain: number): void {
    const context = this.#context;
    if (context === null || !this.isOn()) return;
    const { stepsHz, stepS, times } = VOICES[urgency];
    const tones = Array.from({ length: times }, () => stepsHz).flat();
    tones.forEach((hz, i) => playTone(context, hz, context.currentTime + i * stepS, stepS, gain));
  }
}

function playTone(context: AudioContext, hz: number, atS: number, lengthS: number, gain: number): void {
  for (const partial of PARTIALS) {
    const tone = new OscillatorNode(context, { frequency: hz * partial.times });
    const level = new GainNode(context, { gain: 0 });
    level.gain.setValueAtTime(0, atS);
    level.gain.linearRampToValueAtTime(gain * partial.share, atS + EDGE_S);
    level.gain.setValueAtTime(gain * partial.share, atS + lengthS - 2 * EDGE_S);
    level.gain.linearRampToValueAtTime(0, atS + lengthS - EDGE_S);
    tone.connect(level).connect(context.destination);
    tone.start(atS);
    tone.stop(atS + lengthS);
  }
}
