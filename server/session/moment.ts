/** What the engine says of this moment, as a page is told it. */
import { estimateAt, fanAt, fanIfLeftAt, situationAt, type State } from '../core/engine.ts';

export function momentOf(state: State, atMs: number) {
  const { reading, stale, probeOutSinceMs, standing, dwellLeftS, mixing, rejected } = situationAt(state, atMs);
  return {
    reading,
    stale,
    probeOutSinceMs,
    estimate: estimateAt(state, atMs),
    fan: fanAt(state, atMs),
    fanIfLeft: fanIfLeftAt(state, atMs),
    mixing,
    standing,
    dwellLeftS,
    rejected,
  };
}
