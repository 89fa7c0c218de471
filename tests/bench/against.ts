/** One work measured against a floor: the same work by the bare library, in the same run and by turns, each shown to have made the same. */
import { type Figure, median } from './figures.ts';

/** Does its work once and gives a sum over all that it made, so that nothing is left out or optimised away. */
export type Work = () => number | Promise<number>;

export interface Pair {
  readonly name: string;
  /** How many of what one work is about. */
  readonly count: number;
  readonly each: string;
  /** Before each work, and not measured. */
  readonly ready?: () => void;
  readonly floor: Work;
  readonly ours: Work;
  /** Not to be fallen short of, as a share of the floor's speed; absent: only told. */
  readonly least?: number;
}

/** Each round lets both do their work so often and takes the middle; the first turns, in which code is compiled, don't count (ours). */
const TURNS = 5;
const WARM_TURNS = 2;
/** Sums of the same values in another order differ by so little, as a share. */
const SAME = 1e-9;

/** The speed of ours as a share of the floor's, and what each of both costs in processor time, which a busy machine lengthens less than time on the wall. */
export async function against(pair: Pair, rounds: number): Promise<Figure[]> {
  const { name, count, each, least } = pair;
  for (let turn = 0; turn < WARM_TURNS; turn++) await byTurns(pair);
  const taken: { readonly floorMs: number; readonly oursMs: number }[] = [];
  for (let round = 0; round < rounds; round++) {
    const all: typeof taken = [];
    for (let turn = 0; turn < TURNS; turn++) all.push(await byTurns(pair));
    taken.push({
      floorMs: median(all.map(({ floorMs }) => floorMs)),
      oursMs: median(all.map(({ oursMs }) => oursMs)),
    });
  }
  const ratio = { name, unit: '× the floor', rounds: taken.map(({ floorMs, oursMs }) => floorMs / oursMs) };
  const cost = (ms: readonly number[]) => ({ unit: `µs a ${each}`, rounds: ms.map((all) => (all * 1000) / count) });
  return [
    least === undefined ? ratio : { ...ratio, least },
    { name: '… ours', ...cost(taken.map(({ oursMs }) => oursMs)) },
    { name: '… the floor', ...cost(taken.map(({ floorMs }) => floorMs)) },
  ];
}

async function byTurns({ name, ready, floor, ours }: Pair): Promise<{ floorMs: number; oursMs: number }> {
  ready?.();
  const bare = await once(floor);
  ready?.();
  const own = await once(ours);
  if (Math.abs(bare.sum - own.sum) > SAME * Math.abs(bare.sum)) {
    throw new Error(`${name}: ours makes a sum of ${own.sum}, the floor ${bare.sum}`);
  }
  return { floorMs: bare.cpuMs, oursMs: own.cpuMs };
}

/** What it took of the processor, all threads of this process, ms. */
export async function once(work: Work): Promise<{ readonly cpuMs: number; readonly sum: number }> {
  const before = process.cpuUsage();
  const sum = await work();
  const { user, system } = process.cpuUsage(before);
  return { cpuMs: (user + system) / 1_000, sum };
}
