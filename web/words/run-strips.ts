/** What the strips over a run say, in the reader's language. */
import * as en from './en/run-strips.ts';
import { inLanguage } from './language.ts';

export const { carefulStrip, carriedOnWords } = inLanguage({ en });

export const RUN_STRIPS = inLanguage({
  en: {
    seen: 'Seen',
    seenBy: (by: string | null, clock: string) => `Seen${by === null ? '' : ` by ${by}`}, ${clock}`,
    notOnDisk: (forSpan: string, why = '') => `Not on disk for ${forSpan}. ${why} Nothing is lost yet.`,
  },
});

export const LEFT_ALONE = inLanguage({
  en: {
    title: 'No alarm sounds now.',
    detail: 'Nobody has tapped for an hour, and the bowl rests. Note something, and they sound again.',
  },
});
