/** What the buttons beside the bowl say. */
import { inLanguage } from './language.ts';

export const BUTTONS = inLanguage({
  en: {
    lookAlong: 'Look along the road',
    noteIt: 'Note it',
    startNow: 'Start now',
    end: 'End',
    soundOn: 'Sound is on',
    soundOff: 'Sound is off',
    more: 'More',
  },
});
