/** The sentence while something is wrong: an alarm, or a number that is not to be trusted. */
import { beforeAll, describe, expect, test } from 'vitest';
import type { AlarmName, EventBody } from '../../server/core/record/event.ts';
import { takeTroubleWords } from '../../web/trouble.ts';
import { ALARM_NAME } from '../../web/words/names.ts';
import { standsStrip } from '../../web/words/alarm-words.ts';
import { sentence } from '../../web/words/sentence.ts';
import * as inFull from '../../web/words/trouble.ts';
import { AGO, at, enter, NOW_MS, PROFILE, raised, viewOf } from '../support/moments.ts';

const working = [AGO, enter('four')] as const;

beforeAll(() => takeTroubleWords(inFull));

describe('alarms', () => {
  test.each([
    [
      { ...raised, alarm: 'overshoot' },
      45,
      at(32.8),
      'Off the heat, and stir.',
      '0.3 over the 32.5 ceiling for 45 s.',
      'page',
    ],
    [
      { ...raised, alarm: 'overshoot' },
      215,
      at(32.9),
      'Off the heat, and stir.',
      '0.4 over the 32.5 ceiling for 3 min 35 s.',
      'page',
    ],
    [
      { ...raised, alarm: 'temper-lost', limitC: 34 },
      20,
      at(34.3),
      'Stop dipping.',
      '0.3 over the 34 limit of temper for 20 s.',
      'page',
    ],
    [
      { ...raised, alarm: 'scorch', limitC: 52 },
      8,
      at(52.6),
      'Off the heat. Stir hard.',
      '0.6 over the 52 scorch ceiling for 8 s.',
      'page',
    ],
    [
      { ...raised, alarm: 'overshoot-ahead', inS: 40, peakC: 33.1 },
      5,
      at(32.1),
      'Off the heat now.',
      'Over the 32.5 ceiling in about 35 s, up to 33.1.',
      'band',
    ],
    [
      { ...raised, alarm: 'scorch-ahead', limitC: 52, inS: 20, peakC: 53 },
      0,
      at(51),
      'Off the heat now.',
      'Over the 52 scorch ceiling in about 20 s, up to 53.0.',
      'band',
    ],
    [
      { ...raised, alarm: 'undershoot-ahead', limitC: 26, inS: 40 },
      0,
      at(26.5),
      'Out of the cold.',
      'Under the 26 floor in about 40 s.',
      'band',
    ],
    [
      { ...raised, alarm: 'undershoot', limitC: 26 },
      30,
      at(25.6),
      'Warm the bowl for 10 s.',
      '0.4 under the 26 floor for 30 s. It will thicken.',
      'band',
    ],
    [
      { ...raised, alarm: 'not-cooled-enough', valueC: 28.6, limitC: 27.5 },
      30,
      at(29.4),
      'Cool it again.',
      'It only got down to 28.6; the seed needs 27.5.',
      'band',
    ],
    [
      { ...raised, alarm: 'below-working', severity: 'notice', limitC: 30.5 },
      60,
      at(30.2),
      'Stop. Warm it gently.',
      '0.3 under the 30.5 floor for 1 min.',
      'words',
    ],
    [
      { ...raised, alarm: 'probe-silent', limitC: null },
      70,
      at(31.6, {}, { reading: { valueC: 31.6, atMs: NOW_MS - 80_000, quality: 'good' } }),
      'No reading for 80 s.',
      'Watch the bowl by eye. Check the plug.',
      'band',
    ],
    [
      { ...raised, alarm: 'probe-silent', limitC: null },
      70,
      at(
        31.6,
        {},
        {
          reading: { valueC: 31.6, atMs: NOW_MS - 80_000, quality: 'good' },
          link: {
            state: 'looking',
            why: 'No thermometer is in this bowl yet. Under “Bowls”, say which probe is in it.',
          },
        },
      ),
      'No reading for 80 s.',
      'Watch the bowl by eye. Under “Bowls”, say which probe is in it.',
      'band',
    ],
    [
      { ...raised, alarm: 'probe-lifted', limitC: null },
      12,
      at(31.6, {}, { probeOutSinceMs: NOW_MS - 72_000 }),
      'Put the probe back.',
      'Out of the bowl for 72 s. Still recording.',
      'band',
    ],
  ] as const)(
    'says what, by how much against which limit, and for how long: %#',
    (alarm, agoS, now, act, detail, area) => {
      const said = sentence(viewOf(working, [agoS, alarm as EventBody]), now, PROFILE);
      expect([said.act, said.detail, said.area]).toEqual([act, detail, area]);
    },
  );

  test('once seen, the sentence is the way back', () => {
    const view = viewOf(
      working,
      [60, { ...raised, alarm: 'overshoot' }],
      [20, { kind: 'alarm-acknowledged', alarm: 'overshoot' }],
    );
    expect(sentence(view, at(32.9, { rateCPerMin: -0.2 }), PROFILE)).toMatchObject({
      act: 'Stir. Don’t dip yet.',
      detail: 'Back under in about 2 min. Then the strip test.',
      area: 'words',
    });
    expect(sentence(view, at(32.9, { rateCPerMin: 0.3 }), PROFILE).detail).toBe(
      'Still 0.4 over 32.5. Then the strip test.',
    );
  });

  test('one nobody has seen speaks before a worse one that has been seen', () => {
    const view = viewOf(
      working,
      [60, { ...raised, alarm: 'overshoot' }],
      [50, { kind: 'alarm-acknowledged', alarm: 'overshoot' }],
      [30, { ...raised, alarm: 'probe-lifted', limitC: null }],
    );
    expect(sentence(view, at(32.7), PROFILE).act).toBe('Put the probe back.');
  });
});

