/** A few rounds of each part of the soak, so that a full one finds nothing new. The seed is in the title; timings are told there, and not judged here. */
import { expect, test } from 'vitest';
import { PARTS } from './parts.ts';
import { brokenRows } from './rows.ts';

const SEED = 20_261_126;

const FEW = Object.entries(PARTS).filter(([, { few }]) => few > 0);

test.each(FEW)(`%s, seed ${SEED}`, { timeout: 60_000 }, async (_name, { run, few }) => {
  const rows = await run({ count: few, seed: SEED, seconds: Infinity });
  expect(brokenRows(rows).filter((row) => row.timing !== true)).toEqual([]);
});
