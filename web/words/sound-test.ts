/** What is said where sound is tested, and where it was not heard. */
import { inLanguage } from './language.ts';

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