describe('when the number is not to be trusted', () => {
  test('late first, then missing', () => {
    const late = (ms: number) =>
      at(31.6, {}, { stale: true, estimate: null, reading: { valueC: 31.6, atMs: NOW_MS - ms, quality: 'good' } });
    const view = viewOf([AGO, enter('four')]);
    expect(sentence(view, late(6_000), PROFILE)).toMatchObject({
      act: 'Reading is late.',
      detail: 'Was 31.6, 6 s ago.',
    });
    expect(sentence(view, late(80_000), PROFILE).act).toBe('No reading for 80 s.');
  });

  test('a link that is down gives its own reason', () => {
    const why = 'The thermometer was unplugged, or its cable is loose.';
    const view = viewOf([AGO, enter('four')], [1, { kind: 'link', up: false, why }]);
    const now = at(31.6, {}, { stale: true, estimate: null });
    expect(sentence(view, now, PROFILE)).toMatchObject({ act: 'No thermometer.', detail: why });
  });

  test('a probe out of the bowl is asked back before anything else is said', () => {
    const now = at(24, {}, { probeOutSinceMs: NOW_MS - 12_000 });
    expect(sentence(viewOf([AGO, enter('four')]), now, PROFILE)).toMatchObject({
      act: 'Put the probe back.',
      detail: 'Out of the bowl for 12 s. Still recording.',
    });
  });
});

describe('before the words in full are here', () => {
  beforeAll(() => takeTroubleWords(null));

  test.each(Object.keys(ALARM_NAME) as AlarmName[])('%s says what to do first, and which alarm it is', (alarm) => {
    const view = viewOf(working, [20, { ...raised, alarm }]);
    const said = sentence(view, at(31.6), PROFILE);
    takeTroubleWords(inFull);
    const later = sentence(view, at(31.6), PROFILE);
    takeTroubleWords(null);
    expect(said).toEqual({
      ...later,
      act: alarm === 'probe-silent' ? 'Watch the bowl by eye.' : later.act,
      detail: said.detail,
    });
    expect(said.detail).toMatch(/^[A-Z].*\.$/);
    expect(said.detail.toLowerCase()).toContain(ALARM_NAME[alarm].split(' the ').at(-1)!);
  });

  test('one that was seen still says it, and a link that is down gives its reason', () => {
    const seen = viewOf(
      working,
      [60, { ...raised, alarm: 'overshoot' }],
      [20, { kind: 'alarm-acknowledged', alarm: 'overshoot' }],
    );
    expect(sentence(seen, at(32.9), PROFILE)).toMatchObject({
      act: 'Off the heat, and stir.',
      detail: 'Over the 32.5 ceiling.',
      area: 'words',
    });
    const why = 'The thermometer was unplugged, or its cable is loose.';
    const down = viewOf(working, [1, { kind: 'link', up: false, why }]);
    const now = at(31.6, {}, { stale: true, estimate: null });
    expect(sentence(down, now, PROFILE)).toMatchObject({ act: 'No thermometer.', detail: why });
  });
});

test('the strip of an alarm that was seen counts on, but claims nothing that nobody read', () => {
  const [over] = viewOf(working, [300, { ...raised, alarm: 'overshoot' }]).alarms;
  expect(standsStrip(over!, at(32.9))).toBe('Over the 32.5 ceiling for 5 min');
  const unread = { ...at(32.9), estimate: null, stale: true };
  expect(standsStrip(over!, unread)).toBe('Over the 32.5 ceiling when last read');
  const [silent] = viewOf(working, [240, { ...raised, alarm: 'probe-silent', limitC: null }]).alarms;
  expect(standsStrip(silent!, unread)).toBe('No reading for 4 min');
});
