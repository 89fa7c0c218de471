/** What faults and their usual causes are called. One catalogue; which cause fits which run is in `faults.ts`. */
import type { Cause, CauseSource, Fault, LikelyCause } from '../faults.ts';
import { inLanguage } from './language.ts';

export const FAULT_NAME = inLanguage<Readonly<Record<Fault, string>>>({
  en: {
    'fat-bloom': 'Fat bloom: a grey film that melts under a warm finger',
    'sugar-bloom': 'Sugar bloom: rough and dry, and stays under a warm finger',
    streaks: 'Streaks',
    dull: 'Dull',
    soft: 'Soft or tacky',
    'no-release': 'Sticks to the mould or the sheet',
    'weak-snap': 'No clean snap',
  },
});

export const CAUSE_WORDS = inLanguage<Readonly<Record<Cause, string>>>({
  en: {
    'not-cooled': 'not cooled into the seeding band, so too little seed',
    'too-short-seeding': 'left the seeding band before its time was over',
    'over-ceiling': 'over the working ceiling, which thins the seed',
    'too-cool-work': 'worked too cool: too many crystals, thick and dull',
    unseen: 'nobody knows what happened while nothing was read',
    'badly-mixed': 'stirred too little, or seed not mixed in',
    'slow-setting': 'set too slowly or too warm',
    'cold-setting': 'set or moulded too cold',
    'short-setting': 'taken off before it had set',
    'moist-air': 'moist air on cold pieces',
    'damp-mould': 'a damp mould or sheet',
    'dirty-mould': 'a mould or sheet that was not clean, or cold',
    'warm-store': 'a warm store, or one that swings',
    'fat-moving': 'fat of the centre moving into the coat',
  },
});

export const SOURCE_WORDS = inLanguage<Readonly<Record<CauseSource, string>>>({
  en: {
    craft: 'common practice, no source',
    'lonchampt-hartel-2006': 'Lonchampt and Hartel 2006',
  },
});

export const CURVE_WORDS = inLanguage<Readonly<Record<LikelyCause['curve'], string>>>({
  en: {
    speaks: 'This run’s curve speaks for it.',
    silent: 'This run’s curve does not speak for it.',
    blind: 'No thermometer shows it.',
  },
});
