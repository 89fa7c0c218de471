/** Runs put together: the median of each, of what was seen. */
import { expect, test } from 'vitest';
import type { Learned } from '../../server/core/record/run.ts';
import { nullIfNothing, together } from '../../server/session/learned.ts';
import { NOTHING_LEARNED } from '../support/server.ts';

function taught(heatCourseS: number | null, coldCourseS: number | null = null, coastS: number | null = null): Learned {
  return { runs: 1, heatCourseS, coldCourseS, coastS };
}

test('a run in which nothing was seen says nothing', () => {
  expect(nullIfNothing(NOTHING_LEARNED)).toBeNull();
  for (const one of [taught(300), taught(null, 300), taught(null, null, 60)]) expect(nullIfNothing(one)).toBe(one);
  expect(together([])).toBeNull();
});

test('one odd run does not sway the others', () => {
  expect(together([taught(400), taught(410), taught(9000), taught(390), taught(405)])).toEqual({
    ...taught(405),
    runs: 5,
  });
});

test('each is taken by itself, of the runs that saw it; of two the middle, in whole seconds', () => {
  const runs = [taught(400, 700), taught(401.5), taught(null, 650.4)];
  expect(together(runs)).toEqual({ runs: 3, heatCourseS: 401, coldCourseS: 675, coastS: null });
});

test('what no bowl could be is not seen', () => {
  expect(together([taught(29.9), taught(10_001), taught(500)])).toEqual({ ...taught(500), runs: 3 });
  expect(together([taught(29.9)])).toBeNull();
  expect(together([taught(500, null, 4), taught(500, null, 1001), taught(500, null, 6)])?.coastS).toBe(6);
});

test('a run that says nothing of its wall, as older ones do, sways no other', () => {
  const older: Learned = { runs: 1, heatCourseS: 400, coldCourseS: null };
  expect(together([older, taught(400, null, 70), taught(400, null, 80)])?.coastS).toBe(75);
  expect(together([older])).toEqual({ ...older, coastS: null });
});
