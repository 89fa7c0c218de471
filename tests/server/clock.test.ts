import { expect, test } from 'vitest';
import { clockAfterGap, feedClock } from '../../server/clock.ts';

test('the clock starts where it is told, in whole milliseconds, and never goes back', () => {
  const clock = feedClock(5000);
  let last = 5000;
  for (let i = 0; i < 10_000; i++) {
    const nowMs = clock.nowMs();
    expect(Number.isSafeInteger(nowMs)).toBe(true);
    expect(nowMs).toBeGreaterThanOrEqual(last);
    last = nowMs;
  }
  expect(last).toBeLessThan(60_000);
});

test('a machine that slept finds the time gone by, once; a coarse uptime is no sleep', () => {
  const machine = { awake: 1000, up: 50_000 };
  const clock = feedClock(0, { awakeMs: () => machine.awake, upMs: () => machine.up });
  machine.awake += 1000.7;
  machine.up += 2000;
  expect(clock.nowMs()).toBe(1000);
  machine.up += 3_600_000;
  machine.awake += 10;
  const awokenMs = clock.nowMs();
  expect(awokenMs).toBe(3_602_000);
  machine.awake += 1000;
  machine.up += 1000;
  expect(clock.nowMs()).toBe(awokenMs + 1000);
});

test.each([
  ['a minute later', '2026-11-25T09:00:00.000Z', Date.UTC(2026, 10, 25, 9, 1), 61_000],
  ['with a wall clock that was set back', '2026-11-25T09:00:00.000Z', Date.UTC(2026, 10, 25, 8), 1000],
  ['with a label that cannot be read', 'yesterday', Date.UTC(2026, 10, 25, 9), 1000],
])('after a restart it has gone on: %s', (_, lastAtWall, nowWallMs, atMs) => {
  expect(clockAfterGap(1000, lastAtWall, nowWallMs)).toBe(atMs);
});
