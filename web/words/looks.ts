/** What the buttons along the road say. */
import { inLanguage } from './language.ts';

export const LOOKS = inLanguage({
  en: {
    title: 'View of the road',
    follow: 'Follow',
    back: 'Back to now',
    all: 'All',
    closer: 'Closer',
    wider: 'Wider',
    note: (clock: string) => `Note at ${clock}`,
  },
});

export const lastWords = inLanguage({ en: (minutes: number): string => `${minutes} min` });
