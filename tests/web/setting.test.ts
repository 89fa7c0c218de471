/** Setting and rest by the clock, and what the form says. */
import { describe, expect, test } from 'vitest';
import type { Setting } from '../../server/core/record/card.ts';
import { isToJudge, isWaitingForVerdict, restOf, wallAt } from '../../web/setting.ts';

/** Noon in the viewer's time, so that a day later is the next day wherever this runs. */
const ENDED = new Date(2026, 10, 24, 12, 0).getTime();
const MIN = 60_000;
const H = 60 * MIN;
const SETTING: Setting = { place: 'cool-air', minutes: 20, startedAtWall: new Date(ENDED + 10 * MIN).toISOString() };

describe('after the work', () => {
  test('a timer is offered for some hours, then it is taken to have set by itself', () => {
    expect(restOf(null, ENDED, ENDED + 5 * H)).toEqual({ kind: 'unsaid' });
    expect(restOf(null, ENDED, ENDED + 7 * H)).toMatchObject({ kind: 'resting', setAtMs: ENDED });
  });

  test('the timer counts by the card, not by the page that started it', () => {
    const at = (min: number) => restOf(SETTING, ENDED, ENDED + min * MIN);
    expect(at(10)).toMatchObject({ kind: 'setting', leftS: 1200, share: 0 });
    expect(at(25)).toMatchObject({ kind: 'setting', leftS: 300, share: 0.75, untilMs: ENDED + 30 * MIN });
    expect(at(30)).toMatchObject({ kind: 'resting', setAtMs: ENDED + 30 * MIN, isNextDay: false });
  });

  test('a rest is a day from when it had set; judging is offered after the night', () => {
    const offered = [31 * MIN, 11 * H, 13 * H, 25 * H].map((ms) => isToJudge(restOf(SETTING, ENDED, ENDED + ms)));
    expect(offered).toEqual([false, false, true, true]);
    expect(restOf(SETTING, ENDED, ENDED + 24 * H)).toMatchObject({ kind: 'resting', restedAtMs: ENDED + 24.5 * H });
    expect(restOf(SETTING, ENDED, ENDED + 24.5 * H)).toEqual({ kind: 'rested', setAtMs: ENDED + 30 * MIN });
  });

  test('a clock that runs behind shows a full timer, never more', () => {
    expect(restOf(SETTING, ENDED, ENDED)).toMatchObject({ kind: 'setting', leftS: 1200, share: 0 });
  });
});

test('the list waits for a verdict from a day after the end, for a week', () => {
  const run = {
    endedAtMs: 1,
    beganAtWall: new Date(ENDED - H).toISOString(),
    durationMs: H,
    verdict: null,
    simulated: false,
  };
  const waits = [23, 24, 8 * 24 - 1, 8 * 24].map((hours) => isWaitingForVerdict(run, ENDED + hours * H));
  expect(waits).toEqual([false, true, true, false]);
  const others = [{ endedAtMs: null }, { verdict: 'good' as const }, { simulated: true }];
  for (const other of others) expect(isWaitingForVerdict({ ...run, ...other }, ENDED + 30 * H)).toBe(false);
});

test('a moment of the run has its wall clock', () => {
  expect(wallAt({ startedAtWall: new Date(ENDED).toISOString(), startedAtMs: 5_000 }, 65_000)).toBe(ENDED + MIN);
});
