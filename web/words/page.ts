/** What the pages say around the sentence: the start, the list of runs, one run looked back at, the number, the strips. */
import { inLanguage } from './language.ts';

export const START = inLanguage({
  en: {
    which: 'Which chocolate?',
    bag: 'The numbers on its bag win.',
    stands: 'How does it stand?',
    chocolate: 'Chocolate',
    condition: 'How it stands',
    another: 'Another chocolate',
    tryAgain: 'Try again',
    between: ', then ',
  },
});

export const RUNS = inLanguage({
  en: {
    yours: 'Your runs.',
    fetching: 'Fetching them.',
    notHere: 'The list isn’t here.',
    none: 'No runs here.',
    first: 'A run begins at the bowl; what you threw away lies in the bin.',
    look: 'Look back.',
    count: (runs: number, newestOn: string) => `${runs === 1 ? 'One run' : `${runs} runs`}, the newest on ${newestOn}.`,
    stillGoing: 'still going',
    simulated: ', simulated',
    over: (byC: string) => `${byC} over the ceiling`,
    neverOver: 'never over',
  },
});

export const PAST = inLanguage({
  en: {
    fetching: 'Fetching the run.',
    notHere: 'This run isn’t here.',
    at: (clock: string) => `at ${clock}`,
  },
});

export const NUMBER = inLanguage({
  en: {
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
    seen: 'Seen',
    seenBy: (by: string | null, clock: string) => `Seen${by === null ? '' : ` by ${by}`}, ${clock}`,
    notOnDisk: (forSpan: string) => `Not on disk for ${forSpan}. Make room on the disk; nothing is lost yet.`,
    read: 'Read',
    noted: (what: string) => `Noted: ${what}.`,
    limit: (bound: string) => `The limit is ${bound} degrees.`,
    testGood: 'Strip test good',
    testBad: 'Not good',
  },
});

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

/** Why something asked of Bowlside was not done. */
export const POST = inLanguage({
  en: {
    unreachable: 'Bowlside doesn’t answer. Nothing was changed.',
    unreadable: 'Bowlside answered in a way this page can’t read. Load the page again.',
  },
});
