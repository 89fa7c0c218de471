/** The standing's sheet: word, reason with its figures, the shortest way on. */
import { describe, expect, test } from 'vitest';
import type { EventBody, Standing, StandingReason } from '../../server/core/record/event.ts';
import type { Profile } from '../../server/core/record/profile.ts';
import { emptyView, foldEvents } from '../../server/core/show/view.ts';
import type { View } from '../../server/core/show/view.ts';
import { NO_MOMENT } from '../../web/moment.ts';
import type { Moment } from '../../web/words/sentence.ts';
import { hasStanding, maySayStanding } from '../../web/words/standing.ts';
import { STANDING_IS_A_GUESS, standingWords } from '../../web/words/standing-why.ts';
import { OVERSHOOT } from '../support/alarm.ts';
import { DARK, nowAt } from '../support/scenes.ts';

const NOW_MS = 3_600_000;

/** Events with how long ago they came, s. */
function viewOf(...told: readonly (readonly [agoS: number, body: EventBody])[]): View {
  const events = told.map(([agoS, body], i) => ({ ...body, seq: i + 1, atMs: NOW_MS - agoS * 1000 }));
  return foldEvents(emptyView, events);
}

function at(tempC: number, more: Partial<Moment> = {}): Moment {
  return { ...NO_MOMENT, atMs: NOW_MS, stale: false, estimate: { ...nowAt({ min: 1 }).estimate!, tempC }, ...more };
}

const enter = (phase: string): EventBody => ({ kind: 'phase-entered', phase, from: null, by: 'reached' });
const stands = (standing: Standing, why: StandingReason): EventBody => ({ kind: 'standing', standing, why });
const reached: EventBody = { kind: 'band-reached', phase: 'cool', valueC: 27.9 };
const lost: EventBody = { ...OVERSHOOT, alarm: 'temper-lost', severity: 'critical', valueC: 34.1, limitC: 34 };
const unmade = [3000, stands('not-made-yet', 'seed-not-made')] as const;
const work = [2000, enter('work')] as const;

const CASES: readonly (readonly [string, View, Moment, name: string, why: string, next: string])[] = [
  [
    'melting',
    viewOf([3000, enter('melt')], unmade),
    at(40),
    'Not in temper yet',
    'Not down to 28 yet: no seed made.',
    'Melt it all. Then cool to 28, stirring.',
  ],
  [
    'cooling',
    viewOf([600, enter('cool')], unmade),
    at(33),
    'Not in temper yet',
    'Not down to 28 yet: no seed made.',
    'Cool to 28, stirring.',
  ],
  [
    'seeding',
    viewOf([600, enter('cool')], unmade, [60, reached]),
    at(27.5, { dwellLeftS: 130 }),
    'Not in temper yet',
    'Under 28; 2 min more for the seed.',
    'Hold it there, stirring.',
  ],
  [
    'rewarming',
    viewOf([600, enter('cool')], unmade, [200, reached], [20, enter('rewarm')]),
    at(29),
    'Not in temper yet',
    'Cooled to 28; not rewarmed yet.',
    'Warm it gently. Then the strip test.',
  ],
  [
    'made',
    viewOf(work, [2000, stands('in-temper', 'seeded-and-rewarmed')]),
    at(31.5),
    'In temper, our estimate',
    'Cooled to 28, held 3 min, rewarmed.',
    'Dip. Strip test every half hour.',
  ],
  [
    'made again',
    viewOf(work, [2000, stands('in-temper', 'made-again')]),
    at(31.5),
    'In temper, our estimate',
    'Was lost; cooled to 28 again and rewarmed.',
    'Strip test first, then dip.',
  ],
  [
    'tested',
    viewOf(work, [1320, stands('in-temper', 'strip-test-good')]),
    at(31.5),
    'In temper, our estimate',
    'The strip test was good, 22 min ago.',
    'Dip. Strip test every half hour.',
  ],
  [
    'tested, not good',
    viewOf(work, [240, stands('unproven', 'strip-test-bad')]),
    at(31.5),
    'Temper not known',
    'The strip test was not good, 4 min ago.',
    'Stir well, test again. Still not good: cool to 28.',
  ],
  [
    'said to be tempered',
    viewOf(work, [2000, stands('unproven', 'started-tempered')]),
    at(31.5),
    'Temper not known',
    'You said it came tempered. Not tested.',
    'Strip test before you dip.',
  ],
  [
    'skipped',
    viewOf(work, [2000, stands('unproven', 'forced-step')]),
    at(31.5),
    'Temper not known',
    'A step was skipped by hand.',
    'Strip test before you dip.',
  ],
  [
    'unseen',
    viewOf(work, [200, stands('unproven', 'gap')]),
    at(31.5),
    'Temper not known',
    'More than a minute without a good reading.',
    'Strip test before you dip.',
  ],
  [
    'over',
    viewOf(work, [95, OVERSHOOT], [30, stands('at-risk', 'over-ceiling')]),
    at(32.9),
    'Temper at risk',
    '32.9, over 32.5 for 1 min 35 s.',
    'Off the heat, stir it down. Strip test.',
  ],
  [
    'was over',
    viewOf(
      work,
      [400, OVERSHOOT],
      [300, stands('at-risk', 'over-ceiling')],
      [185, { kind: 'alarm-cleared', alarm: 'overshoot', lastedMs: 215_000, extremeC: 32.9 }],
    ),
    at(31.8),
    'Temper at risk',
    'Up to 32.9, over 32.5 for 3 min 35 s.',
    'Stir. Strip test before you dip.',
  ],
  [
    'over for a little at a time, without an alarm',
    viewOf(work, [30, stands('at-risk', 'over-ceiling')]),
    at(32.4),
    'Temper at risk',
    'It has been over the ceiling.',
    'Off the heat, stir it down. Strip test.',
  ],
  [
    'low',
    viewOf(work, [30, stands('at-risk', 'low-for-long')]),
    at(31.2),
    'Temper at risk',
    'Under 31.5 for over 40 min: crystals grow.',
    'Warm it to the upper half, stir. Strip test.',
  ],
  [
    'going',
    viewOf(work, [3, stands('at-risk', 'above-lost')]),
    at(34.2),
    'Temper at risk',
    '34.2, over 34: no seed left.',
    'Off the heat, stir it down. No strip test counts so warm.',
  ],
  [
    'gone',
    viewOf(work, [45, lost], [45, stands('lost', 'above-lost')]),
    at(34.3),
    'Temper lost, our estimate',
    '34.3, over 34 for 45 s.',
    'No lumps: cool to 28 with fresh seed. Lumps: melt it first.',
  ],
];

