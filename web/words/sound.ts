/** What the page says of its own sound: off, stopped by the browser, being tested, not heard, kept silent. */
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

export const TEST_WORDS = inLanguage({
  en: {
    title: 'Did you hear it?',
    detail: 'Three tones, from this screen.',
    yes: 'Yes',
    no: 'No',
  },
});

export const HELP_WORDS = inLanguage({
  en: {
    title: 'Nothing heard?',
    again: 'Test again',
    /** Most likely first. */
    lines: [
      'Turn the volume of this screen all the way up.',
      'A phone or a tablet: set its silent switch, or “do not disturb”, to ring.',
      'Headphones or another loudspeaker connected? That is where it sounds.',
      'A computer: is this tab muted, or the browser?',
      'Still nothing: let another screen do it. While none is heard, the computer that runs Bowlside rings.',
    ],
  },
});

export const LEFT_ALONE = inLanguage({
  en: {
    title: 'No alarm sounds now.',
    detail: 'Nobody has tapped for an hour, and the bowl rests. Note something, and they sound again.',
  },
});

/** The button of the spoken read-out, as it stands. */
export const SPEAK = inLanguage({ en: { off: 'Speak', on: 'Speaking' } });
