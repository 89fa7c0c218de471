/** The two answers to an alarm: what their buttons say. */
import { describe, expect, test } from 'vitest';
import type { ActiveAlarm } from '../../server/core/show/view.ts';
import { quietLeftMs, quietWords, seenWord } from '../../web/words/alarm.ts';

function alarm(more: Partial<ActiveAlarm>): ActiveAlarm {
  return {
    alarm: 'overshoot',
    severity: 'warning',
    phase: 'work',
    raisedAtMs: 0,
    valueC: null,
    limitC: 32.5,
    inS: null,
    peakC: null,
    acknowledged: false,
    acknowledgedAtMs: null,
    acknowledgedBy: null,
    quietUntilMs: null,
    ...more,
  };
}

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
  expect([seenWord(false), seenWord(true)]).toEqual(['Seen', 'Seen (silent)']);
});
