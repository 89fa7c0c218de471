/** What stands where a part of the page is still to come, or can't be fetched. */
import { inLanguage } from './language.ts';

export const PART = inLanguage({
  en: {
    coming: 'One moment.',
    missing: 'This part of the page could not be fetched.',
    again: 'Load the page again',
  },
});
