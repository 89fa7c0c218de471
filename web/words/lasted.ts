/** How long something lasted is said to be. */
import { S_PER_MIN, SPAN, span } from './measure.ts';

/** How long something lasted, to the second while that still means something: 45 s · 3 min 35 s · 24 min. */
export function lasted(seconds: number): string {
  const s = Math.max(0, Math.round(seconds));
  const min = Math.floor(s / S_PER_MIN);
  if (s < S_PER_MIN || min >= 10) return span(s);
  return SPAN.both(SPAN.min(min), s % S_PER_MIN === 0 ? '' : SPAN.s(s % S_PER_MIN));
}
