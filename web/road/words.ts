/** Figures as only the map writes them, the same in every language; words come from the page's catalogue. */
import type { Band } from '../../server/core/record/profile.ts';
import { bound } from '../words/measure.ts';

/** "31–32". */
export function bandWords([lowC, highC]: Band): string {
  return `${bound(lowC)}–${bound(highC)}`;
}

/** Time since the run's start along the foot of the map: h:mm, or h:mm:ss where asked; the start itself, and before it, "0". */
export function sinceStart(ms: number, withSeconds = false): string {
  const total = Math.max(0, Math.round(ms / 1000));
  if (total === 0) return '0';
  const two = (part: number): string => String(part % 60).padStart(2, '0');
  const [hours, minutes] = [Math.floor(total / 3600), two(Math.floor(total / 60))];
  return withSeconds ? `${hours}:${minutes}:${two(total)}` : `${hours}:${minutes}`;
}
