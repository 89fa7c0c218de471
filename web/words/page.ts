/** What stands around the sentence of a run: the number, the strips, and why something was not done. */
import { inLanguage } from './language.ts';

export const NUMBER = inLanguage({
  en: {
    reading: 'Reading',
    noTrend: 'trend not known yet',
    nothing: 'nothing read yet',
    notLive: 'No live reading.',
    notChocolate: 'not the chocolate',
    was: (value: string, clock: string) => `was ${value}${clock === '' ? '' : ` at ${clock}`}`,
    /** Breaks only after its first word. */
    read: (span: string) => `Read ${`${span} ago`.replaceAll(' ', '\u00a0')}`,
    outOfBowl: ', out of the bowl',
    gap: '. The gap stays a gap.',
    unchecked: ', unchecked',
    chocolate: (value: string) => `; the chocolate about ${value}`,
    simulated: 'Simulated',
  },
});

export const STRIPS = inLanguage({
  en: {
    alarm: 'Alarm',
    sound: 'Sound',
    read: 'Read',
    noted: (what: string) => `Noted: ${what}.`,
    limit: (bound: string) => `The limit is ${bound} degrees.`,
    testGood: 'Strip test good',
    testBad: 'Not good',
  },
});

/** Why something asked of Bowlside was not done. */
export const POST = inLanguage({
  en: {
    unreachable: 'Bowlside doesn’t answer. Nothing was changed.',
    unreadable: 'Bowlside answered in a way this page can’t read. Load the page again.',
  },
});
