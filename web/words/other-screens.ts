/** What is said of other screens: who is let in, and how another one comes. */
import { inLanguage } from './language.ts';

export const SCREENS = inLanguage({
  en: {
    title: 'Other screens.',
    fetching: 'Asking who is let in.',
    notHere: 'It isn’t known who is let in.',
    alone: 'Only this machine can reach Bowlside.',
    toLetIn: 'A tablet or a telephone can be let in, each by a code, where it is started with',
    none: 'No other screen is let in.',
    some: (count: number) => (count === 1 ? 'One other screen is let in.' : `${count} other screens are let in.`),
    watch: 'A code to look on',
    control: 'A code to take part',
    may: {
      watch: 'looks on',
      control: 'takes part',
    } as Readonly<Record<'watch' | 'control', string>>,
    codeFor: {
      watch: 'To look on: as many as forty may come with it.',
      control: 'To take part: one screen may come with it.',
    } as Readonly<Record<'watch' | 'control', string>>,
    until: (clock: string) => `It holds until ${clock}.`,
    scan: (link: string) => `A code for a telephone’s camera: ${link}`,
    open: 'Point a telephone at it, or open',
    other: 'This machine has other addresses too:',
    withdraw: 'Take it back',
    guests: 'Let in',
    unnamed: 'A screen without a name',
    since: (day: string, clock: string) => `since ${day}, ${clock}`,
    holds: (day: string, clock: string) => `until ${day}, ${clock}`,
    seen: (day: string, clock: string) => `last here ${day}, ${clock}`,
    notSeen: 'not here since Bowlside was started',
    shutOut: 'Shut out',
    askShutOut: (name: string) => `${name}: it loses the page at once.`,
    yes: 'Shut it out',
    no: 'Leave it',
    plain:
      'Who can read the radio traffic of your network can read along: there is no encryption. Take a network of your own.',
  },
});
