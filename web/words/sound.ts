/** What the page says of its own sound: off, stopped by the browser, not heard, kept silent. */
import type { SoundState } from '../sound/audible.ts';
import { inLanguage } from './language.ts';

export interface SoundWords {
  readonly title: string;
  readonly detail: string;
  readonly button: string;
}

/** While no alarm would be heard. */
export const SILENT_WORDS = inLanguage<
  Readonly<Record<Extract<SoundState, 'off' | 'stopped' | 'unheard'>, SoundWords>>
>({
  en: {
    off: { title: 'Sound is off.', detail: 'No alarm will be heard.', button: 'Turn it on and test' },
    stopped: { title: 'Sound is off.', detail: 'The browser has stopped it.', button: 'Turn it on and test' },
    unheard: { title: 'Not heard here.', detail: 'No alarm will be, either.', button: 'What to look at' },
  },
});
