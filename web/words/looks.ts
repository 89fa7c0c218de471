/** What the buttons along the road say, and the head of its numbers. */
import { inLanguage } from './language.ts';

export const LOOKS = inLanguage({
  en: {
    open: 'Look along the road',
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

export const ROAD_TABLE = inLanguage({
  en: {
    caption: 'The road in numbers',
    from: 'From',
    to: 'To',
    lowest: 'Lowest',
    highest: 'Highest',
    last: 'At the end',
    none: 'no reading',
  },
});
