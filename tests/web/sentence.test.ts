/** The sentence at the top of the page, state by state: act first, then a number and a time. */
import { beforeAll, describe, expect, test } from 'vitest';
import type { Act } from '../../server/core/record/command.ts';
import type { EventBody } from '../../server/core/record/event.ts';
import { emptyView } from '../../server/core/show/view.ts';
import { FIRST_STRIP_MS } from '../../server/core/watch/bounds.ts';
import { SETS_IN_MS } from '../../web/strip-test.ts';
import { takeTroubleWords } from '../../web/trouble.ts';
import { phaseWords, sentence } from '../../web/words/sentence.ts';
import { FIRST_TEST_CUE_MS } from '../../web/words/en/course-trouble.ts';
import * as inFull from '../../web/words/trouble.ts';
import { AGO, at, enter, NOW_MS, PROFILE, raised, stands, viewOf } from '../support/moments.ts';

beforeAll(() => takeTroubleWords(inFull));

describe('phases', () => {
  test.each([
    [
      'melt',
      'one',
      at(40, { etaS: 540, etaLowS: 420, etaHighS: 700 }),
      'Melt it all.',
      '46 °C in about 9 min, 7 to 12. Stir now and then.',
    ],
    [
      'melt, solid left',
      'one',
      at(34.1, { rateCPerMin: 0.02 }),
      'Keep melting.',
      '34.1 and standing still: lumps are still melting.',
    ],
    [
      'cool, early',
      'two',
      at(44, { etaS: 690, etaLowS: 340, etaHighS: 1040 }),
      'Keep stirring.',
      '27.5 °C in 6 to 17 min.',
    ],
    [
      'cool, later',
      'two',
      at(30.8, { etaS: 240, etaLowS: 200, etaHighS: 300 }),
      'Keep stirring.',
      '27.5 °C in about 4 min.',
    ],
    [
      'cool, holding',
      'two',
      at(27.1, { etaS: 0 }, { dwellLeftS: 120 }),
      'Stir, and hold it there.',
      '27.1 °C. 2 min more for the seed.',
    ],
    ['rewarm', 'three', at(29, { etaS: 180, etaLowS: 150, etaHighS: 220 }), 'Warm it gently.', '31 °C in about 3 min.'],
    [
      'rewarm, landed',
      'three',
      at(31.6, { etaS: 0, rateCPerMin: 0 }, { dwellLeftS: 0 }),
      'Do the strip test.',
      '31.6 and still. Look after 4 min.',
    ],
    ['work', 'four', at(31.6, { rateCPerMin: 0 }), 'Dip.', 'Holding for 24 min, 0.9 under the ceiling.'],
    ['work, drifting', 'four', at(31.4, { rateCPerMin: -0.1 }), 'Dip. Warm it soon.', 'Under the band in about 4 min.'],
    [
      'work, low',
      'four',
      at(30.8, { rateCPerMin: -0.1 }),
      'Warm it gently.',
      '0.2 under the band, for seconds at a time.',
    ],
    ['work, high', 'four', at(32.3), 'Off the heat, and stir.', '0.3 over the band.'],
    [
      'cool, in between',
      'two',
      at(30.8, { etaS: 250, etaLowS: 180, etaHighS: 350 }),
      'Keep stirring.',
      '27.5 °C in about 4 min, 3 to 6.',
    ],
    [
      'nothing known of the time',
      'two',
      at(40, { rateCPerMin: -1 }),
      'Keep stirring.',
      'To 27.5 °C. Not sure yet when.',
    ],
    [
      'rising, it seems, but nobody knows yet',
      'two',
      at(28.6, {}, { isRateUnknown: true }),
      'Keep stirring.',
      'To 27.5 °C. Not sure yet when.',
    ],
    [
      'standing still, it seems',
      'one',
      at(23, { rateCPerMin: 0 }, { isRateUnknown: true }),
      'Melt it all.',
      'To 46 °C. Not sure yet when. Stir now and then.',
    ],
    [
      'drifting, it seems',
      'four',
      at(31.4, { rateCPerMin: -0.1 }, { isRateUnknown: true }),
      'Dip.',
      'Holding for 24 min, 1.1 under the ceiling.',
    ],
    ['going the wrong way', 'two', at(28.6), 'Keep stirring.', 'Rising, away from 27.5 °C.'],
    ['the wrong way, up', 'three', at(29, { rateCPerMin: -0.3 }), 'Warm it gently.', 'Falling, away from 31 °C.'],
    [
      'standing still',
      'two',
      at(28.6, { rateCPerMin: -0.02 }),
      'Keep stirring.',
      'Standing still, 1.1 short of 27.5 °C.',
    ],
    [
      'levelling off before it is there',
      'two',
      at(29, { rateCPerMin: -0.2, peakC: 28.4 }),
      'Keep stirring.',
      'Levels off near 28.4, short of 27.5 °C.',
    ],
    [
      'levelling off before it is there, up',
      'three',
      at(29, { rateCPerMin: 0.2, peakC: 29.8 }),
      'Warm it gently.',
      'Levels off near 29.8, short of 31 °C.',
    ],
    [
      'levelling off too near to say',
      'two',
      at(29, { rateCPerMin: -0.3, peakC: 27.6 }),
      'Keep stirring.',
      '27.5 °C only just, if at all.',
    ],
    [
      'further off than anybody plans',
      'two',
      at(29, { rateCPerMin: -0.1, peakC: 26 }),
      'Keep stirring.',
      'More than an hour to 27.5 °C.',
    ],
    [
      'not stirred',
      'two',
      at(30.8, { etaS: 240, etaLowS: 200, etaHighS: 300 }, { unsure: 'unstirred' }),
      'Keep stirring.',
      'To 27.5 °C. Stir it to know when.',
    ],
    [
      'at the wall',
      'three',
      at(29, { etaS: 240, etaLowS: 200, etaHighS: 300 }, { unsure: 'at-the-wall' }),
      'Warm it gently.',
      'To 31 °C. Tip off the wall to know when.',
    ],
    [
      'probe just back',
      'three',
      at(29, { etaS: 240, etaLowS: 200, etaHighS: 300 }, { unsure: 'just-back' }),
      'Warm it gently.',
      'To 31 °C. The time in a moment.',
    ],
    [
      'work, not stirred',
      'four',
      at(31.6, { rateCPerMin: -0.1 }, { unsure: 'unstirred' }),
      'Dip.',
      '31.6 at the tip. Stir, to know the bowl.',
    ],
    [
      'no upper end to the time',
      'three',
      at(29, { etaS: 300, etaLowS: 240 }),
      'Warm it gently.',
      '31 °C in 4 min or more.',
    ],
  ])('%s', (_, phase, now, act, detail) => {
    const said = sentence(viewOf([AGO, enter(phase)], [AGO, stands('in-temper', 'seeded-and-rewarmed')]), now, PROFILE);
    expect([said.act, said.detail, said.area]).toEqual([act, detail, 'words']);
  });

  test('what comes then is the next two steps of the method', () => {
    const said = sentence(viewOf([AGO, enter('two')]), at(30), PROFILE);
    expect(said.later).toEqual(['Then hold 3 min at 27.', 'Then rewarm to 31.5.']);
  });

  test('while dipping, the strip test comes round every half hour', () => {
    const tested = (agoS: number) =>
      viewOf(
        [40 * 60, enter('four')],
        [agoS, { kind: 'act', act: 'strip-test-good' }],
        [agoS, stands('in-temper', 'strip-test-good')],
      );
    expect(sentence(tested(20 * 60), at(31.6), PROFILE).later).toEqual(['Strip test again in 10 min.']);
    expect(sentence(tested(34 * 60), at(31.6), PROFILE).later).toEqual(['Strip test again:', '34 min since the last.']);
  });

  test.each([
    ['nothing told', [], 'Strip test before you dip.', '31.6, 0.9 under the ceiling.'],
    ['unproven', [stands('unproven', 'gap')], 'Strip test before you dip.', '31.6, 0.9 under the ceiling.'],
    ['at risk', [stands('at-risk', 'over-ceiling')], 'Strip test before you dip.', '31.6, 0.9 under the ceiling.'],
    ['tested', [stands('in-temper', 'strip-test-good')], 'Dip.', 'Holding for 24 min, 0.9 under the ceiling.'],
  ])('dipping is only told to chocolate in temper: %s', (_, told, act, detail) => {
    const view = viewOf([AGO, enter('four')], ...told.map((body) => [60, body] as const));
    const said = sentence(view, at(31.6, { rateCPerMin: 0 }), PROFILE);
    expect([said.act, said.detail]).toEqual([act, detail]);
    const sinking = sentence(view, at(31.4, { rateCPerMin: -0.1 }), PROFILE);
    expect(sinking.act).toBe(act === 'Dip.' ? 'Dip. Warm it soon.' : act);
  });

  test('what thickens in the low half is lifted to the middle, and tested before it is dipped', () => {
    const view = viewOf([60 * 60, enter('four')], [60, stands('at-risk', 'low-for-long')]);
    const said = sentence(view, at(31.2, { rateCPerMin: 0 }), PROFILE);
    expect([said.act, said.detail]).toEqual([
      'Thicker? Lift it 0.3.',
      'Over 40 min in the low half. Strip test before you dip.',
    ]);
    expect(sentence(view, at(31.45, { rateCPerMin: 0 }), PROFILE).act).toBe('Strip test before you dip.');
    const over = viewOf([60 * 60, enter('four')], [60, stands('at-risk', 'over-ceiling')]);
    expect(sentence(over, at(31.2, { rateCPerMin: 0 }), PROFILE).act).toBe('Strip test before you dip.');
  });

  test('straight after rewarming the strip test is asked for until one lies there or its cue comes, and nothing is dipped before', () => {
    const work = (agoS: number, ...acts: readonly Act[]) =>
      viewOf(
        [600, enter('three')],
        [agoS, enter('four')],
        [agoS, stands('in-temper', 'seeded-and-rewarmed')],
        ...acts.map((act) => [agoS, { kind: 'act', act }] as const),
      );
    const said = sentence(work(10), at(31.6, { rateCPerMin: 0 }), PROFILE);
    expect([said.act, said.detail]).toEqual(['Do the strip test.', '31.6 and still. Look after 4 min.']);
    expect(sentence(work(10, 'strip-laid'), at(31.6), PROFILE).act).toBe('Dip.');
    expect(sentence(work(10, 'strip-test-good'), at(31.6), PROFILE).act).toBe('Dip.');
    expect(sentence(work(10), at(32.3), PROFILE).act).toBe('Off the heat, and stir.');
    expect(sentence(work(FIRST_STRIP_MS / 1000), at(31.6), PROFILE).act).toBe('Dip.');
    expect(FIRST_TEST_CUE_MS).toBe(FIRST_STRIP_MS);
  });

  test('a strip that lies there is waited for, or dipped meanwhile; in time it is to be looked at', () => {
    const unproven = viewOf([AGO, enter('four')], [60, stands('unproven', 'gap')]);
    const inTemper = viewOf([AGO, enter('four')], [60, stands('in-temper', 'seeded-and-rewarmed')]);
    const laid = (agoS: number) => {
      const laidAtMs = NOW_MS - agoS * 1000;
      return { id: 'event-9', laidAtMs, lookAtMs: laidAtMs + SETS_IN_MS, isSecondLook: false };
    };
    expect(sentence(unproven, at(31.6), PROFILE, laid(60)).act).toBe('Wait for the strip.');
    expect(sentence(inTemper, at(31.6), PROFILE, laid(60)).act).toBe('Dip.');
    const asked = viewOf(
      [AGO, enter('four')],
      [70, stands('in-temper', 'seeded-and-rewarmed')],
      [70, { kind: 'cue', cue: 'strip-test', phase: 'four' }],
    );
    expect(sentence(asked, at(31.6), PROFILE).act).toBe('Do the strip test.');
    expect(sentence(asked, at(31.6), PROFILE, laid(60)).act).toBe('Dip.');
    const said = sentence(inTemper, at(31.6), PROFILE, laid(245));
    expect([said.act, said.detail]).toEqual(['Look at the strip.', '4 min gone. Set, even, no streaks?']);
    const hot = viewOf([AGO, enter('four')], [5, { ...raised, alarm: 'overshoot' }]);
    expect(sentence(hot, at(32.8), PROFILE, laid(245)).act).toBe('Off the heat, and stir.');
  });

  test('phases are told by heading and place: the second up is a rewarm whatever it is called', () => {
    expect(PROFILE.phases.map((_, i) => phaseWords(PROFILE, i))).toEqual(['melt', 'cool', 'rewarm', 'work']);
  });

  test('a profile that never cools speaks with its own cue', () => {
    const syrup = {
      ...PROFILE,
      phases: [{ id: 'boil', heading: 'up', bandC: [115, 118], cue: 'Boil it down.' }],
    } as const;
    const said = sentence(viewOf([60, enter('boil')]), at(100, { etaS: 240, etaLowS: 230, etaHighS: 250 }), syrup);
    expect([said.act, said.detail]).toEqual(['Boil it down.', '115 °C in about 4 min.']);
  });

  test('before the first phase the probe is asked for', () => {
    expect(sentence(emptyView, at(21.4), PROFILE)).toMatchObject({
      act: 'Put the probe in.',
      detail: 'In the middle, off the wall. 21.4 °C now.',
    });
  });
});

