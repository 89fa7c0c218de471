/**
 * How an unfolded map shares its width among the phases: in proportion to their time, but none so narrow that it can't be read. So a
 * moment's place along it is not its share of the time. Pure.
 */
import type { TimeSpan } from './window.ts';

/** No panel is narrower than this share of an even division (ours: a short phase keeps its name). */
const LEAST_SHARE = 0.6;

/** What each stay in a phase has of the width; they add up to 1. */
export function sharesOf(stays: readonly TimeSpan[]): number[] {
  const least = LEAST_SHARE / stays.length;
  const totalMs = stays.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0);
  const spare = 1 - LEAST_SHARE;
  return stays.map(({ fromMs, toMs }) => least + spare * (totalMs > 0 ? (toMs - fromMs) / totalMs : 1 / stays.length));
}

/** Where a moment stands, 0 at the left and 1 at the right. `stays`: at least one, oldest first. */
export function alongAt(stays: readonly TimeSpan[], atMs: number): number {
  const shares = sharesOf(stays);
  const at = Math.max(
    0,
    stays.findLastIndex(({ fromMs }) => fromMs <= atMs),
  );
  const { fromMs, toMs } = stays[at]!;
  const within = toMs > fromMs ? Math.min(1, Math.max(0, (atMs - fromMs) / (toMs - fromMs))) : 1;
  return shares.slice(0, at).reduce((sum, share) => sum + share, 0) + shares[at]! * within;
}

/** The moment that stands there, feed clock. */
export function momentAlong(stays: readonly TimeSpan[], along: number): number {
  let from = 0;
  for (const [i, share] of sharesOf(stays).entries()) {
    const { fromMs, toMs } = stays[i]!;
    if (along <= from + share || i === stays.length - 1)
      return Math.min(toMs, fromMs + ((along - from) / share) * (toMs - fromMs));
    from += share;
  }
  return stays.at(-1)!.toMs;
}
