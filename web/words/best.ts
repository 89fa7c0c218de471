/** What is said of the best runs behind the curve, in the reader's language. */
import { inLanguage } from './language.ts';

export const BEST = inLanguage({
  en: {
    show: 'Show my best runs behind the curve',
    coming: 'Looking for them.',
    none: (profile: string) =>
      `No other run of ${profile} is judged good yet. Once one is, what it did is drawn behind the curve.`,
    shown: (count: number) =>
      `${count === 1 ? 'The one run' : `The newest ${count} runs`} judged good, from lowest to highest, counted from the entry of each phase.`,
  },
});
