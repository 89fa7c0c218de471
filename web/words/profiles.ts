/** What is said of profiles: the list, one of them, the numbers on a bag. */
import { inLanguage } from './language.ts';

export const PROFILES = inLanguage({
  en: {
    title: 'Your chocolates.',
    fetching: 'Fetching them.',
    notHere: 'They aren’t here.',
    count: (shipped: number, own: number) =>
      `${shipped} came with Bowlside, ${own === 0 ? 'none' : own} ${own === 1 ? 'is' : 'are'} yours.`,
    shipped: 'came with Bowlside',
    own: 'yours',
    leftOut: 'Left out',
    leftOutWhy: 'These files of yours are no profiles. They lie where they were.',
    between: ', then ',
    band: (low: string, high: string) => `${low}–${high}`,
    ceiling: 'ceiling',
    floor: 'floor',
    lost: 'lost',
    /** A phase for those who hear the picture. */
    heard: (phase: string, band: string, bounds: readonly string[]) => [`${phase} ${band}`, ...bounds].join(', '),
    heardBound: (name: string, value: string) => `${name} ${value}`,
  },
});

export const PROFILE = inLanguage({
  en: {
    notHere: 'There is no such profile.',
    fetching: 'Fetching it.',
    shipped: 'It came with Bowlside and stays as it is.',
    own: 'Yours. A run that is going keeps the numbers it began with.',
    kept: 'Kept. It can be chosen at once.',
    wrong: (places: number) =>
      places === 1 ? 'One number can’t be right yet.' : `${places} numbers can’t be right yet.`,
    unsaved: 'Changed, and not kept yet.',
    duplicate: 'Duplicate it',
    copyName: 'What is the copy called?',
    copyOf: (title: string) => `${title}, mine`,
    keepCopy: 'Keep the copy',
    keep: 'Keep it',
    undo: 'As it was',
    delete: 'Delete it',
    askDelete: 'Delete it for good?',
    deleteYes: 'Delete',
    deleteNo: 'Keep it',
    runsKeep: 'Runs made by it keep it.',
    name: 'Name',
    coating: 'Kind of chocolate',
    source: 'Where the numbers come from',
    low: 'Band from',
    high: 'Band to',
    ceiling: 'Ceiling',
    floor: 'Floor',
    hold: 'Hold, minutes',
    lost: 'Temper lost from',
    cue: 'What to do',
    minutes: (figure: number) => `${figure} min`,
    /** Of a number somebody changed. */
    yours: 'Changed by hand.',
    withoutPhase: (phase: string) => `Leave out ${phase}`,
    headings: { up: 'warmer', down: 'cooler', hold: 'kept there' } as Readonly<Record<'up' | 'down' | 'hold', string>>,
  },
});

export const BAG = inLanguage({
  en: {
    title: 'What does the bag say?',
    detail: 'Three numbers. All others are ours, and marked so.',
    name: 'Name',
    nameHint: 'as you call it',
    coating: 'Kind of chocolate',
    coatings: ['dark', 'milk', 'white'] as readonly string[],
    melt: 'Melt to',
    cool: 'Cool to',
    work: 'Work at',
    hint: (unit: string) => `In ${unit}: one number each, or two as in 31–32.`,
    missing: 'It has to be there.',
    keep: 'Keep it',
    fromBag: 'from the bag',
    ours: 'ours',
    notSeeding: 'For cooling to the low point. If the bag speaks of seeding alone, these are the wrong numbers.',
  },
});
