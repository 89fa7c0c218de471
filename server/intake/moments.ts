/** The time column of a table from elsewhere, in whatever way it counts: to milliseconds since its first row. Pure. */

import { isDay } from '../core/record/calendar.ts';

/** `s`, `min`: figures; `elapsed`: 0:22:05 since a start; `clock`: a time of day, which begins anew at midnight; `date`: day and time. */
export const TIME_FORMS = ['s', 'min', 'elapsed', 'clock', 'date'] as const;
export type TimeForm = (typeof TIME_FORMS)[number];

const S_PER_MIN = 60;
const MS_PER_S = 1_000;
const DAY_MS = 24 * 3_600 * MS_PER_S;

/** `1:02:03`, `02:03`, with fractions of a second. */
const COLONS = /^(?:(\d{1,3}):)?(\d{1,3}):(\d{2})(?:[.,](\d{1,6}))?$/;
const TIME_OF_DAY = /^(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,6}))?)?(?:\s*([AaPp])\.?[Mm]\.?)?$/;
/** 2026-11-24 14:02:05, with T, fractions and a zone as ISO 8601 has them. */
const DATE = /^(\d{4}-\d{2}-\d{2})(?:[T ](\d{2}:\d{2})(?::(\d{2})(?:[.,](\d{1,6}))?)?\s*(Z|[+-]\d{2}:?\d{2})?)$/;

/** What is wanted of a cell of this form, for whoever has another. */
export const TIME_WANTED: Readonly<Record<TimeForm, string>> = {
  s: 'seconds as a number are wanted',
  min: 'minutes as a number are wanted',
  elapsed: 'a time such as 0:22:05 is wanted',
  clock: 'a time of day such as 14:02:05 is wanted',
  date: 'a date and time such as 2026-11-24 14:02:05 are wanted',
};

/** The cell's moment, ms of its own count; null: it is none of this form. */
export function momentMs(cell: string, form: TimeForm, figure: (cell: string) => number | null): number | null {
  switch (form) {
    case 's':
    case 'min': {
      const value = figure(cell);
      return value === null ? null : Math.round(value * (form === 's' ? 1 : S_PER_MIN) * MS_PER_S) + 0;
    }
    case 'elapsed': {
      const [found, h = '0', min, s, fraction] = COLONS.exec(cell) ?? [];
      return found === undefined
        ? null
        : ((Number(h) * 60 + Number(min)) * S_PER_MIN + Number(s)) * MS_PER_S + msOf(fraction);
    }
    case 'clock':
      return timeOfDayMs(cell);
    case 'date':
      return dateMs(cell);
  }
}

function timeOfDayMs(cell: string): number | null {
  const [found, h, min, s = '0', fraction, half] = TIME_OF_DAY.exec(cell) ?? [];
  if (found === undefined) return null;
  const hour = half === undefined ? Number(h) : (Number(h) % 12) + (half.toLowerCase() === 'p' ? 12 : 0);
  if (hour > 23 || Number(min) > 59 || Number(s) > 59) return null;
  return ((hour * 60 + Number(min)) * S_PER_MIN + Number(s)) * MS_PER_S + msOf(fraction);
}

/** Without a zone it is the time where the server stands. The platform takes 31 February for 3 March. */
function dateMs(cell: string): number | null {
  const [found, date, time, s = '00', fraction, zone = ''] = DATE.exec(cell) ?? [];
  if (found === undefined || !isDay(date!)) return null;
  const atMs = Date.parse(`${date}T${time}:${s}${zone}`);
  return Number.isNaN(atMs) ? null : atMs + msOf(fraction);
}

function msOf(fraction: string | undefined): number {
  return fraction === undefined ? 0 : Math.round(Number(`0.${fraction}`) * MS_PER_S);
}

/** A time of day that goes back by more than half a day has passed midnight: the moment as one of a later day. */
export function afterMidnight(atMs: number, lastMs: number): number {
  const days = Math.round((lastMs - atMs) / DAY_MS);
  return atMs < lastMs && days > 0 ? atMs + days * DAY_MS : atMs;
}
