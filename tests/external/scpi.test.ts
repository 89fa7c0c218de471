/**
 * Numbers as laboratory instruments answer: the forms of IEEE 488.2-1992 §8.7.2–8.7.4 (NR1, NR2, NR3), and what SCPI-99 vol. 1 §7.2.1 has
 * them send instead of a number: 9.9E37 for over-range and infinity, -9.9E37 for the negative one, 9.91E37 for not a number. The
 * clauses and values are cited from programming guides that quote them; the standards themselves were not at hand.
 */
import { describe, expect, test } from 'vitest';
import { readLine } from '../../server/core/reading/line.ts';
import { sentinelReason } from '../../server/core/reading/sentinel.ts';
import { understood } from '../../server/commands/understood.ts';

describe('an answer in a form of the standard is a reading', () => {
  test.each([
    // NR1: no point
    ['31', 31],
    ['+31', 31],
    ['-5', -5],
    // NR2: a point and no exponent
    ['31.25', 31.25],
    ['+31.2', 31.2],
    ['-0.123', -0.123],
    // NR3: a point and an exponent
    ['+3.14000000E+01', 31.4],
    ['3.125E+1', 31.25],
    ['+3.0000000000E+001', 30],
    ['-5.50000000E-01', -0.55],
    // with a unit suffix (IEEE 488.2 §7.7.3)
    ['+3.14000000E+01 C', 31.4],
    ['31.25 C', 31.25],
    ['+8.85200000E+01 F', 31.4],
  ])('%s', (line, valueC) => {
    const read = readLine(line);
    expect(read.ok && read.channels.map((channel) => channel.valueC)).toEqual([expect.closeTo(valueC, 6)]);
  });

  test('a list of them is as many channels', () => {
    const read = readLine('+3.14000000E+01,+4.05000000E+01');
    expect(read.ok && read.channels.map(({ valueC }) => valueC)).toEqual([
      expect.closeTo(31.4, 6),
      expect.closeTo(40.5, 6),
    ]);
  });
});

describe('what stands for no number is no reading, with a reason', () => {
  const reasons = (line: string): unknown => {
    const read = readLine(line);
    return read.ok && read.channels.map(({ valueC }) => sentinelReason(valueC));
  };

  test.each(['9.9E37', '+9.90000000E+37', '-9.90000000E+37', '9.91E37', '+9.91000000E+37', '9.9E+37', '9.9E37 C'])(
    '%s',
    (line) => {
      expect(reasons(line)).toEqual(['sentinel']);
      expect(understood(line)).toMatch(/^no reading/);
    },
  );

  test('and leaves a good one beside it alone', () => {
    expect(reasons('+9.90000000E+37,+4.05000000E+01')).toEqual(['sentinel', null]);
  });
});