describe('cues', () => {
  const cue = { kind: 'cue', cue: 'off-heat', phase: 'three', inS: 18, landsC: 31.6 } as const;

  test('off the heat is a band that counts down to its moment, says where it lands, and points up', () => {
    const said = sentence(viewOf([AGO, enter('three')], [6, cue]), at(30.2), PROFILE);
    expect(said).toMatchObject({
      act: 'Off the heat in 12 s.',
      detail: 'Then it coasts to 31.6.',
      area: 'band',
      arm: 'up',
      leftS: 12,
    });
  });

  test('at its moment it says now, and 20 s after it the phase’s own words come back', () => {
    const view = (agoS: number) => viewOf([AGO, enter('three')], [agoS, cue]);
    expect(sentence(view(20), at(30.6), PROFILE)).toMatchObject({ act: 'Off the heat now.', leftS: null });
    expect(sentence(view(39), at(30.9), PROFILE).area).toBe('words');
  });

  test('off the cold points to the left', () => {
    const cold = { kind: 'cue', cue: 'off-cold', phase: 'two', inS: 0, landsC: 26.9 } as const;
    const said = sentence(viewOf([AGO, enter('two')], [1, cold]), at(27.6), PROFILE);
    expect(said).toMatchObject({ act: 'Off the cold now.', detail: 'It will drift down to 26.9.', arm: 'left' });
  });

  test('at its moment it says where it lands if left now, as the road does, and when', () => {
    const view = viewOf([AGO, enter('three')], [20, cue]);
    const fanIfLeft = [
      { inS: 30, lowC: 30.8, medianC: 31.1, highC: 31.4 },
      { inS: 120, lowC: 31.2, medianC: 31.72, highC: 32.1 },
      { inS: 180, lowC: 31.2, medianC: 31.8, highC: 32.3 },
    ];
    expect(sentence(view, at(30.6, {}, { fanIfLeft }), PROFILE).detail).toBe('It will coast to 31.8 in about 2 min.');
    expect(sentence(view, at(30.6), PROFILE).detail).toBe('It will coast to 31.6.');
    const unsure = at(30.6, {}, { fanIfLeft, unsure: 'unstirred' });
    expect(sentence(view, unsure, PROFILE).detail).toBe('Stir it too: where it ends is not sure.');
  });

  test.each([
    ['unstirred', 'It hardly moves: it tells nothing of the rest.'],
    ['at-the-wall', 'The tip seems to be at the wall: hold it in the middle.'],
    [undefined, 'The bowl may be uneven.'],
  ] as const)('stir says why: %s', (why, detail) => {
    const body: EventBody = { kind: 'cue', cue: 'stir', phase: 'two', ...(why === undefined ? {} : { why }) };
    expect(sentence(viewOf([AGO, enter('two')], [2, body]), at(30), PROFILE).detail).toBe(detail);
  });

  test.each([
    ['two', { landsC: 28.42, bathC: 18 }, 'Colder water.', 'Levels off at 28.4. Set the bowl in 18 °C water.'],
    ['three', { landsC: 29.6, bathC: 38.4 }, 'Warmer water.', 'Levels off at 29.6. Set the bowl in 38 °C water.'],
    ['two', { bathC: 18 }, 'Colder water.', 'Set the bowl in 18 °C water.'],
    ['two', { landsC: 28.42 }, 'Colder water.', 'Levels off at 28.4, short of 27.5 °C.'],
    ['three', { bathC: 120 }, 'Warmer air.', 'Set the bowl in 120 °C air.'],
    ['two', {}, 'Colder water.', 'Rising 1.0 a minute; that takes too long to 27.5 °C.'],
  ] as const)('will not reach %s, knowing %j', (phase, known, act, detail) => {
    const body: EventBody = { kind: 'cue', cue: 'will-not-reach', phase, ...known };
    const said = sentence(viewOf([AGO, enter(phase)], [2, body]), at(29), PROFILE);
    expect([said.act, said.detail]).toEqual([act, detail]);
  });

  test('will not reach is said no more once the bowl has gone on past where it was to end', () => {
    const body: EventBody = { kind: 'cue', cue: 'will-not-reach', phase: 'three', landsC: 27.2, bathC: 70 };
    const view = viewOf([AGO, enter('three')], [60, body]);
    expect(sentence(view, at(27.3), PROFILE).act).toBe('Warmer water.');
    expect(sentence(view, at(28.9, { rateCPerMin: 1.5 }), PROFILE).act).toBe('Warm it gently.');
  });

  test.each([
    ['stir', 'four', 'Stir, then believe it.'],
    ['strip-test', 'four', 'Do the strip test.'],
    ['will-not-reach', 'two', 'Colder water.'],
    ['will-not-reach', 'three', 'Warmer water.'],
    ['cool-again', 'three', 'Cool it again.'],
    ['stir-down', 'four', 'Off the heat, and stir.'],
    ['warm-gently', 'four', 'Warm it gently.'],
    ['hold-there', 'two', 'Stir, and hold it there.'],
  ] as const)('%s in %s is words only', (name, phase, act) => {
    const said = sentence(viewOf([AGO, enter(phase)], [2, { kind: 'cue', cue: name, phase }]), at(31.2), PROFILE);
    expect([said.act, said.area]).toEqual([act, 'words']);
  });
});

describe('manners', () => {
  test('no sentence shouts, blames or promises', () => {
    const said = PROFILE.phases.flatMap(({ id }) =>
      [24, 27, 31.6, 33, 48].map((tempC) => sentence(viewOf([AGO, enter(id)]), at(tempC), PROFILE)),
    );
    for (const { act, detail } of said) {
      expect(`${act} ${detail}`).not.toMatch(/!|please|oops|error|invalid|threshold|critical|safe|temper is good/i);
      expect(act.split(' ').length).toBeLessThanOrEqual(6);
    }
  });
});
