/** What headings and the heads of tables say. */
import { inLanguage } from './language.ts';

export const HEADINGS = inLanguage({
  en: {
    whatDone: 'What did you do?',
    ownWords: 'In your own words',
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
