/** What the buttons say that lead away from the bowl, and those that stand elsewhere. */
import { inLanguage } from './language.ts';

export const ELSEWHERE = inLanguage({
  en: {
    endRun: 'End the run',
    backPhase: 'Back a phase',
    runs: 'Runs',
    handOver: 'Hand over',
    bringIn: 'Bring in a file',
    profiles: 'Profiles',
    bench: 'Bowls',
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
