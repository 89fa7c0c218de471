/** What is said of the bench: its bowls, and what each thermometer is in. */
import type { BowlLabel } from '../../server/core/show/wire.ts';
import { inLanguage } from './language.ts';

/** As people call it, else by its place on the bench; the only one by its place, too. */
export function bowlName(bowls: readonly BowlLabel[], bowl: string | null): string {
  const at = bowls.findIndex((each) => each.bowl === bowl);
  return bowls[at]?.name ?? BENCH.numbered(at + 1);
}

export const BENCH = inLanguage({
  en: {
    title: 'Bowls and thermometers.',
    fetching: 'Looking at the bench.',
    bowls: 'Bowls',
    numbered: (number: number) => `Bowl ${number}`,
    empty: 'Empty.',
    asking: 'One moment.',
    seen: 'Seen',
    seenOf: (name: string) => `${name}: seen`,
    was: (value: string) => `was ${value}`,
    detail: (bowls: number, thermometers: number) =>
      `${bowls === 1 ? 'One bowl' : `${bowls} bowls`}, ${thermometers === 1 ? 'one thermometer' : `${thermometers} thermometers`}. Hold a probe in your hand: its figure rises.`,
    name: 'Its name, as you say it in the kitchen',
    nameHint: 'Such as “milk, left”.',
    keepName: 'Keep the name',
    goThere: 'Go there',
    takeAway: 'Take it away',
    askTakeAway: (name: string) => `${name}: its runs stay, and its thermometer is free.`,
    yes: 'Take it away',
    no: 'Leave it',
    add: 'Another bowl',
    full: (most: number) => `No more than ${most} bowls can be watched.`,
    thermometers: 'What each thermometer is in',
    simulated: (name: string) => `Simulated: the chocolate in ${name}.`,
    nothingYet: 'It has said nothing yet.',
    channel: (channel: string) => (/^\d+$/.test(channel) ? `Channel ${channel}` : channel),
    whole: 'The thermometer',
    isIn: (what: string) => `${what} is in`,
    chocolateOf: (name: string) => `the chocolate: ${name}`,
    bathOf: (name: string) => `the bath: ${name}`,
    bathOfAll: 'the bath of all bowls',
    room: 'the room, for every bowl',
    nothing: 'nothing',
    putAway: 'Stop reading it',
    plugged: 'Plugged in, and not read',
    read: (label: string) => `Read ${label}`,
    whichProbe: 'Tap the one in the chocolate',
    another: (count: number) =>
      count === 1 ? 'Another thermometer is plugged in.' : `${count} more thermometers are plugged in.`,
    whatIn: 'Say what it is in.',
  },
});
