/** Which days there are, in the calendar of ISO 8601 (the Gregorian one, also before it was made). */

const DATE = /^(\d{4})-(\d\d)-(\d\d)$/;
const DAYS_IN = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const FEBRUARY = 2;

/** Whether the calendar has this day, written 2026-11-24. */
export function isDay(date: string): boolean {
  const [found, ...parts] = DATE.exec(date) ?? [];
  const [year = 0, month = 0, day = 0] = parts.map(Number);
  if (found === undefined) return false;
  const most = month === FEBRUARY && isLeap(year) ? 29 : (DAYS_IN[month - 1] ?? 0);
  return 1 <= day && day <= most;
}

function isLeap(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}

const MOMENT = /^(\d{4}-\d\d-\d\d)T([01]\d|2[0-3]):[0-5]\d:[0-5]\d\.\d{3}Z$/;

/** Whether this is a moment as we write it, ISO 8601 in UTC to the millisecond, on a day that there is. */
export function isMoment(text: string): boolean {
  const [, date] = MOMENT.exec(text) ?? [];
  return date !== undefined && isDay(date);
}
