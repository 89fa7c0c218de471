/** What a test page needs of the sound, rendered as fast as the machine can and handed over as samples. */
import { soundOn } from '../../../web/sound/sound-on.ts';
import type { Urgency } from '../../../web/sound/voices.ts';

export interface Rendering {
  readonly urgency: Urgency;
  readonly seconds: number;
  readonly rate: number;
  readonly loop: boolean;
}

declare global {
  interface Window {
    /** Samples of four bytes each in base64: as numbers they would take longer to hand over than to render. */
    renderSound(rendering: Rendering): Promise<string>;
  }
}

window.renderSound = async ({ urgency, seconds, rate, loop }) => {
  const context = new OfflineAudioContext({ length: Math.round(seconds * rate), sampleRate: rate });
  soundOn(context, urgency, loop);
  const rendered = await context.startRendering();
  const bytes = new Uint8Array(rendered.getChannelData(0).slice().buffer);
  return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
};
