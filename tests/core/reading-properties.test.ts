/** What holds for every line, and the values that are told apart from temperatures. Seeded. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bareNumber } from '../../server/core/reading/bare-number.ts';
import { MAX_LINE_LENGTH, readLine } from '../../server/core/reading/line.ts';
import { PLAUSIBLE_MARGIN_C, plausibleWindowC } from '../../server/core/reading/plausible.ts';
import { sentinelReason } from '../../server/core/reading/sentinel.ts';
import { shipped } from '../support/shipped.ts';

const hundredths = fc.integer({ min: -3600, max: 11_500 });
const tenths = fc.integer({ min: -360, max: 1150 });

describe('every line', () => {
  const byte = fc.integer({ min: 0, max: 255 }).map((code) => String.fromCharCode(code));
  const piece = fc.constantFrom(
    '31.4',
    '45',
    ',',
    ';',
    ' ',
    '\t',
    ':',
    '=',
    'T',
    'temp',
    'nan',
    '-',
    '.',
    '{',
    '"',
    '[',
    ']',
    '}',
    '%',
    'C',
    '°',
    'e5',
  );
  const line = fc.oneof(
    fc.string({ unit: byte, maxLength: 600 }),
    fc.array(piece, { maxLength: 40 }).map((pieces) => pieces.join('')),
  );

  test('[R1] is read or refused, never thrown at, and channels have keys of their own', () => {
    fc.assert(
      fc.property(line, fc.constantFrom(null, true, false), (text, decimalComma) => {
        const read = readLine(text, { decimalComma });
        if (!read.ok) return;
        const keys = read.channels.map((channel) => channel.key);
        expect(keys.length).toBeGreaterThan(0);
        expect(new Set(keys).size).toBe(keys.length);
        expect(keys.every((key) => key === key.toLowerCase() && key !== '')).toBe(true);
        expect(read.channels.some((channel) => Number.isNaN(channel.valueC))).toBe(false);
      }),
      { seed: 31, numRuns: 4000 },
    );
  });

  test('[R2] with any byte above 7 bits that is no degree sign, or any control character but tab, gives no reading', () => {
    const rubbish = fc
      .integer({ min: 0, max: 255 })
      .filter(
        (code) =>
          (code < 0x20 && code !== 9) || code === 0x7f || (code > 0x7f && ![0xa0, 0xb0, 0xba, 0xc2].includes(code)),
      );
    fc.assert(
      fc.property(rubbish, fc.nat({ max: 5 }), (code, at) => {
        const text = 'T=31.4';
        const place = Math.min(at, text.length - 1);
        expect(readLine(text.slice(0, place + 1) + String.fromCharCode(code) + text.slice(place + 1) + ' C').ok).toBe(
          false,
        );
      }),
      { seed: 32, numRuns: 500 },
    );
  });

  test('[R3] ends for every line that is made to trap a pattern', () => {
    const traps = ['1', '-', '1,', '1 ', '--.', '°', 'a.', 'a-', '1:', '12:', '[', '{"a":', ' ,', '1e', '"\\'];
    // A pattern that backtracks without end takes years here: then this test ends by its time limit, and by nothing else.
    for (const trap of traps) {
      const text = trap.repeat(MAX_LINE_LENGTH).slice(0, MAX_LINE_LENGTH);
      expect(readLine(text)).toHaveProperty('ok');
    }
  });
});

describe('[R4] a value written in any of the dialects comes back as itself', () => {
  const dialects: readonly (readonly [string, (value: string) => string])[] = [
    ['bare', (value) => value],
    ['with a unit', (value) => `${value} °C`],
    ['with a label', (value) => `T: ${value}`],
    ['labelled with an equals sign and a unit', (value) => `choc=${value}C`],
    ['first of two, comma', (value) => `${value},45.2`],
    ['first of three, tab', (value) => `${value}\t45.2\t20.0`],
    ['in padded columns', (value) => `${value.padStart(9)}    45.20`],
    ['JSON', (value) => `{"chocolate":${value},"bath":45.2}`],
    ['JSON text', (value) => `{"chocolate":"${value}"}`],
    ['decimal comma', (value) => value.replace('.', ',')],
    ['decimal commas, semicolon', (value) => `${value.replace('.', ',')};45,2`],
  ];
  test.each(dialects)('%s', (_, write) => {
    fc.assert(
      fc.property(hundredths, (value) => {
        const read = readLine(write((value / 100).toFixed(2)));
        expect(read).toMatchObject({
          ok: true,
          channels: [{ valueC: value / 100 }, ...Array(read.ok ? read.channels.length - 1 : 0).fill({})],
        });
      }),
      { seed: 33, numRuns: 300 },
    );
  });

  test('[R5] and in °F and K to within the rounding of a tenth', () => {
    fc.assert(
      fc.property(tenths, (value) => {
        const fahrenheit = readLine(`${(value / 10) * 1.8 + 32}F`);
        const kelvin = readLine(`T=${(value / 10 + 273.15).toFixed(2)} K`);
        for (const read of [fahrenheit, kelvin]) expect(read.ok && read.channels[0]!.valueC).toBeCloseTo(value / 10, 6);
      }),
      { seed: 34, numRuns: 300 },
    );
  });

  test('the fast way through agrees with the platform to the last bit, and leaves all else alone', () => {
    const number = fc.tuple(
      fc.constantFrom('', '-', '+'),
      fc.stringMatching(/^\d{1,9}$/),
      fc.option(fc.stringMatching(/^\d{1,6}$/)),
    );
    fc.assert(
      fc.property(number, ([sign, whole, decimals]) => {
        const text = `${sign}${whole}${decimals === null ? '' : `.${decimals}`}`;
        expect(bareNumber(` ${text} `)! === Number(text)).toBe(true);
      }),
      { seed: 35, numRuns: 3000 },
    );
    for (const text of ['', ' ', '-', '.', '5.', '.5', '1e3', '3 1', '--1', '1.2.3', '0x1', '1'.repeat(16), '31,4'])
      expect(bareNumber(text), text).toBeNull();
  });
});

describe('values that stand for no temperature', () => {
  test.each([
    -127,
    -126.996,
    -196.6,
    -128,
    -999,
    -999.9,
    999,
    999.9,
    2047,
    2048,
    1023.75,
    -242.02,
    988.79,
    -273.15,
    327.67,
    6553.5,
    -32768,
    9.9e37,
    -9.9e37,
    9.91e37,
    Infinity,
    -Infinity,
    NaN,
  ])('%d is a sentinel', (value) => {
    expect(sentinelReason(value)).toBe('sentinel');
  });

  test('[R6] -127 sent in °F is found out after conversion', () => {
    const read = readLine('-196.6 F');
    expect(read.ok && sentinelReason(read.channels[0]!.valueC)).toBe('sentinel');
  });

  test.each([85, 0, -0.0625, 31.4, -55, 125, 126.9, -126.5, 1000, 2046, 4095])(
    '%d is not, taken by itself',
    (value) => {
      expect(sentinelReason(value)).toBeNull();
    },
  );
});

describe('the plausible window', () => {
  test.each([
    ['dark', 26, 52],
    ['milk', 25, 48],
    ['white', 24, 46],
  ])('of %s reaches 60 °C beyond its lowest and highest bound', (id, lowestC, highestC) => {
    expect(plausibleWindowC(shipped(id))).toEqual([lowestC - PLAUSIBLE_MARGIN_C, highestC + PLAUSIBLE_MARGIN_C]);
  });

  test('[R7] follows the profile wherever it goes, by band edges alone where there is nothing else', () => {
    const dark = shipped('dark');
    const phases = [{ id: 'boil', heading: 'up' as const, bandC: [118, 120] as const }];
    expect(plausibleWindowC({ ...dark, phases })).toEqual([58, 180]);
  });
});
