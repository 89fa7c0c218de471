/** Which days there are. The platform's own calendar is the measure. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { isDay, isMoment } from '../../server/core/record/calendar.ts';

it('a day is one where the platform gives it back as it was written, all the others are none', () => {
  const two = fc.integer({ min: 0, max: 99 }).map((n) => String(n).padStart(2, '0'));
  const near = fc.constantFrom('00', '01', '02', '12', '28', '29', '30', '31', '32');
  const years = fc.oneof(fc.integer({ min: 0, max: 9_999 }), fc.constantFrom(1900, 2000, 2024, 2100));
  fc.assert(
    fc.property(years, fc.oneof(near, two), fc.oneof(near, two), (year, month, day) => {
      const date = `${String(year).padStart(4, '0')}-${month}-${day}`;
      const atMs = Date.parse(`${date}T00:00:00.000Z`);
      const isSame = !Number.isNaN(atMs) && new Date(atMs).toISOString().startsWith(date);
      expect(isDay(date), date).toBe(isSame);
      expect(isMoment(`${date}T23:59:59.999Z`)).toBe(isSame);
    }),
    { seed: 4330, numRuns: 2_000 },
  );
});

it.each(['2026-11-25T24:00:00.000Z', '2026-11-25T12:60:00.000Z', '2026-11-25T12:00:60.000Z', '2026-11-25', ''])(
  'no moment as we write it: %s',
  (text) => expect(isMoment(text)).toBe(false),
);
