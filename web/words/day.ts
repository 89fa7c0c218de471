/** How a day is said. */
import { dayOf } from './manner.ts';

/** Thu, Nov 26, as the viewer's place writes it; with the year where it is not this one. Empty where there is no date. */
export function day(wall: string, now = new Date()): string {
  const at = new Date(wall);
  return Number.isNaN(at.getTime()) ? '' : dayOf(at, at.getFullYear() !== now.getFullYear());
}
