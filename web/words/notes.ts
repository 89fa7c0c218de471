/** What is said where a note gets its time and its tags. */
import { TAG_MAX_CHARS, TAGS_MOST } from '../note-time.ts';
import { inLanguage } from './language.ts';
import { lasted } from './lasted.ts';

export const NOTE_TIME = inLanguage({
  en: {
    title: 'When',
    now: 'now',
    atNow: 'Now.',
    at: (clock: string) => `At ${clock}.`,
    span: (from: string, until: string) => `From ${from} to ${until}.`,
    between: (from: string, until: string) => `${from} to ${until}`,
    anotherTime: 'Another time',
    overSpan: 'Over a span',
    oneMoment: 'One moment only',
    from: 'Beginning',
    until: 'End',
    step: (byMs: number) => `${lasted(Math.abs(byMs) / 1000)} ${byMs < 0 ? 'earlier' : 'later'}`,
    shortStep: (byMs: number) => `${byMs < 0 ? '−' : '+'}${lasted(Math.abs(byMs) / 1000)}`,
    stepOf: (end: string, step: string) => `${end}: ${step}`,
    tags: 'Tags, with commas between them',
    tagFault: {
      long: `A tag has at most ${TAG_MAX_CHARS} characters.`,
      many: `There is room for ${TAGS_MOST} tags.`,
    },
    struck: 'Struck out',
  },
});
