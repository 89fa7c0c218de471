/** One voice on an audio context. A repeating round loops inside the browser's audio: see the speaker. */
import { LOUDER_AFTER_S, samplesOf, VOICES } from './voices.ts';
import type { Urgency } from './voices.ts';

/** A gain is changed over so long, s: no click. */
const FADE_S = 0.01;

/** Stops what was begun, at once. */
export type Stop = () => void;

/** From now on; `loop`: until stopped. */
export function soundOn(context: BaseAudioContext, urgency: Urgency, loop: boolean): Stop {
  const voice = VOICES[urgency];
  const samples = samplesOf(voice, context.sampleRate);
  const buffer = new AudioBuffer({ length: samples.length, sampleRate: context.sampleRate });
  buffer.copyToChannel(samples, 0);
  const source = new AudioBufferSourceNode(context, { buffer, loop });
  const level = new GainNode(context, { gain: voice.gain });
  const louderAtS = context.currentTime + LOUDER_AFTER_S;
  level.gain.setValueAtTime(voice.gain, louderAtS);
  level.gain.linearRampToValueAtTime(voice.louderGain, louderAtS + FADE_S);
  source.connect(level).connect(context.destination);
  source.start();
  return () => {
    source.stop();
    level.disconnect();
  };
}
