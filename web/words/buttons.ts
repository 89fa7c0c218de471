/** What buttons, headings and the heads of tables say. */
import { inLanguage } from './language.ts';

export const BUTTONS = inLanguage({
  en: {
    noteIt: 'Note it',
    startNow: 'Start now',
    startRun: 'Start a run',
    lookBack: 'Look back at it',
    askEnd: 'End the run?',
    goOn: 'Go on',
    endIt: 'End it',
    end: 'End',
    endRun: 'End the run',
    backPhase: 'Back a phase',
    soundOn: 'Sound on',
    soundOff: 'Sound off',
    more: 'More',
    runs: 'Runs',
    handOver: 'Hand over',
    bringIn: 'Bring in a file',
    profiles: 'Profiles',
    bag: 'Numbers from the bag',
    kept: 'What is kept',
    screens: 'Other screens',
    thermometer: 'Thermometer',
    toBowl: 'To the bowl',
    close: 'Close',
    slower: 'Slower',
    faster: 'Faster',
  },
});

export const HEADINGS = inLanguage({
  en: {
    whatDone: 'What did you do?',
    ownWords: 'In your own words',
    reading: 'Reading',
    cautions: 'Cautions',
    sources: 'Where the numbers come from',
    thermometer: 'Thermometer',
    bestRuns: 'Best runs',
    phase: 'Phase',
    band: 'Band',
    ceiling: 'Ceiling',
    floor: 'Floor',
    lost: 'Temper lost',
    hold: 'Hold',
    happened: 'What happened',
    clock: 'Clock',
    into: 'Into the run',
    what: 'What',
  },
});
