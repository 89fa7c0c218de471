/** A few rounds of each part of the soak, so that a full one finds nothing new. The seed is in the title; timings are told there, and not judged here. */
import { expect, test } from 'vitest';
import { PARTS } from './parts.ts';
import { brokenRows } from './rows.ts';

const SEED = 20_261_126;

const FEW = Object.entries(PARTS).flatMap(([name, part]) =>
  part.few === 0 ? [] : [[`${part.rules.replace(/\w+/g, '[$&]')} ${name}`, part] as const],
);

test.each(FEW)(`%s, seed ${SEED}`, async (_title, { run, few }) => {
  const rows = await run({ count: few, seed: SEED, seconds: Infinity });
  expect(brokenRows(rows).filter((row) => row.timing !== true)).toEqual([]);
});
