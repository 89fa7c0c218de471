/**
 * How long the list of ten thousand runs and the opening of a very long one take, on the server: through the store and its routes' JSON.
 * Prints figures; judges none.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir, loadavg } from 'node:os';
import { join } from 'node:path';
import { openStore } from '../../server/store/store.ts';
import type { RunQuery } from '../../server/store/records.ts';
import { fillFolder, LONG_RUN } from './made-runs.ts';

const RUNS = 10_000;
const ROOT = join(import.meta.dirname, '../..');
const kept = process.argv[2];
const folder = kept ?? mkdtempSync(join(tmpdir(), 'bowlside-runs-'));
if (kept === undefined) fillFolder(folder, join(ROOT, 'profiles'), RUNS);
const opened = openStore(folder, { writerScript: new URL(`file://${ROOT}/dist/server/store/writer.js`) });
if (!opened.ok) throw new Error(opened.message);
const { store } = opened;

const page: RunQuery = { most: 50, after: 0 };
report('list, newest', () => store.runs(page));
report('list, page 100', () => store.runs({ ...page, after: 5_000 }));
for (const order of ['oldest', 'longest', 'worst', 'name'] as const)
  report(`list, ${order}`, () => store.runs({ ...page, order }));
report('list, words', () => store.runs({ ...page, words: 'ginger tray' }));
report('list, words found nowhere', () => store.runs({ ...page, words: 'nougat' }));
report('list, lot', () => store.runs({ ...page, words: 'L-10007' }));
report('list, tag', () => store.runs({ ...page, tag: 'gift' }));
report('list, standing and coating', () => store.runs({ ...page, standing: 'lost', coating: 'milk' }));
report('list, bin', () => store.runs({ ...page, bin: 'yes' }));
report('open the long run', () => ({ ...store.openRun(LONG_RUN), tiles: store.tilesOf(LONG_RUN, 2_400) }));
report('ten minutes of it', () => store.readingsOf(LONG_RUN, { fromMs: 14_000_000, toMs: 14_600_000 }));
report('an hour of it in columns', () => store.tilesOf(LONG_RUN, 2_400, { fromMs: 14_000_000, toMs: 17_600_000 }));
console.log(
  `load ${loadavg()
    .map((each) => each.toFixed(1))
    .join(' ')}`,
);
await store.close();
if (kept === undefined) rmSync(folder, { recursive: true, force: true });

/** `cpu`: of this process, which a busy machine lengthens less. */
function report(what: string, work: () => unknown): void {
  const times = Array.from({ length: 15 }, () => {
    const cpu = process.cpuUsage();
    const begin = performance.now();
    JSON.stringify(work());
    const wallMs = performance.now() - begin;
    const { user, system } = process.cpuUsage(cpu);
    return { wallMs, cpuMs: (user + system) / 1_000 };
  });
  const ms = (value: number): string => `${value.toFixed(1).padStart(6)} ms`;
  const wall = times.slice(1).map(({ wallMs }) => wallMs);
  const cpu = times.slice(1).map(({ cpuMs }) => cpuMs);
  const first = `first ${ms(times[0]!.wallMs)}`;
  console.log(
    `${what.padEnd(28)} ${first}, median ${ms(median(wall))}, worst ${ms(Math.max(...wall))}, cpu ${ms(median(cpu))}`,
  );
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 1]!;
}
