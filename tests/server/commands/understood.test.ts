/** What `bowlside ports` makes of a while of lines, beside what it makes of one. */
import { describe, expect, test } from 'vitest';
import { Understanding } from '../../../server/commands/understood.ts';

/** One line a second; `last` is the newest. */
function heard(count: number, write: (n: number) => string) {
  const understanding = new Understanding();
  const lines = Array.from({ length: count }, (_, n) => ({ atMs: n * 1000, text: write(n) }));
  for (const line of lines) understanding.take(line);
  return { isSure: understanding.isSure, last: understanding.words(lines.at(-1)!) };
}

function wavy(n: number): string {
  return (31 + 0.03 * (n % 7)).toFixed(2);
}

describe('a while of lines', () => {
  test('shows which of their values is the temperature', () => {
    const counting = (n: number): string => `${2 * n + 40},${wavy(n)}`;
    expect(heard(1, counting)).toMatchObject({ isSure: false });
    expect(heard(6, counting)).toEqual({ isSure: true, last: '31.15 °C' });
  });

  test('shows what only a person can say: a comma, or which of two is the chocolate', () => {
    const comma = heard(25, (n) => `31,4${n % 2}`);
    expect(comma).toEqual({
      isSure: true,
      last: expect.stringMatching(/^nothing: .*decimal comma.*: say which on the page$/),
    });
    const which = heard(25, (n) => `${48 + ((n >> 1) % 2)},${wavy(n)}`);
    expect(which).toEqual({ isSure: true, last: '1 48.00 °C, 2 31.09 °C: say on the page which is the chocolate' });
  });

  test('does not make a temperature of what a sensor gives, nor of a line that is none', () => {
    expect(heard(12, (n) => `r=112.0${5 + (n % 3)} ohm`).last).toBe('112.07 ohm: say of what sensor on the page');
    expect(heard(12, (n) => (n < 11 ? `T: ${wavy(n)}` : 'ERR 4')).last).toBe(
      'nothing: the thermometer reports a fault',
    );
    expect(heard(12, (n) => (n < 11 ? `T: ${wavy(n)}` : 'ready')).last).toBe('nothing: there is no number in it');
  });

  test('is taken line by line until it shows anything', () => {
    expect(heard(1, () => 'chocolate: 31.4')).toEqual({ isSure: false, last: 'chocolate 31.40 °C' });
  });
});
