/** What is said in the place of the buttons of a run. */
import { inLanguage } from './language.ts';

export const OTHER_BUTTONS = inLanguage({
  en: {
    startRun: 'Start a run',
    lookBack: 'Look back at it',
    askEnd: 'End the run?',
    goOn: 'Go on',
    endIt: 'End it',
    elsewhere: 'What is done is done at the bowl.',
  },
});
