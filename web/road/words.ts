/** Figures as only the map writes them, the same in every language; words come from the page's catalogue. */
import type { Band } from '../../server/core/record/profile.ts';
import { bound } from '../words/measure.ts';

/** "31–32". */
export function bandWords([lowC, highC]: Band): string {
  return `${bound(lowC)}–${bound(highC)}`;
}
