/** What the list of runs and the bin say. */
import type { Verdict } from '../../server/core/record/card.ts';
import { BIN_DAYS } from '../../server/core/show/listed.ts';
import { inLanguage } from './language.ts';

export const LIBRARY = inLanguage({
  en: {
    find: 'Find a name, lot or tag',
    narrow: 'Narrow it',
    narrowed: (count: number) => `Narrowed, ${count}`,
    all: 'Show all again',
    more: 'Show more',
    tryAgain: 'Try again',
    notNew: (why: string) => `This is the list as it was. ${why}`,
    shown: (shown: number, total: number) => `${shown} of ${total}`,
    order: 'In order',
    coating: 'Coating',
    profile: 'Profile',
    tag: 'Tag',
    standing: 'Standing at the end',
    verdict: 'Judged',
    kind: 'Bowl',
    any: 'any',
    noneFits: 'None is like that.',
    takeAway: 'Take a word or a wish away.',
    fit: (total: number) => (total === 1 ? 'One run fits.' : `${total} runs fit.`),
    lot: (lot: string) => `lot ${lot}`,
    kg: (figure: string) => `${figure} kg`,
    coated: (coating: string) => `${coating} chocolate`,
    judged: (verdict: string) => `judged ${verdict}`,
    toJudge: ', rested, to be judged',
    openBin: 'Bin',
    card: 'Card',
    cardOf: (name: string) => `Card of ${name}`,
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
    broughtIn: (day: string) => `brought in ${day}`,
    over: (byC: string) => `${byC} over the ceiling`,
    neverOver: 'never over',
    cameTo: (phase: string) => `came as far as ${phase.toLowerCase()}`,
  },
});

/** Choosing runs to be laid over one another. */
export const LAY_OVER = inLanguage({
  en: {
    title: 'Lay over',
    lay: (count: number) => `Lay ${count} over`,
    tick: (name: string) => `Tick ${name}`,
    ticked: '✓',
    unticked: '○',
    leave: 'Leave it',
    ticks: (count: number) => (count === 0 ? 'Tick two to six runs.' : `${count} ticked, six at most.`),
  },
});

export const ORDER_NAME = inLanguage<Readonly<Record<'newest' | 'oldest' | 'longest' | 'worst' | 'name', string>>>({
  en: {
    newest: 'newest first',
    oldest: 'oldest first',
    longest: 'longest first',
    worst: 'furthest over first',
    name: 'by name',
  },
});

export const VERDICT_NAME = inLanguage<Readonly<Record<Verdict | 'none', string>>>({
  en: { good: 'good', usable: 'usable', failed: 'failed', none: 'not judged yet' },
});

export const KIND_NAME = inLanguage<Readonly<Record<'yes' | 'no', string>>>({
  en: { no: 'real bowls', yes: 'simulated bowl' },
});

export const COATING_NAME = inLanguage<Readonly<Record<string, string>>>({
  en: { dark: 'dark', milk: 'milk', white: 'white' },
});

/** `days`: how many are left before it is deleted by itself. */
export const BIN = inLanguage({
  en: {
    act: 'Take it out in time.',
    detail: (count: number) =>
      `${count === 1 ? 'One run lies' : `${count} runs lie`} here; each is deleted after ${BIN_DAYS} days.`,
    empty: 'The bin is empty.',
    emptyDetail: `What you put here is kept for ${BIN_DAYS} days.`,
    notHere: 'The bin isn’t here.',
    fetching: 'Fetching it.',
    title: 'Bin',
    put: 'Put it in the bin',
    putHint: `It is kept there for ${BIN_DAYS} days and can be taken out again.`,
    going: 'A run that is going can’t be put in the bin.',
    takeOut: 'Take it out',
    takeOutOf: (name: string) => `Take ${name} out`,
    delete: 'Delete for good',
    deleteOf: (name: string) => `Delete ${name} for good`,
    ask: (name: string) => `Delete ${name} for good? Nothing brings it back.`,
    deleteIt: 'Delete it',
    keepIt: 'Keep it',
    left: (days: number) => (days <= 0 ? 'deleted today' : `${days === 1 ? '1 day' : `${days} days`} left`),
    since: (day: string) => `in the bin since ${day}`,
    lies: (day: string) => `This run lies in the bin since ${day}.`,
    isIn: (name: string) => `In the bin: ${name}.`,
  },
});
