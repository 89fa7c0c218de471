/** What a test page needs of the sound, rendered as fast as the machine can and handed over as samples. */
import { soundOn } from '../../../web/sound/speaker.ts';
import type { Urgency } from '../../../web/sound/voices.ts';

export interface Rendering {
  readonly urgency: Urgency;
  readonly seconds: number;
  readonly rate: number;
  readonly loop: boolean;
}

declare global {
  interface Window {
    renderSound(rendering: Rendering): Promise<number[]>;
  }
}

window.renderSound = async ({ urgency, seconds, rate, loop }) => {
  const context = new OfflineAudioContext({ length: Math.round(seconds * rate), sampleRate: rate });
  soundOn(context, urgency, loop);
  const rendered = await context.startRendering();
  return [...rendered.getChannelData(0)];
};
