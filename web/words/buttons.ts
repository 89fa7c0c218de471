/** What the buttons beside the bowl say. */
import { inLanguage } from './language.ts';

export const BUTTONS = inLanguage({
  en: {
    lookAlong: 'Look along the road',
    noteIt: 'Note it',
    startNow: 'Start now',
    startRun: 'Start a run',
    lookBack: 'Look back at it',
    askEnd: 'End the run?',
    goOn: 'Go on',
    endIt: 'End it',
    end: 'End',
    soundOn: 'Sound is on',
    soundOff: 'Sound is off',
    more: 'More',
  },
});
