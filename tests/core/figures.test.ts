/** Numbers that are not written as the thermometer writes them: none is read, and no thermometer is taken for another. */
import { describe, expect, test } from 'vitest';
import { MISFITS_MOST, recognise, type Recognition, recognitionOf } from '../../server/core/reading/recognition.ts';
import { formatShape } from '../../server/core/record/format.ts';
import { moments, seeded } from '../support/lines/kitchen.ts';

const NOTHING_SAID = { decimalComma: null, roles: {} };

/** Lines a second apart; now and then what is known goes through JSON, as with a checkpoint. */
class Ear {
  recognition: Recognition;
  #atMs = 0;

  constructor(recognition = recognitionOf(null)) {
    this.recognition = recognition;
  }

  /** Values by channel, or the reason why there is none. */
  hear(lines: readonly string[]): string[] {
    return lines.map((text) => {
      this.#atMs += 1000;
      const { recognition, reading } = recognise(this.recognition, text, this.#atMs, NOTHING_SAID);
      const isWritten = this.#atMs % 50_000 === 0;
      this.recognition = isWritten ? (JSON.parse(JSON.stringify(recognition)) as Recognition) : recognition;
      return reading.ok ? reading.channels.map(({ key, valueC }) => `${key} ${valueC}`).join(', ') : reading.reason;
    });
  }
}

/** A bowl of a whole hour in which somebody stirs. */
const BOWL_C = moments({ seed: 5, lines: 3600, everyMs: 1000, noiseC: 0.05 }).map(({ chocolateC }) => chocolateC);

function lines(write: (valueC: number) => string, from = 0, count = 60): string[] {
  return BOWL_C.slice(from, from + count).map(write);
}

const fixed = (decimals: number) => (valueC: number) => valueC.toFixed(decimals);
const cut = (decimals: number) => (valueC: number) => String(Number(valueC.toFixed(decimals)));
const inSteps = (step: number, decimals: number) => (valueC: number) =>
  String(Number((Math.round(valueC / step) * step).toFixed(decimals)));
/** As scripting languages write: noughts are left out, but for the first one behind the point. */
const scripted = (decimals: number) => (valueC: number) => cut(decimals)(valueC).replace(/^(-?\d+)$/, '$1.0');

describe('[R16] a number with fewer figures, or more, than the thermometer writes', () => {
  test.each([
    ['a number alone', (number: string) => number, '31.9', '1 31.59'],
    ['one with a unit', (number: string) => `${number} C`, '31.9', '1 31.59'],
    ['one with a label', (number: string) => `T: ${number}`, '31.9', 't 31.59'],
    ['one with a decimal comma', (number: string) => `${number.replace('.', ',')} °C`, '31.9', '1 31.59'],
    ['one of two', (number: string) => `${number};${(Number(number) + 14).toFixed(2)}`, '31.9', '1 31.59, 2 45.59'],
    ['noise that looks like a number', (number: string) => number, '32.123', '1 31.59'],
    ['a number that lost its point', (number: string) => number, '32', '1 31.59'],
  ])('is not read: %s', (_, dress, odd, wanted) => {
    const ear = new Ear();
    ear.hear(lines((valueC) => dress(fixed(2)(valueC))));
    expect(ear.hear([dress(odd), dress('31.59')])).toEqual(['unsure', wanted]);
  });

  test.each([
    ['tenths', fixed(1), ['32', '31.59', '31.9'], ['unsure', 'unsure', '1 31.9']],
    ['whole degrees', fixed(0), ['32.1', '33'], ['unsure', '1 33']],
    ['tenths without noughts', cut(1), ['31.59', '32'], ['unsure', '1 32']],
  ])('nor where it writes %s', (_, write, odd, wanted) => {
    const ear = new Ear();
    ear.hear(lines(write, 0, 3000));
    expect(ear.hear(odd)).toEqual(wanted);
  });

  test('is read as long as it is not known how it writes', () => {
    const ear = new Ear();
    ear.hear([
      '31.52',
      '31.53',
      '31.51',
      '31.54',
      '31.56',
      '31.55',
      '31.57',
      '31.58',
      '31.56',
      '31.57',
      '31.59',
      '31.58',
    ]);
    expect(ear.hear(['31.9'])).toEqual(['1 31.9']);
  });

  test('is not read at the start of a run whose header knows', () => {
    const ear = new Ear();
    ear.hear(lines(fixed(2)));
    const { format } = ear.recognition;
    expect(format?.kinds[0]?.columns[0]?.figures).toEqual({ least: 2, most: 2, all: 4 });
    expect(formatShape.check(format, 'format')).toBeNull();
    expect(new Ear(recognitionOf(JSON.parse(formatShape.write(format)))).hear(['31.9', '31.59'])).toEqual([
      'unsure',
      '1 31.59',
    ]);
  });

  test('is read where that is what stands for a fault, to be refused for what it is', () => {
    const ear = new Ear();
    ear.hear(lines(fixed(2)));
    expect(ear.hear(['-127', '999.9'])).toEqual(['1 -127', '1 999.9']);
  });
});

describe('[R16] never taken for one', () => {
  test.each([
    ['two decimals without noughts', cut(2)],
    ['four without noughts', cut(4)],
    ['steps of a sixteenth', inSteps(1 / 16, 4)],
    ['steps of a sixteenth to the hundredth', inSteps(1 / 16, 2)],
    ['steps of an eighth', inSteps(1 / 8, 3)],
    ['steps of a quarter', inSteps(1 / 4, 2)],
    ['steps of a half', inSteps(1 / 2, 1)],
    ['steps of a twentieth', inSteps(1 / 20, 2)],
    ['as scripting languages do', scripted(2)],
    ['as these do, in steps of a sixteenth', (valueC: number) => scripted(4)(Math.round(valueC * 16) / 16)],
    ['six significant figures', (valueC: number) => String(Number(valueC.toPrecision(6)))],
    ['in °F, of whole steps in °C', (valueC: number) => `${cut(1)(Math.round(valueC) * 1.8 + 32)} F`],
    ['in JSON', (valueC: number) => `{"temp":${valueC.toFixed(2)}}`],
  ])('a thermometer that writes %s', (_, write) => {
    const all = lines(write, 0, BOWL_C.length);
    const read = new Ear().hear(all);
    expect(read.slice(10).filter((each) => !/\d/.test(each))).toEqual([]);
  });

  test('one that writes each third line shorter, for reasons of its own', () => {
    const read = new Ear().hear(BOWL_C.map((valueC, n) => valueC.toFixed(n % 3 === 0 ? 1 : 2)));
    expect(read.filter((each) => !each.startsWith('1 '))).toEqual([]);
  });

  test.each([
    ['9.98', '1 9.98'],
    ['9.998', '1 9.998'],
    ['-5.20', '1 -5.2'],
    ['100.4', '1 100.4'],
    ['100.40', '1 100.4'],
  ])('a whole part of another length, on a display of four figures or a free one: %s', (text, wanted) => {
    const ear = new Ear();
    ear.hear(lines(fixed(2)));
    expect(ear.hear([text])).toEqual([wanted]);
  });

  test('the same number with a power of ten', () => {
    const read = new Ear().hear(lines((valueC) => `+${valueC.toExponential(8).toUpperCase()}`, 0, 300));
    expect(read.slice(10).filter((each) => !each.startsWith('1 '))).toEqual([]);
  });
});

test('[R12] a thermometer set to other figures is followed after ten lines', () => {
  for (const [before, after] of [
    [fixed(2), fixed(1)],
    [fixed(1), fixed(2)],
    [fixed(2), cut(4)],
  ] as const) {
    const ear = new Ear();
    ear.hear(lines(before, 0, 1000));
    const read = ear.hear(lines(after, 1000, 200));
    expect(read.slice(0, MISFITS_MOST - 1).every((each) => each === 'unsure' || each.startsWith('1 '))).toBe(true);
    expect(read.slice(2 * MISFITS_MOST).filter((each) => !each.startsWith('1 '))).toEqual([]);
  }
});

test('[R16] of two lines that run into each other, and lines with bytes out of their midst, none is read wrongly', () => {
  const random = seeded(31);
  const ear = new Ear();
  ear.hear(lines(fixed(2)));
  const torn = BOWL_C.slice(60, 1060).flatMap((valueC) => {
    const text = valueC.toFixed(2);
    const at = Math.floor(random() * text.length);
    // What lost its whole figures is for belief to doubt: `1.52` is written as it has to be.
    return at < text.indexOf('.') ? [text] : [text, text.slice(0, at) + text.slice(at + 1)];
  });
  const read = ear.hear(torn);
  const wrong = read.filter((each, at) => each !== 'unsure' && !/^\d+\.\d\d$/.test(torn[at]!));
  expect(wrong.filter((each) => Number(each.slice(2)) < 100)).toEqual([]);
  expect(read.filter((each) => each.startsWith('1 ')).length).toBeGreaterThanOrEqual(1000);
});
