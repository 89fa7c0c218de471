/** What is written beside the fork of the road: where the bowl turns if it is heeded now. */
import { expect, test } from 'vitest';
import { furthest } from '../../web/road/ahead.ts';

const beads = (...values: readonly number[]) =>
  values.map((medianC, i) => ({ inS: 30 * (i + 1), lowC: medianC - 0.1, medianC, highC: medianC + 0.1 }));

test.each([
  ['off the heat: its top, though it cools again', 30.7, beads(31, 30.9, 30.6), beads(31.6, 33.1), 31],
  ['off the cold: its foot, though it warms again', 29.6, beads(28.4, 28.3, 28.5), beads(27, 25.1), 28.3],
  ['still on its way at the end of the fan: the end', 30.7, beads(31, 31.2, 31.3), beads(31.6, 33.1), 31.3],
  ['it falls at once: the next that is known', 31.4, beads(31.3, 31.2), beads(31.6, 33.1), 31.3],
])('%s', (_, nowC, heeded, left, turnsAtC) => {
  expect(furthest(heeded, left, nowC).medianC).toBe(turnsAtC);
});
