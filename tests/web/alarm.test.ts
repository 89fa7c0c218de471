/** The two answers to an alarm: what their buttons say. */
import { describe, expect, test } from 'vitest';
import { emptyView } from '../../server/core/show/view.ts';
import { NO_MOMENT } from '../../web/moment.ts';
import { quietLeftMs, quietWords, seenWord } from '../../web/words/alarm.ts';
import { alarmSentence, alsoWords, wasStrip } from '../../web/words/alarm-words.ts';
import { alarm } from '../support/alarm.ts';

describe('quiet', () => {
  test.each([
    [null, 'Quiet for 2 min'],
    [120_000, 'Quiet, 2:00'],
    [107_000, 'Quiet, 1:47'],
    [106_001, 'Quiet, 1:47'],
    [1, 'Quiet, 0:01'],
  ])('%s ms left: %s', (leftMs, words) => {
    expect(quietWords(leftMs)).toBe(words);
  });

  test('counts to the moment when something sounds again; not while something sounds', () => {
    expect(quietLeftMs([alarm({ quietUntilMs: 50 }), alarm({ quietUntilMs: 30 })], 10)).toBe(20);
    expect(quietLeftMs([alarm({}), alarm({ quietUntilMs: 30 })], 10)).toBe(null);
    expect(quietLeftMs([alarm({ quietUntilMs: 30, acknowledged: true })], 10)).toBe(null);
    expect(quietLeftMs([], 10)).toBe(null);
  });
});

test('an alarm that makes no sound says so where it is answered', () => {
  expect([seenWord(false), seenWord(true)]).toEqual(['Seen', 'Seen (muted)']);
});

test.each([
  [0, '0.3 over the 32.5 ceiling.'],
  [900, '0.3 over the 32.5 ceiling.'],
  [17_000, '0.3 over the 32.5 ceiling for 17 s.'],
])('%d ms after it was raised: %s', (sinceMs, detail) => {
  const raised = alarm({ alarm: 'overshoot', valueC: 32.8, limitC: 32.5 });
  expect(alarmSentence(raised, { ...NO_MOMENT, atMs: raised.raisedAtMs + sinceMs }).detail).toBe(detail);
});

describe('what else stands', () => {
  const over = alarm();
  const ahead = alarm({ alarm: 'overshoot-ahead' });

  test.each([
    ['not that it is heading where it has come to', [over, ahead], null],
    [
      'nor beneath what is worse than both',
      [alarm({ alarm: 'temper-lost', limitC: 34 }), over, ahead],
      'Also over the 32.5 ceiling.',
    ],
    [
      'that it is heading there, while it has not come',
      [alarm({ alarm: 'scorch', limitC: 52 }), ahead],
      'Also heading over the 32.5 ceiling.',
    ],
  ])('%s', (_, alarms, words) => {
    expect(alsoWords({ ...emptyView, alarms })).toBe(words);
  });
});

describe('the way back goes by how the temper stands, so that no alarm asks for what another forbids', () => {
  const at = { ...NO_MOMENT, atMs: 60_000 };
  const over = alarm({ alarm: 'overshoot' });
  const lost = alarm({ alarm: 'temper-lost', severity: 'critical', limitC: 34, valueC: 34.3 });

  test.each([
    ['in temper', 'in-temper', 'seeded-and-rewarmed', /No dipping until the strip test/, /Then the strip test/],
    ['at risk', 'at-risk', 'over-ceiling', /No dipping until the strip test/, /Then the strip test/],
    ['beyond the limit', 'at-risk', 'above-lost', /Seed does not outlast this/, /Then the strip test/],
    ['not made yet', 'not-made-yet', 'seed-not-made', /cool it again/, /Then cool it again/],
    ['lost', 'lost', 'above-lost', /no seed is left/, /cool it, with fresh seed/],
  ] as const)('over the ceiling, %s', (_, standing, why, next, seen) => {
    const words = alarmSentence(over, at, { standing, why, coolsAgain: true });
    expect(words.next).toMatch(next);
    expect(`${words.seen.act} ${words.seen.detail}`).toMatch(seen);
    const isLost = standing === 'lost';
    expect(/strip test/i.test(`${words.next} ${words.seen.detail}`)).toBe(!isLost && standing !== 'not-made-yet');
  });

  test('lost, it goes where the profile begins again: with cooling, or with the melt', () => {
    const [cools, melts] = [true, false].map((coolsAgain) =>
      alarmSentence(lost, at, { standing: 'lost', why: 'above-lost', coolsAgain }),
    );
    expect(cools!.next).toBe('Cool it again with fresh seed. With lumps in it, melt it first.');
    expect(melts!.next).toBe('Melt it all again, then cool it.');
    expect(melts!.seen.detail).not.toMatch(/fresh seed/);
  });
});

test.each([
  ['overshoot', 'Was over the 32.5 ceiling for 17 s, up to 33.0.', 32.5, 33],
  ['probe-silent', 'Past: no reading for 17 s.', null, null],
  ['probe-lifted', 'Past: probe out of the bowl for 17 s.', null, null],
] as const)('%s that is over is told in a line: %s', (alarm, said, limitC, extremeC) => {
  const times = { raisedAtMs: 0, clearedAtMs: 17_000, lastedMs: 17_000 };
  expect(wasStrip({ alarm, severity: 'warning', phase: 'four', limitC, extremeC, ...times })).toBe(said);
});
