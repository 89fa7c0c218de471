/** How a day is said. */
import { language } from './language.ts';
import { numbersOfPlace } from './manner.ts';

/** Thu, Nov 26, as the viewer's place writes it; with the year where it is not this one. Empty where there is no date. */
export function day(wall: string, now = new Date()): string {
  const at = new Date(wall);
  return Number.isNaN(at.getTime()) ? '' : dayOf(at, at.getFullYear() !== now.getFullYear());
}

/** Its words are those of the page, their order that of the viewer's place. */
function dayOf(at: Date, withYear: boolean): string {
  const { region } = new Intl.Locale(numbersOfPlace().resolvedOptions().locale).maximize();
  const daysAsIn = region === undefined ? language : `${language}-${region}`;
  const year = withYear ? ({ year: 'numeric' } as const) : {};
  return new Intl.DateTimeFormat(daysAsIn, { weekday: 'short', day: 'numeric', month: 'short', ...year }).format(at);
}
