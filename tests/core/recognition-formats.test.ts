/** Made-up devices, several seeds each, line by line: nothing is read that was not meant, and hardly anything has to be asked. */
import { describe, expect, test } from 'vitest';
import type { LineFormat } from '../support/lines/format.ts';
import { FORMATS } from '../support/lines/formats.ts';
import { type MeantLine, verdictOn } from '../support/lines/judging.ts';
import { moments } from '../support/lines/kitchen.ts';

const SEEDS = [11, 14];
const EVERY_MS = [1000, 500, 2000, 250];
/** Share of the lines of a format that must be read (ours: the rest came before it was sure). */
const READ_LEAST = 0.5;
/** Share of formats about which somebody may have to be asked (contract). */
const ASKED_MOST = 0.1;
/** A number that stands alone reaches the bowl within this, ms (contract: three to five seconds). */
const FIRST_READ_MS = 5_000;

function linesOf(format: LineFormat, seed: number): MeantLine[] {
  const all = moments({ seed, lines: 40, everyMs: EVERY_MS[seed % EVERY_MS.length]! });
  const heading = (format.heading ?? []).map((text) => ({ atMs: all[0]!.atMs - 100, text, meant: {} }));
  const body = all.flatMap((moment) => {
    const { lines, meant } = format.write(moment);
    return lines.map((text, at) => ({ atMs: moment.atMs + at, text, meant: meant[at]! }));
  });
  return [...heading, ...body];
}

const VERDICTS = FORMATS.map((format) => ({
  format,
  name: format.name,
  seeds: SEEDS.map((seed) => ({ seed, ...verdictOn(linesOf(format, seed)) })),
}));

describe('[R11] every made-up device is read as it meant, or asked about', () => {
  test.each(VERDICTS)('$name', ({ format, seeds }) => {
    for (const { seed, wrong, meant, read, asked } of seeds) {
      expect(wrong, `seed ${seed}`).toEqual([]);
      if (format.none) expect(read, `seed ${seed}`).toBe(0);
      else if (!format.asks) {
        expect(asked, `seed ${seed}`).toBe(false);
        expect(read / meant, `seed ${seed}`).toBeGreaterThanOrEqual(READ_LEAST);
      }
    }
  });

  test('few of them have to be asked about', () => {
    const asked = VERDICTS.filter(({ seeds }) => seeds.some((each) => each.asked));
    expect(asked.length).toBeLessThanOrEqual(ASKED_MOST * FORMATS.length);
  });

  test('a number and nothing else reaches the bowl within seconds', () => {
    for (const { name, seeds } of VERDICTS.filter(
      (each) => each.name.startsWith('bare,') && !each.name.includes('comma'),
    ))
      for (const { firstReadMs } of seeds) expect(firstReadMs, name).toBeLessThan(FIRST_READ_MS);
  });
});
