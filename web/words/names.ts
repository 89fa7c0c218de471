/** What single things are called on the page: phases, acts, alarms, standings. Knows nothing of sentences. */
import type { Act } from '../../server/core/record/command.ts';
import type { AlarmName, Standing } from '../../server/core/record/event.ts';
import { inLanguage } from './language.ts';

/** A phase's id as a name: `melt` is Melt, `first-melt` is First melt. */
export function phaseName(id: string): string {
  const words = id.replaceAll(/[-_]+/g, ' ').trim();
  return words === '' ? id : words[0]!.toUpperCase() + words.slice(1);
}

export const ACT_NAME = inLanguage<Readonly<Record<Act, string>>>({
  en: {
    'off-heat': 'off the heat',
    'on-heat': 'on the heat',
    'off-cold': 'off the cold',
    'on-cold': 'on the cold',
    stirred: 'stirred',
    'topped-up-tempered': 'topped up, tempered',
    'topped-up-untempered': 'topped up, untempered',
    'seed-added': 'seed added',
    'strip-laid': 'strip laid down',
    'strip-tacky': 'strip still tacky',
    'strip-test-good': 'strip test good',
    'strip-test-bad': 'strip test not good',
    'dipping-started': 'dipping',
    'dipping-stopped': 'stopped dipping',
  },
});

export const ALARM_NAME = inLanguage<Readonly<Record<AlarmName, string>>>({
  en: {
    'temper-lost': 'temper lost',
    scorch: 'over the scorch ceiling',
    overshoot: 'over the ceiling',
    'scorch-ahead': 'heading over the scorch ceiling',
    'overshoot-ahead': 'heading over the ceiling',
    undershoot: 'under the floor',
    'undershoot-ahead': 'heading under the floor',
    'not-cooled-enough': 'not cooled enough',
    'probe-silent': 'no reading',
    'probe-lifted': 'probe out of the bowl',
    'below-working': 'too cool to dip',
  },
});

/** Always an estimate of ours; the strip test decides. */
export const STANDING_NAME = inLanguage<Readonly<Record<Standing, string>>>({
  en: {
    'not-made-yet': 'Not in temper yet',
    'in-temper': 'In temper, our estimate',
    unproven: 'Temper not known',
    'at-risk': 'Temper at risk',
    lost: 'Temper lost, our estimate',
  },
});

/** The same of a run that is over. */
export const STANDING_AT_END = inLanguage<Readonly<Record<Standing, string>>>({
  en: {
    'not-made-yet': 'Temper was never made',
    'in-temper': 'Ended in temper, our estimate',
    unproven: 'Ended, temper not known',
    'at-risk': 'Ended, temper at risk',
    lost: 'Ended, temper lost, our estimate',
  },
});

/** What was noted, with its tags behind it: second tray (ginger, gift). */
export function withTags(text: string, tags: readonly string[] = []): string {
  return tags.length === 0 ? text : `${text} (${tags.join(', ')})`;
}
