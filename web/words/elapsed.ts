/** How far into a run a moment is said to be. */
import { MIN_PER_H, S_PER_MIN } from './measure.ts';

/** Elapsed time since the run's start, the one form of it: 0:00, 0:22, 1:43. Rounded as a span is, so that both say the same of its end. */
export function elapsed(ms: number): string {
  const min = Math.round(Math.max(0, Math.round(ms / 1000)) / S_PER_MIN);
  return `${Math.floor(min / MIN_PER_H)}:${String(min % MIN_PER_H).padStart(2, '0')}`;
}
