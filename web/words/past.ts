/** What the page of a past run says around its words and figures. */
import { inLanguage } from './language.ts';

export const PAST = inLanguage({
  en: {
    fetching: 'Fetching the run.',
    notHere: 'This run isn’t here.',
    /** Of what was read or done before the run began. */
    before: 'before it',
    at: (clock: string) => `at ${clock}`,
    ended: (clock: string) => `ended at ${clock}`,
  },
});
