/** The wall clock is set while a run is going, by years, or an hour at the change of the season: it is a label, and nothing else. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { clockAfterGap } from '../../server/clock.ts';
import { openBowl } from '../support/server.ts';
import { allRuns, freshFolder, heldDisk, openedStore } from '../support/store.ts';

const HOUR_MS = 3_600_000;
const TEN_YEARS_MS = 10 * 365.25 * 24 * HOUR_MS;
const RESUME_WITHIN_MS = 2 * HOUR_MS;
const NOW_MS = Date.parse('2026-10-25T00:58:00.000Z');

beforeEach(() => void vi.useFakeTimers({ toFake: ['Date'], now: NOW_MS }));
afterEach(() => void vi.useRealTimers());

/** A run of five legs of ten readings; the wall clock is set between any two of them. */
async function steppedRun(stepsMs: readonly number[]): Promise<{ folder: string; run: string }> {
  const folder = freshFolder();
  const bowl = openBowl(folder);
  const run = bowl.begin();
  for (const stepMs of stepsMs) {
    bowl.ramp(30, 32, 10);
    vi.setSystemTime(Date.now() + stepMs);
    bowl.says({ name: 'act', act: 'stirred' });
  }
  await bowl.store.flush();
  const { events } = bowl.store.openRun(run)!;
  const times = bowl.store.inputsOf(run).flatMap((input) => (input.kind === 'reading' ? [input.atMs] : []));
  expect(times).toEqual(Array.from({ length: times.length }, (_, i) => times[0]! + i * 1000));
  expect(events.map(({ atMs }) => atMs)).toEqual(events.map(({ atMs }) => atMs).toSorted((a, b) => a - b));
  expect(events.some(({ kind }) => kind === 'link')).toBe(true);
  expect(events.flatMap((event) => (event.kind === 'alarm-raised' ? [event.alarm] : []))).toEqual([]);
  await bowl.store.close();
  return { folder, run };
}

test.each([
  ['ten years on and back', [TEN_YEARS_MS, -TEN_YEARS_MS, -TEN_YEARS_MS, TEN_YEARS_MS]],
  ['an hour back, as at the end of summer, and on again', [-HOUR_MS, HOUR_MS]],
])('set %s, durations and order are those of the feed, and the run is gone on with', async (_what, stepsMs) => {
  const { folder, run } = await steppedRun(stepsMs);
  const store = openedStore(folder);
  const found = store.runToResume('bowl-1', Date.now() + 60_000, RESUME_WITHIN_MS)!;
  expect(found.run.run).toBe(run);
  expect(clockAfterGap(found.lastAtMs, found.lastAtWall, Date.now() + 60_000) - found.lastAtMs).toBe(60_000);
});

test('set while no server runs: back, it is gone on with and the gap is none; ten years on, it is over', async () => {
  const { folder } = await steppedRun([0]);
  const store = openedStore(folder);
  const found = store.runToResume('bowl-1', Date.now() - TEN_YEARS_MS, RESUME_WITHIN_MS)!;
  expect(clockAfterGap(found.lastAtMs, found.lastAtWall, Date.now() - TEN_YEARS_MS)).toBe(found.lastAtMs);
  expect(store.runToResume('bowl-1', Date.now() + TEN_YEARS_MS, RESUME_WITHIN_MS)).toBeNull();
  await store.flush();
  expect(allRuns(store)[0]!.durationMs).toBeLessThan(60_000);
});

test('after a restart the gap says by which clock it was measured', async () => {
  const { folder, run } = await steppedRun([0]);
  const bowl = openBowl(folder, 100_000);
  const found = bowl.store.runToResume('bowl-1', Date.now(), RESUME_WITHIN_MS)!;
  expect(bowl.session.resume(found)).toBe(true);
  await bowl.store.flush();
  expect(bowl.store.openRun(run)!.events.at(-1)).toMatchObject({
    kind: 'link',
    up: false,
    why: expect.stringContaining('wall clock') as string,
  });
});

test('set while the disk takes nothing: since when nothing is recorded stays what it was', async () => {
  const bowl = openBowl();
  bowl.begin();
  await bowl.store.flush();
  const disk = heldDisk(bowl.store);
  const unrecorded = new Promise((resolve) => bowl.store.onHealth(resolve));
  bowl.reads(31);
  await unrecorded;
  const sinceMs = bowl.session.now(0).unrecordedSinceMs!;
  bowl.wallSetByMs = TEN_YEARS_MS;
  bowl.ramp(31, 32, 10);
  expect(bowl.session.now(0).unrecordedSinceMs).toBe(sinceMs);
  disk.letGo();
});
