/** The search for the speed, against a wire on which sender and receiver run at different ones. */
import { describe, expect, test } from 'vitest';
import { PAUSE_MS, unreadable } from '../../../server/source/legible.ts';
import { SEARCH_MS, SpeedSearch, USUAL_BAUD, USUAL_BAUDS } from '../../../server/source/speed.ts';
import { received } from '../../support/uart.ts';

const bytes = (text: string): Uint8Array => Uint8Array.from(text, (each) => each.charCodeAt(0));

/** How thermometers write a reading, by its tenths and hundredths; each the form of many. Made up. */
const FORMS: readonly ((valueC: number) => string)[] = [
  (c) => `${c.toFixed(2)}\r\n`,
  (c) => `${c.toFixed(1)}\n`,
  (c) => `${c.toFixed(1)} C\r\n`,
  (c) => `${c.toFixed(2)} \xb0C\r\n`,
  (c) => `${c.toFixed(2)} \xc2\xb0C\r\n`,
  (c) => `T: ${c.toFixed(1)}\r`,
  (c) => `T=${c.toFixed(3)};H=${(40 + c / 10).toFixed(1)}\r\n`,
  (c) => `chocolate: ${c.toFixed(2)}, bath: ${(c + 9).toFixed(2)}\r\n`,
  (c) => `${c.toFixed(2)},${(c + 9).toFixed(2)},22.50\r\n`,
  (c) => `${c.toFixed(2).replace('.', ',')};${(c + 9).toFixed(2).replace('.', ',')}\r\n`,
  (c) => `{"temp":${c.toFixed(2)},"bath":${(c + 9).toFixed(2)}}\n`,
  (c) => `+${(c / 10).toFixed(7)}E+01\n`,
  (c) => `\t${c.toFixed(1)}\t${(c + 9).toFixed(1)}\n\r`,
  (c) => `(${c.toFixed(2)}, ${(c + 9).toFixed(2)})\r\n`,
  (c) => `[${c.toFixed(2)}]\r\n`,
  (c) => `$TEMP,${c.toFixed(2)},C*5A\r\n`,
  (c) => `\x02${c.toFixed(2)}\x03\r\n`,
  (c) => `Temperature = ${c.toFixed(2)} deg C\r\n`,
  (c) => `${(c * 1.8 + 32).toFixed(1)}F\r\n`,
  (c) => `${Math.round(c * 100)}\r\n`,
];

interface Searched {
  readonly baud: number;
  readonly isFound: boolean;
  readonly afterMs: number;
}

/** A thermometer that sends at `sentBaud`, a port opened at `first`, and a search that is obeyed at once. */
function searched(
  form: (valueC: number) => string,
  sentBaud: number,
  first: number,
  everyMs: number,
  forMs: number,
): Searched {
  const search = new SpeedSearch(first);
  for (let atMs = 0, line = 0; atMs < forMs; atMs += everyMs, line++) {
    // A slow wander, so that no digit stands still.
    const burst = bytes(form(31.4 + 1.7 * Math.sin(line / 3)));
    const step = stepOf(search, received([burst], sentBaud, search.baud)[0]!, atMs);
    if (step?.kind === 'try') search.changed(step.atMs);
    else if (step !== null) return { baud: search.baud, isFound: step.kind === 'found', afterMs: step.atMs };
  }
  return { baud: search.baud, isFound: false, afterMs: forMs };
}

/** As a port hands bytes on: in pieces, within some milliseconds. */
function stepOf(search: SpeedSearch, heard: Uint8Array, atMs: number) {
  for (let at = 0; at < heard.length; at += 7) {
    const step = search.bytes(heard.slice(at, at + 7), atMs + at);
    if (step !== null) return { ...step, atMs: atMs + at };
  }
  const quietMs = atMs + heard.length + PAUSE_MS;
  const step = search.quiet(quietMs);
  return step === null ? null : { ...step, atMs: quietMs };
}

