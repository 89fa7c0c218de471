/**
 * A whole run of a simulated kitchen at once: hands at a bench until they are done, as a course of kitchens on an even
 * grid. For tests, figures and stories; the live simulated bowl ticks its bench itself.
 */
import { setUp, type Bench } from './bench.ts';
import type { Kitchen } from './bowl.ts';
import type { Hands } from './hands.ts';

export interface Course {
  /** One kitchen every `TICK_S` of the bench, the first at 0. */
  readonly kitchens: readonly Kitchen[];
  /** What the hands were working on at each of them. */
  readonly phases: readonly string[];
  /** When the kitchen was changed by hand, s. */
  readonly changesS: readonly number[];
}

/** Lets the hands work until they are done, or `longestS` are over. */
export function courseOf(kitchen: Kitchen, hands: (bench: Bench) => Hands, longestS: number): Course {
  const bench = setUp(kitchen);
  const work = hands(bench);
  const kitchens: Kitchen[] = [];
  const phases: string[] = [];
  while (work.next().done !== true && bench.atS() < longestS) {
    kitchens.push(bench.now());
    phases.push(bench.phase());
    bench.tick();
  }
  return { kitchens, phases, changesS: bench.changesS() };
}
