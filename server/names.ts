/** What the things in a log are called on the terminal and on paper: the same words as on the page, which has them in its own catalogue. */
import type { Act } from './core/record/command.ts';
import type {
  AlarmName,
  CueName,
  RejectReason,
  RunEvent,
  Standing,
  StandingReason,
  StirReason,
} from './core/record/event.ts';

export const ACT_NAME: Readonly<Record<Act, string>> = {
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
};

export const ALARM_NAME: Readonly<Record<AlarmName, string>> = {
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
};

export const CUE_NAME: Readonly<Record<CueName, string>> = {
  'off-heat': 'off the heat',
  'off-cold': 'off the cold',
  'will-not-reach': 'will not get there like this',
  stir: 'stir',
  'strip-test': 'do the strip test',
  'cool-again': 'cool it again',
  'stir-down': 'stir it down',
  'warm-gently': 'warm it gently',
  'hold-there': 'hold it there',
};

export const STIR_NAME: Readonly<Record<StirReason, string>> = {
  unstirred: 'the reading hardly moved',
  'at-the-wall': 'the tip seemed to be at the wall',
};

export const STANDING_NAME: Readonly<Record<Standing, string>> = {
  'not-made-yet': 'Not in temper yet',
  'in-temper': 'In temper, our estimate',
  unproven: 'Temper not known',
  'at-risk': 'Temper at risk',
  lost: 'Temper lost, our estimate',
};

/** The same of a run that is over. */
export const STANDING_AT_END: Readonly<Record<Standing, string>> = {
  'not-made-yet': 'Temper was never made',
  'in-temper': 'Ended in temper, our estimate',
  unproven: 'Ended, temper not known',
  'at-risk': 'Ended, temper at risk',
  lost: 'Ended, temper lost, our estimate',
};

export const STANDING_WHY: Readonly<Record<StandingReason, string>> = {
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
};

export const REJECT_NAME: Readonly<Record<RejectReason, string>> = {
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
};

const ENTERED_BY = { reached: '', hand: ', by hand', recovery: ', to begin again' } as const;

/** How a phase came to be entered, after its name; nothing of the first, which the run itself began in. */
export function enteredBy({ from, by }: Extract<RunEvent, { kind: 'phase-entered' }>): string {
  return from === null ? '' : ENTERED_BY[by];
}

/** What a cue asked for, and when where it has a moment: "off the heat in 15 s", "off the heat now". */
export function cueTold({ cue, inS }: Extract<RunEvent, { kind: 'cue' }>): string {
  if (inS === undefined) return CUE_NAME[cue];
  return `${CUE_NAME[cue]} ${inS === 0 ? 'now' : `in ${inS} s`}`;
}
