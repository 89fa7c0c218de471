/** Lines with bytes taken out of their midst, told from thermometers that only change what they say. */
import { describe, expect, test } from 'vitest';
import { Torn } from '../../../server/source/torn.ts';

/** Whether any of the lines was called torn. */
function tornIn(lines: readonly string[]): boolean {
  const torn = new Torn();
  return lines.map((line) => torn.line(line)).some(Boolean);
}

const readings = (count: number): string[] => Array.from({ length: count }, (_, at) => (31 + (at % 7) / 10).toFixed(2));

describe('lines come torn', () => {
  test('where a second reader takes pieces out of them', () => {
    const torn = ['31.30', '3', '31.10', '.40', '31.20', '31.50', '131', '31.6', '31.20', '1.2', '31.30'];
    expect(tornIn([...readings(20), ...torn])).toBe(true);
  });

  test.each([
    ['the end of each line', (line: string) => `T: ${line} C`, (line: string) => `${line.slice(2)} C`],
    ['its start', (line: string) => `T: ${line} C`, (line: string) => `T: ${line.slice(0, 3)}`],
    ['what is behind the label’s middle', (line: string) => `Temp=${line}`, (line: string) => `mp=${line}`],
  ])('where of every other one, and later of all, only one and the same piece is left: %s', (_, whole, piece) => {
    const half = readings(20).map((line, at) => (at % 2 === 0 ? whole(line) : piece(line)));
    expect(tornIn([...readings(20).map(whole), ...half])).toBe(true);
    const torn = new Torn();
    const all = [...readings(20).map(whole), ...readings(200).map(piece)].map((line) => torn.line(line));
    expect(all.slice(23).every(Boolean)).toBe(true);
  });

  test('until they are whole again', () => {
    const torn = new Torn();
    for (const line of [...readings(20), '3', '31.10', '.40', '31.20', '131', '31.60', '.2']) torn.line(line);
    expect(torn.line('31.20')).toBe(true);
    expect(
      readings(16)
        .map((line) => torn.line(line))
        .at(-1),
    ).toBe(false);
  });
});

describe('lines do not come torn', () => {
  test.each([
    ['whole ones', readings(200)],
    [
      'with noughts at the end left out',
      Array.from({ length: 400 }, (_, at) => String(Math.round(3100 + 25 * Math.sin(at / 5)) / 100)),
    ],
    [
      'with a banner of a board that restarted in their midst',
      [...readings(30), 'boot v1.2', 'sensors: 1', '', 'id 28-00', 'ready.', ...readings(30)],
    ],
    ['of another form from some moment on', [...readings(30), ...readings(60).map((line) => `T: ${line} C`)]],
    [
      'without their second value now and then',
      readings(60).map((line, at) => (at > 30 && at % 3 === 0 ? line : `${line};21.40`)),
    ],
    [
      'without their label from some moment on',
      [...readings(30).map((line) => `T: ${line} C`), ...readings(60).map((line) => `${line} C`)],
    ],
    ['of whole degrees from some moment on', [...readings(30), ...readings(60).map((line) => line.slice(0, 2))]],
    ['of fewer figures from some moment on', [...readings(30), ...readings(60).map((line) => line.slice(0, 4))]],
    ['of two forms by turns', readings(60).flatMap((line) => [line, `bath ${line}`])],
    ['through zero and over a hundred', Array.from({ length: 240 }, (_, at) => (at - 20).toFixed(1))],
  ])('%s', (_, lines) => {
    expect(tornIn(lines)).toBe(false);
  });
});