describe('[L9] the speed of a thermometer that speaks', () => {
  test('is found from whichever of the six the port begins with, in each of twenty forms, and never a wrong one', () => {
    const wrong: string[] = [];
    for (const sent of USUAL_BAUDS)
      for (const first of USUAL_BAUDS)
        for (const [number, form] of FORMS.entries()) {
          const found = searched(form, sent, first, 500, 60_000);
          const isRight = found.isFound && found.baud === sent && found.afterMs <= SEARCH_MS;
          if (!isRight) wrong.push(`${sent} from ${first}, form ${number}: ${JSON.stringify(found)}`);
        }
    expect(wrong).toEqual([]);
  });

  test('is found within the same 12 s where it speaks once a second and nothing is remembered', () => {
    for (const sent of USUAL_BAUDS)
      for (const form of FORMS) {
        const found = searched(form, sent, USUAL_BAUD, 1000, 60_000);
        expect(found).toMatchObject({ isFound: true, baud: sent });
        expect(found.afterMs).toBeLessThanOrEqual(SEARCH_MS);
      }
  });

  test('is left unsure where it is none of the six, never guessed', () => {
    for (const sent of [1200, 2400, 14_400, 31_250, 74_880, 250_000])
      for (const form of FORMS) expect(searched(form, sent, USUAL_BAUD, 500, 60_000).isFound).toBe(false);
  });

  test('is not looked for in silence: only bytes speak against it', () => {
    const search = new SpeedSearch();
    for (let atMs = 0; atMs < 600_000; atMs += 1000) expect(search.quiet(atMs)).toBe(null);
    expect(search.baud).toBe(USUAL_BAUD);
  });

  describe('once it was found', () => {
    const OTHER_BAUD = 115_200;
    const line = (n: number): Uint8Array => bytes(`${(31 + (n % 50) / 100).toFixed(2)}\r\n`);

    function found(): SpeedSearch {
      const search = new SpeedSearch();
      for (let n = 0; n < 4; n++) stepOf(search, line(n), n * 500);
      expect(search.isFound).toBe(true);
      return search;
    }

    test('is searched again where the thermometer is set to another one, and found within 12 s', () => {
      const search = found();
      let triedMs: number | null = null;
      let atMs = 60_000;
      for (let n = 0; !(triedMs !== null && search.isFound); n++, atMs += 500) {
        const step = stepOf(search, received([line(n)], OTHER_BAUD, search.baud)[0]!, atMs);
        if (step?.kind === 'try') triedMs ??= step.atMs;
        if (step?.kind === 'try') search.changed(step.atMs);
        expect(atMs).toBeLessThan(60_000 + 30_000);
      }
      expect(triedMs).toBeGreaterThanOrEqual(65_000);
      expect(atMs - triedMs!).toBeLessThanOrEqual(SEARCH_MS + 1000);
      expect(search.baud).toBe(OTHER_BAUD);
    });

    test('is kept through noise of four seconds, and through noise between lines for ever', () => {
      const search = found();
      const noise = (n: number): Uint8Array => bytes(`\x80\xff${n % 10}\xfe\x00\x9c\r\n`);
      for (let n = 0; n < 16; n++) expect(stepOf(search, noise(n), 60_000 + 250 * n)).toBe(null);
      for (let n = 0; n < 400; n++)
        expect(stepOf(search, n % 4 === 3 ? noise(n) : line(n), 70_000 + 250 * n)).toBe(null);
      expect(search.isFound).toBe(true);
    });

    test('is what a search in vain ends with', () => {
      const search = new SpeedSearch(OTHER_BAUD);
      for (let n = 0; !search.isFound; n++) {
        const step = stepOf(search, received([line(n)], USUAL_BAUD, search.baud)[0]!, n * 500);
        if (step?.kind === 'try') search.changed(step.atMs);
      }
      let last: string | null = null;
      for (let atMs = 60_000; last !== 'unsure'; atMs += 500) {
        const step = stepOf(search, bytes('\x80\xff\xfe\x00\x9c\r\n\x80\xfe\xc1\r\n'), atMs);
        if (step?.kind === 'try') search.changed(step.atMs);
        last = step?.kind ?? last;
        expect(atMs).toBeLessThan(120_000);
      }
      expect(search.baud).toBe(USUAL_BAUD);
    });
  });

  test('is not left for the noise of a board that boots, nor for a line that comes byte by byte', () => {
    const search = new SpeedSearch();
    expect(search.bytes(bytes('\x00\xff\x80\xf8\x00\xe0'), 0)).toBe(null);
    expect(search.bytes(bytes('\xff\xfe\x1c'), 200)).toBe(null);
    const steps = Array.from('ready.\r\n31.25\r\n31.31\r\n', (byte, at) => search.bytes(bytes(byte), 1000 + 150 * at));
    expect(steps.filter((step) => step !== null)).toEqual([{ kind: 'found' }]);
  });
});

test('what frames a line and what stands for a degree is text; other bytes are not', () => {
  for (const text of [
    '31.25 \xb0C',
    '31.25\xc2\xb0C',
    '31.25\xe2\x84\x83',
    '\x0231.25\x03',
    '\t31.2\t40.1',
    '31.2\xdfC',
  ])
    expect(unreadable(text)).toBe(0);
  expect(unreadable('\xfe\x00\x8031')).toBe(3);
  expect(unreadable('\xb0'.repeat(30))).toBe(30);
});
