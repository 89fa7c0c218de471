/** What the page before a run asks. */
import type { Condition } from '../../server/core/record/command.ts';
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

export const CONDITION_NAME = inLanguage<
  Readonly<Record<Condition, { readonly name: string; readonly detail: string }>>
>({
  en: {
    solid: { name: 'Solid', detail: 'Chips or blocks, to be melted.' },
    melted: { name: 'Melted', detail: 'Warm, with no lump left.' },
    tempered: { name: 'Already tempered', detail: 'Straight to the work.' },
  },
});