describe('each standing and each reason', () => {
  test.each(CASES)('%s', (_, view, now, name, why, next) => {
    expect(standingWords(view, now, DARK, true)).toMatchObject({ name, why, next });
  });

  test('has its reason in under ten words', () => {
    for (const [, view, now] of CASES) {
      const { why } = standingWords(view, now, DARK, true);
      expect(why.replaceAll(/(\d) (min|s|h)\b/g, '$1$2').split(' ').length, why).toBeLessThan(10);
    }
  });

  test('every reason there is has been said here', () => {
    const reasons: Readonly<Record<StandingReason, true>> = {
      'seed-not-made': true,
      'seeded-and-rewarmed': true,
      'started-tempered': true,
      'forced-step': true,
      gap: true,
      'over-ceiling': true,
      'low-for-long': true,
      'above-lost': true,
      'strip-test-good': true,
      'strip-test-bad': true,
      'made-again': true,
    };
    expect(new Set(CASES.map(([, view]) => view.standing!.why))).toEqual(new Set(Object.keys(reasons)));
  });
});

test('a profile that begins again with the melt says so', () => {
  const { onLost: _, ...melting } = DARK;
  const view = viewOf(work, [45, stands('lost', 'above-lost')]);
  expect(standingWords(view, at(33), melting, true)).toMatchObject({
    why: 'Was over 34: no seed left.',
    next: 'Melt it all again. Then cool to 28.',
  });
});

test('nothing is claimed of an old number', () => {
  const view = viewOf(work, [2000, stands('in-temper', 'seeded-and-rewarmed')]);
  expect(standingWords(view, at(31.5), DARK, false)).toMatchObject({
    name: 'Temper not known',
    why: 'No reading to tell it by.',
    isTestable: false,
  });
});

test('a strip test is offered where it would tell more than we can', () => {
  const offered = (standing: Standing, why: StandingReason): boolean =>
    standingWords(viewOf(work, [9, stands(standing, why)]), at(31.5), DARK, true).isTestable;
  expect(offered('in-temper', 'seeded-and-rewarmed')).toBe(true);
  expect(offered('at-risk', 'low-for-long')).toBe(true);
  expect(offered('lost', 'above-lost')).toBe(false);
  expect(offered('not-made-yet', 'seed-not-made')).toBe(false);
});

test('T4 no strip test is asked for where it is so warm that none would count', () => {
  for (const [standing, why] of [
    ['at-risk', 'above-lost'],
    ['unproven', 'gap'],
  ] as const) {
    const told = standingWords(viewOf(work, [5, stands(standing, why)]), at(34.2), DARK, true);
    expect(told).toMatchObject({
      next: 'Off the heat, stir it down. No strip test counts so warm.',
      isTestable: false,
    });
    expect(standingWords(viewOf(work, [5, stands(standing, why)]), at(31.5), DARK, true).isTestable).toBe(true);
  }
});

test('in temper is not said in one breath with an alarm that forbids to dip; what is worse is', () => {
  const told = (standing: Standing, why: StandingReason, ...alarms: EventBody[]): boolean =>
    maySayStanding(viewOf(work, [60, stands(standing, why)], ...alarms.map((alarm) => [20, alarm] as const)));
  expect(told('in-temper', 'seeded-and-rewarmed')).toBe(true);
  expect(told('in-temper', 'seeded-and-rewarmed', OVERSHOOT)).toBe(false);
  expect(told('in-temper', 'seeded-and-rewarmed', { ...OVERSHOOT, alarm: 'overshoot-ahead' })).toBe(true);
  expect(told('at-risk', 'over-ceiling', OVERSHOOT)).toBe(true);
  expect(told('lost', 'above-lost', lost)).toBe(true);
});

test('it is told as an estimate, and promises nothing', () => {
  expect(STANDING_IS_A_GUESS).toMatch(/estimate.*strip test decides/);
  for (const [, view, now] of CASES) {
    const { name, why, next } = standingWords(view, now, DARK, true);
    expect(`${name} ${why} ${next}`).not.toMatch(/!|please|safe|temper is good/i);
  }
});

test('a profile that never cools has none', () => {
  const paste: Profile = { ...DARK, phases: [{ id: 'keep', heading: 'hold', bandC: [55, 65] }] };
  expect([hasStanding(DARK), hasStanding(paste)]).toEqual([true, false]);
});
