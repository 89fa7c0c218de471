/** What single things are called on the page: phases, acts, alarms, standings, reasons. One catalogue; knows nothing of sentences. */
import type { Act, Condition } from '../../server/core/record/command.ts';
import type {
  AlarmName,
  CueName,
  RejectReason,
  Standing,
  StandingReason,
  StirReason,
} from '../../server/core/record/event.ts';
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

export const CUE_NAME = inLanguage<Readonly<Record<CueName, string>>>({
  en: {
    'off-heat': 'off the heat',
    'off-cold': 'off the cold',
    'will-not-reach': 'will not get there like this',
    stir: 'stir',
    'strip-test': 'do the strip test',
    'cool-again': 'cool it again',
    'stir-down': 'stir it down',
    'warm-gently': 'warm it gently',
    'hold-there': 'hold it there',
  },
});

export const STIR_NAME = inLanguage<Readonly<Record<StirReason, string>>>({
  en: {
    unstirred: 'the reading hardly moved',
    'at-the-wall': 'the tip seemed to be at the wall',
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

export const STANDING_WHY = inLanguage<Readonly<Record<StandingReason, string>>>({
  en: {
    'seed-not-made': 'no seed made yet',
    'seeded-and-rewarmed': 'seeded and rewarmed',
    'started-tempered': 'you said it was tempered',
    'forced-step': 'a phase was skipped by hand',
    gap: 'there was a gap in the readings',
    'over-ceiling': 'it has been over the ceiling',
    'low-for-long': 'it has been low for long',
    'above-lost': 'too warm for any seed',
    'strip-test-good': 'the strip test was good',
    'strip-test-bad': 'the strip test was not good',
    'made-again': 'made again',
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

export const REJECT_NAME = inLanguage<Readonly<Record<RejectReason, string>>>({
  en: {
    empty: 'empty lines',
    'no-number': 'lines without a number',
    'not-a-temperature': 'figures that are no temperature',
    ambiguous: 'lines that could mean two things',
    unsure: 'lines from before it was sure how to read them',
    'bad-checksum': 'lines with a wrong checksum',
    'too-long': 'lines too long to be one',
    'broken-json': 'broken lines',
    'device-fault': 'faults told by the thermometer',
    'power-on-value': 'power-on values',
    sentinel: 'values that mean "none"',
    implausible: 'values no bowl has',
    spike: 'spikes',
    stuck: 'readings that stood still',
    'not-the-bowl': 'readings from outside the bowl',
  },
});

/** What was noted, with its tags behind it: second tray (ginger, gift). */
export function withTags(text: string, tags: readonly string[] = []): string {
  return tags.length === 0 ? text : `${text} (${tags.join(', ')})`;
}

/** Acts as tiles, the likeliest of a heading first. */
export const ACTS_BY_HEADING: Readonly<Record<'up' | 'down' | 'hold', readonly Act[]>> = {
  up: actsFrom(['off-heat', 'on-heat', 'stirred']),
  down: actsFrom(['stirred', 'off-cold', 'seed-added']),
  hold: actsFrom(['on-heat', 'off-heat', 'topped-up-tempered', 'strip-test-good', 'strip-test-bad', 'dipping-started']),
};

/** A strip that is still tacky is told of where it is asked for, and nowhere else. */
function actsFrom(first: readonly Act[]): readonly Act[] {
  const all = (Object.keys(ACT_NAME) as Act[]).filter((act) => act !== 'strip-tacky');
  return [...first, ...all.filter((act) => !first.includes(act))];
}

const NUMBER_NAME = inLanguage<Readonly<Record<string, string>>>({
  en: {
    bandC: 'band',
    ceilingC: 'ceiling',
    floorC: 'floor',
    holdS: 'hold',
    lostAboveC: 'temper lost',
    onLost: 'After temper is lost',
  },
});

/** What the number at a path of a profile is called: `phases.cool.bandC` is "Cool, band". A path nobody knows stands for itself. */
export function numberName(path: string): string {
  const [, phase, key] = /^phases\.([^.]+)\.(\w+)$/.exec(path) ?? [];
  if (phase === undefined || key === undefined) return NUMBER_NAME[path] ?? path;
  return `${phaseName(phase)}, ${NUMBER_NAME[key] ?? key}`;
}
