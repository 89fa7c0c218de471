/** What the log tells by name beside what stands on the page of a run: cues, and the reasons for things. */
import type { CueName, RejectReason, StandingReason, StirReason } from '../../server/core/record/event.ts';
import { inLanguage } from './language.ts';

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

export const STANDING_WHY = inLanguage<Readonly<Record<StandingReason, string>>>({
  en: {
    'seed-not-made': 'no seed made',
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
