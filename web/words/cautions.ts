/** What is to be known before anybody trusts or hurts themselves. */
import { inLanguage } from './language.ts';

/** What is judged by but printed on no bag. */
export const BOUNDS_ARE_OURS = inLanguage({
  en: 'How long an alarm waits, how far the bowl must come back, and what counts as too long or too far over: ours, nowhere published.',
});

/** The usual cautions, short; the long form is in the handbook. */
export const CAUTIONS = inLanguage<readonly string[]>({
  en: [
    'Hot bath: steam burns. Lift the bowl away from you, and wipe its underside dry.',
    'Keep mains parts away from splashes. No laptop on the bench edge.',
    'One probe, two chocolates: it carries milk and nuts across. Wash and dry it in between.',
    'An unchecked probe can be wrong by more than the whole band. The strip test decides.',
  ],
});
