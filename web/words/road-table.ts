/** The head of the road's numbers. */
import { inLanguage } from './language.ts';

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
