/** What the road and the number are fed of what is to be expected: fan, fork, and whether either is sure. */
import { describe, expect, test } from 'vitest';
import type { EventBody } from '../../server/core/record/event.ts';
import { foldEvents, openView } from '../../server/core/show/view.ts';
import type { NowMessage } from '../../server/core/show/wire.ts';
import { nothingYet } from '../../web/live.ts';
import type { LiveState } from '../../web/live.ts';
import { momentOf } from '../../web/moment.ts';
import { aheadOf, leftOnOf, liveRoad } from '../../web/outlook.ts';
import { headOf } from '../../web/road/head.ts';
import { layOut } from '../../web/road/sheet.ts';
import { SCENES } from '../support/road/scenes.ts';
import { easing, eventsUpTo, infoOf, msAt, nowAt } from '../support/scenes.ts';

const LEFT_ON = easing(30.2, 1.1, 900);
const LEFT = easing(30.2, 1.1, 60);

function live(
  min: number,
  further: readonly EventBody[] = [],
  now: Partial<NowMessage> = {},
  more: Partial<LiveState> = {},
): LiveState {
  return {
    ...nothingYet(),
    connection: 'open',
    isKnown: true,
    view: foldEvents(openView(infoOf(false)), eventsUpTo(min, further)),
    now: nowAt({ min, now: { fan: LEFT_ON, fanIfLeft: LEFT, ...now } }),
    ...more,
  };
}

const ahead = (state: LiveState, min: number): ReturnType<typeof aheadOf> => aheadOf(state, momentOf(state, msAt(min)));

const overshoot = (alarm: 'overshoot' | 'overshoot-ahead'): EventBody => ({
  kind: 'alarm-raised',
  alarm,
  severity: 'warning',
  phase: 'rewarm',
  valueC: 32.1,
  limitC: 32.5,
});

describe('the fork', () => {
  test('stands from the cue until 20 s after its moment: solid if heat is left now, dashed if not', () => {
    for (const min of [53, 53.2, 53.3, 53.55])
      expect(ahead(live(min), min)).toEqual({ fan: LEFT, leftOn: LEFT_ON, uncertain: false });
    expect(ahead(live(52.9), 52.9)).toEqual({ fan: LEFT_ON, uncertain: false });
    const unheeded = live(53.5);
    expect(ahead(unheeded, 53.65)).toEqual({ fan: LEFT_ON, uncertain: false });
  });

  test('is over when somebody says that it has been done', () => {
    const done = live(53.3, [{ kind: 'act', act: 'off-heat' }]);
    expect(ahead(done, 53.3).leftOn).toBeUndefined();
  });

  test('comes of a cue to leave the cold too, and of no other cue', () => {
    const cue = (name: 'off-cold' | 'stir'): EventBody => ({ kind: 'cue', cue: name, phase: 'cool' });
    expect(ahead(live(41, [cue('off-cold')]), 41).leftOn).toBe(LEFT_ON);
    expect(ahead(live(41, [cue('stir')]), 41).leftOn).toBeUndefined();
  });

  test('goes with the sentence: an alarm that is ahead keeps it, one that is here ends it, and one that was seen', () => {
    expect(ahead(live(53.2, [overshoot('overshoot-ahead')]), 53.2).leftOn).toBe(LEFT_ON);
    expect(ahead(live(53.2, [overshoot('overshoot')]), 53.2).leftOn).toBeUndefined();
    const seen: EventBody = { kind: 'alarm-acknowledged', alarm: 'overshoot-ahead' };
    expect(ahead(live(53.2, [overshoot('overshoot-ahead'), seen]), 53.2).leftOn).toBeUndefined();
  });

  test('needs both ways: where leaving is no different the present fan stands', () => {
    expect(ahead(live(53.2, [], { fanIfLeft: [] }), 53.2)).toEqual({ fan: LEFT_ON, uncertain: false });
  });
});

describe('what is not sure', () => {
  test.each(['unstirred', 'at-the-wall'] as const)(
    '%s: the fan is not to be trusted, and there is no fork',
    (mixing) => {
      const state = live(53.2, [], { mixing });
      expect(ahead(state, 53.2)).toEqual({ fan: LEFT_ON, uncertain: true });
      expect(leftOnOf(state, momentOf(state, msAt(53.2)))).toBeNull();
      expect(momentOf(state, msAt(53.2)).unsure).toBe(mixing);
    },
  );

  test.each(['stirred', null] as const)('%s is none', (mixing) => {
    expect(ahead(live(80, [], { mixing }), 80).uncertain).toBe(false);
  });

  test('lasts half a minute after the probe came back', () => {
    const state = live(80, [], {}, { probeBackAtMs: msAt(80) });
    expect(momentOf(state, msAt(80) + 29_000).unsure).toBe('just-back');
    expect(momentOf(state, msAt(80) + 31_000).unsure).toBeNull();
  });
});

test.each([
  ['an old number', { stale: true }, {}],
  ['a probe out of the bowl', { probeOutSinceMs: msAt(53) }, {}],
  ['a screen that has lost the server', {}, { connection: 'lost' }],
] as const)('nothing is to be expected of %s', (_, now, more) => {
  expect(ahead(live(53.2, [], now, more), 53.2)).toEqual({ fan: [] });
});

test('nothing is to be expected of a run that is over', () => {
  expect(ahead(live(80, [{ kind: 'run-ended', by: 'hand' }]), 80)).toEqual({ fan: [] });
});

test('the road of a run that is over ends with it, and has no head any more', () => {
  const state = {
    ...live(60),
    view: foldEvents(openView(infoOf(false)), eventsUpTo(60, [{ kind: 'run-ended', by: 'hand' }])),
  };
  const road = liveRoad(state, momentOf(state, msAt(75)), infoOf(false), false);
  expect(road).toMatchObject({ live: 'over', nowMs: msAt(60), startedAtMs: msAt(0), fan: [] });
  const headIn = (live: 'live' | 'over') => {
    const whole = { ...SCENES['work']!(), live, window: { kind: 'all' } } as const;
    return headOf(whole, layOut(whole, { width: 900, height: 500 }));
  };
  expect([headIn('live') === null, headIn('over')]).toEqual([false, null]);
});
