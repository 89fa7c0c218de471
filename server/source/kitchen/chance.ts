/**
 * Seeded chance for the simulated kitchen: the same seed gives the same kitchen on every machine.
 * Knows nothing of chocolate, of clocks, or of the machine's own random numbers.
 */

export interface Chance {
  /** Uniform in [0, 1). */
  unit(): number;
  /** Uniform between the two bounds. */
  between(low: number, high: number): number;
  /** Uniform in the logarithm; both bounds above 0. */
  logBetween(low: number, high: number): number;
  /** Normal, mean 0, deviation 1. */
  normal(): number;
  /** True this often, 0 to 1. */
  happens(share: number): boolean;
  /** One of the list, which must not be empty. */
  pick<T>(list: readonly T[]): T;
}

/** Chance from a seed; any number will do, only its lower 32 bits count. A 32-bit counter with a mixing step. */
export function chance(seed: number): Chance {
  let counter = seed >>> 0;

  function unit(): number {
    counter = (counter + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(counter ^ (counter >>> 15), counter | 1);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  }
  function between(low: number, high: number): number {
    return low + (high - low) * unit();
  }
  function normal(): number {
    return Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit());
  }

  return {
    unit,
    between,
    normal,
    logBetween: (low, high) => Math.exp(between(Math.log(low), Math.log(high))),
    happens: (share) => unit() < share,
    pick<T>(list: readonly T[]): T {
      const picked = list[Math.floor(unit() * list.length)];
      if (picked === undefined) throw new RangeError('nothing to pick from');
      return picked;
    },
  };
}
