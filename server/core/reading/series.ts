/** How the values of one place behave over a while: a clock, a counter, a thing that stands still. Knows no labels and no units. */

/** One value of a place in the line, at its moment. */
export interface Sample {
  readonly atMs: number;
  readonly value: number;
  readonly decimals: number;
}

/** What a clock counts per second: ms, µs, tenths, seconds; and minutes, hours. */
const FAST_RATES = [1000, 1e6, 10, 1] as const;
const SLOW_RATES = [1 / 60, 1 / 3600] as const;
/** How late a line may come after the moment it tells, s (ours: what adapters and small boards take). */
const CLOCK_JITTER_S = 0.35;
/** A clock that long beside ours runs at the same pace to this share (ours: small boards without a crystal are 2 % off). */
const CLOCK_SHARE = 0.02;
/** It must have moved by so many of its last digits to be told from chance (ours). */
const CLOCK_STEPS = 4;
/** A clock that goes as slowly as a bowl keeps to its last digit, s and digits; and many lines are wanted of it (ours). */
const SLOW_JITTER_S = 0.15;
const SLOW_DIGITS = 0.6;
const SLOW_LINES = 20;

/** Whether the values go on as seconds do, or faster. */
export function isFastClock(samples: readonly Sample[]): boolean {
  return FAST_RATES.some((perS) => goesAt(samples, perS, 1, CLOCK_JITTER_S));
}

/** Whether they go on as minutes or hours do. A bowl that warms steadily does for a while: `perhaps` until there are many. */
export function slowClock(samples: readonly Sample[]): 'yes' | 'perhaps' | 'no' {
  const rises = stepsOf(samples).every((step) => step >= 0);
  if (!rises || !SLOW_RATES.some((perS) => goesAt(samples, perS, SLOW_DIGITS, SLOW_JITTER_S))) return 'no';
  return samples.length >= SLOW_LINES ? 'yes' : 'perhaps';
}

function goesAt(samples: readonly Sample[], perS: number, digits: number, lateS: number): boolean {
  const [first, last] = [samples[0]!, samples.at(-1)!];
  const digit = 10 ** -Math.max(...samples.map(({ decimals }) => decimals));
  if (last.value - first.value < CLOCK_STEPS * digit) return false;
  const passedS = (last.atMs - first.atMs) / 1000;
  const off = samples.map(({ atMs, value }) => value - (perS * (atMs - first.atMs)) / 1000);
  const slack = digits * digit + perS * (lateS + CLOCK_SHARE * passedS);
  return Math.max(...off) - Math.min(...off) <= 2 * slack && samples.every(({ value }) => value >= first.value);
}

/** Share of steps that must be the usual one (ours: a line is lost now and then, and a counter begins anew once). */
const USUAL_STEPS = 0.6;

/** Whole numbers that go on by themselves: by one step, or always up, or always down. */
export function isCount(samples: readonly Sample[]): boolean {
  if (samples.some(({ decimals }) => decimals > 0)) return false;
  const steps = stepsOf(samples);
  const ups = steps.filter((step) => step > 0).length;
  const downs = steps.filter((step) => step < 0).length;
  if (ups === steps.length || downs === steps.length) return true;
  if (Math.min(ups, downs) > 1) return false;
  const usual = commonest(steps);
  return usual !== 0 && steps.filter((step) => step === usual).length >= USUAL_STEPS * steps.length;
}

export function stepsOf(samples: readonly Sample[]): number[] {
  return samples.slice(1).map(({ value }, at) => value - samples[at]!.value);
}

function commonest(numbers: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const number of numbers) counts.set(number, (counts.get(number) ?? 0) + 1);
  return [...counts].reduce((best, each) => (each[1] > best[1] ? each : best), [0, 0] as [number, number])[0];
}

/** How far the values lie apart. */
export function spread(samples: readonly Sample[]): number {
  const values = samples.map(({ value }) => value);
  return Math.max(...values) - Math.min(...values);
}

/** Faster than this from line to line nothing in a bowl goes, °C/s (ours: cold chocolate poured onto the probe is slower on its lag). */
const FASTEST_C_PER_S = 3;
/** A step that could be two lines sent at once, °C. Ours. */
const LEAST_JUMP_C = 2;
/** Share of jumps that no temperature makes. Ours. */
const JUMPY = 0.3;

/** Jumps about as no temperature does. */
export function isJumpy(samples: readonly Sample[]): boolean {
  const jumps = samples.slice(1).filter((sample, at) => isJump(samples[at]!, sample));
  return jumps.length >= 2 && jumps.length >= JUMPY * (samples.length - 1);
}

export function isJump(before: Sample, after: Sample): boolean {
  const passedS = Math.max((after.atMs - before.atMs) / 1000, 0.1);
  return Math.abs(after.value - before.value) > Math.max(LEAST_JUMP_C, FASTEST_C_PER_S * passedS);
}

/** Most things that take turns on lines of their own without saying which they are. Ours. */
const MOST_IN_TURN = 4;

/** Two to four calm series in turn, line by line, that lie apart: several probes, none of which says which it is. */
export function takesTurns(samples: readonly Sample[]): boolean {
  const neighbours = samples.slice(1).filter(({ value }, at) => Math.abs(value - samples[at]!.value) >= LEAST_JUMP_C);
  if (neighbours.length < 0.4 * (samples.length - 1)) return false;
  for (let turns = 2; turns <= MOST_IN_TURN; turns += 1) {
    const later = samples.slice(turns);
    const calm = later.filter(({ value }, at) => Math.abs(value - samples[at]!.value) < LEAST_JUMP_C / 2);
    if (later.length >= turns && calm.length >= 0.75 * later.length) return true;
  }
  return false;
}
