/** What is said where a run and its thermometer are told of more closely. */
import { inLanguage } from './language.ts';

export const MORE = inLanguage({
  en: {
    between: (low: string, high: string) => `${low} to ${high}`,
    minutes: (figure: number) => `${figure} min`,
    says: 'It says:',
    heard: 'What it says, and how it is understood',
    notUsed: (what: string) => `Not used: ${what}.`,
    within: (span: string) => `in ${span}`,
  },
});
