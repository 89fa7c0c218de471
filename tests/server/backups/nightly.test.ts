/** Nights by the clock on the wall: one backup each, missed ones made up for, and a failure neither hidden nor hurried. */
import { describe, expect, onTestFinished, test } from 'vitest';
import { isNightDue, lastQuietMs, Nightly, nextQuietMs } from '../../../server/backups/nightly.ts';

/** In the time of this machine. */
const at = (day: number, hour: number, minute = 0): number => new Date(2026, 10, day, hour, minute).getTime();

test('the quiet hour is half past three, on this day or the one before', () => {
  expect([lastQuietMs(at(26, 3, 29)), nextQuietMs(at(26, 3, 29))]).toEqual([at(25, 3, 30), at(26, 3, 30)]);
  expect([lastQuietMs(at(26, 3, 30)), nextQuietMs(at(26, 3, 30))]).toEqual([at(26, 3, 30), at(27, 3, 30)]);
  expect([lastQuietMs(at(1, 0)), nextQuietMs(at(30, 12))]).toEqual([
    new Date(2026, 9, 31, 3, 30).getTime(),
    new Date(2026, 11, 1, 3, 30).getTime(),
  ]);
});

test('there is one in every night, also where the clocks are changed over it', () => {
  const here = process.env['TZ'];
  // In Helsinki at 3 to 4 on 29 March 2026 and at 4 to 3 on 25 October (time zone database: EU rules, UTC+2).
  process.env['TZ'] = 'Europe/Helsinki';
  onTestFinished(() => {
    if (here === undefined) delete process.env['TZ'];
    else process.env['TZ'] = here;
  });
  for (const [noon, quiet] of [
    ['2026-03-29T09:00:00Z', '2026-03-29T01:30:00Z'],
    ['2026-10-25T10:00:00Z', '2026-10-25T00:30:00Z'],
  ] as const) {
    const quietMs = Date.parse(quiet);
    expect(lastQuietMs(Date.parse(noon))).toBe(quietMs);
    expect(isNightDue(quietMs + 3_600_000, [quietMs])).toBe(false);
  }
});

test.each<[string, number, number[], boolean]>([
  ['none was ever made', at(26, 12), [], true],
  ['this night’s is there', at(26, 12), [at(26, 3, 30)], false],
  ['it was made up for at noon, and it is evening', at(26, 20), [at(26, 12)], false],
  ['it is before the quiet hour, and last night’s is there', at(26, 3, 29), [at(25, 3, 30)], false],
  ['the quiet hour has come', at(26, 3, 30), [at(25, 3, 30)], true],
  ['three nights went by unmade', at(26, 9), [at(23, 3, 30)], true],
  ['the clock was set back: one is dated later than now', at(26, 9), [at(28, 3, 30)], true],
])('%s', (_, now, made, isDue) => {
  expect(isNightDue(now, made)).toBe(isDue);
});

describe('looking', () => {
  function kitchen(worth = true) {
    const made: number[] = [];
    let nowMs = at(26, 2);
    let isWell = true;
    let tries = 0;
    const nightly = new Nightly({
      wallNowMs: () => nowMs,
      madeAtMs: () => made,
      isWorthIt: () => worth,
      make: () => {
        tries += 1;
        if (isWell) made.push(nowMs);
        return Promise.resolve(isWell);
      },
    });
    return {
      made,
      tries: () => tries,
      breaks: (is: boolean) => (isWell = !is),
      look: (when: number) => {
        nowMs = when;
        return nightly.look();
      },
    };
  }

  test('makes one a night, at the first look after the quiet hour', async () => {
    const { look, made } = kitchen();
    for (let hour = 2; hour < 2 + 72; hour++) await look(at(26, hour));
    // The first makes up for the night before the start.
    expect(made).toEqual([at(26, 2), at(26, 4), at(27, 4), at(28, 4)]);
  });

  test('tries one that failed again after an hour, not every minute', async () => {
    const { look, breaks, tries, made } = kitchen();
    breaks(true);
    for (let minute = 0; minute < 150; minute++) await look(at(26, 4, minute));
    expect([tries(), made]).toEqual([3, []]);
    breaks(false);
    expect(await look(at(26, 8))).toBe(true);
    expect(await look(at(26, 8, 1))).toBe(false);
  });

  test('makes none of nothing', async () => {
    const { look, tries } = kitchen(false);
    expect(await look(at(26, 9))).toBe(false);
    expect(tries()).toBe(0);
  });
});
