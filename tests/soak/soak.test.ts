/** What `npm run soak` runs: the parts that were asked for, as far as was asked, each with its table and its file. */
import { loadavg } from 'node:os';
import { expect, test } from 'vitest';
import { PARTS } from './parts.ts';
import { brokenRows, keepRows, tableOf, type Bounds } from './rows.ts';

interface Asked extends Partial<Bounds> {
  readonly hours?: number;
  readonly parts: readonly string[];
}

const asked = JSON.parse(process.env['SOAK'] ?? '{"parts":[]}') as Asked;
/** Today's, where nobody names one; it is printed. */
const seed = asked.seed ?? Number(new Date().toISOString().slice(0, 10).replaceAll('-', ''));

test.each(asked.parts)('%s', async (name) => {
  const part = PARTS[name];
  if (part === undefined) throw new Error(`there is no part ${name}; there are ${Object.keys(PARTS).join(', ')}`);
  const startedMs = performance.now();
  const rows = await part.run({
    count: (name === 'hours' ? asked.hours : asked.count) ?? part.count,
    seed,
    seconds: asked.seconds ?? Infinity,
  });
  const took = Math.round((performance.now() - startedMs) / 1000);
  const load = loadavg().map((minutes) => minutes.toFixed(1));
  const file = keepRows(name, rows, seed);
  console.log([`${name}, seed ${seed}, ${took} s, load ${load.join(', ')}`, ...tableOf(rows), file, ''].join('\n'));
  expect(brokenRows(rows)).toEqual([]);
});
