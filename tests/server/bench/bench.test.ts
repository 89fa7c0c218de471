/** The bench as plain data: what each channel is to each bowl, one chocolate to a bowl, and bounds on both. */
import { describe, expect, test } from 'vitest';
import {
  type Bench,
  benchFrom,
  bowlName,
  BOWLS_MOST,
  channelsOf,
  givesChocolate,
  PLAIN_BENCH,
  renamed,
  type Roles,
  rolesIn,
  withBowl,
  withoutBowl,
  withPlace,
} from '../../../server/bench/bench.ts';
import { readLine } from '../../../server/core/reading/line.ts';
import { valuesByRole } from '../../../server/core/reading/roles.ts';

const TWO = withBowl(PLAIN_BENCH, 'milk, left')!;
const FOUND = { first: { 'bowl-1': { '': 'chocolate' } } } as const;

/** What this bowl makes of a line of the thermometer. */
function valuesIn(bench: Bench, thermometer: string, bowl: string, line: string) {
  const roles: Roles | null = rolesIn(bench.placed[thermometer] ?? {}, bowl);
  const read = readLine(line);
  if (!read.ok) throw new Error(read.reason);
  return roles === null ? null : valuesByRole(read.channels, roles, read.places);
}

describe('what a line is to each bowl', () => {
  test('four channels serve two bowls, the bath of both and the room', () => {
    let bench = TWO;
    const put = (channel: string, role: 'chocolate' | 'bath' | 'room', ...bowls: string[]): void => {
      bench = withPlace(bench, { thermometer: 'four', channel, role, bowls }, {});
    };
    put('1', 'chocolate', 'bowl-1');
    put('2', 'chocolate', 'bowl-2');
    put('3', 'bath', 'bowl-1', 'bowl-2');
    put('4', 'room');
    const line = '31.1,32.2,43.3,20.4';
    expect(valuesIn(bench, 'four', 'bowl-1', line)).toEqual({ chocolate: 31.1, bath: 43.3, room: 20.4 });
    expect(valuesIn(bench, 'four', 'bowl-2', line)).toEqual({ chocolate: 32.2, bath: 43.3, room: 20.4 });
    // The first probe breaks: its neighbour never stands in for it.
    expect(valuesIn(bench, 'four', 'bowl-1', 'nan,32.2,43.3,20.4')).toEqual({ bath: 43.3, room: 20.4 });
  });

  test('a thermometer in the bath of one bowl gives the other nothing, and neither its chocolate', () => {
    const bench = withPlace(TWO, { thermometer: 'b', channel: '', role: 'bath', bowls: ['bowl-2'] }, FOUND);
    expect(valuesIn(bench, 'b', 'bowl-2', '41.0')).toEqual({ bath: 41 });
    expect(valuesIn(bench, 'b', 'bowl-1', '41.0')).toBeNull();
    expect(valuesIn(bench, 'first', 'bowl-1', '31.0')).toEqual({ chocolate: 31 });
  });

  test('what is put into a chocolate takes the place of what was there, and leaves the place where it was', () => {
    const moved = withPlace(TWO, { thermometer: 'other', channel: '', role: 'chocolate', bowls: ['bowl-1'] }, FOUND);
    expect(rolesIn(moved.placed['first']!, 'bowl-1')).toBeNull();
    expect(givesChocolate(rolesIn(moved.placed['other']!, 'bowl-1')!)).toBe(true);
    const back = withPlace(moved, { thermometer: 'other', channel: '', role: 'chocolate', bowls: ['bowl-2'] }, FOUND);
    expect(rolesIn(back.placed['other']!, 'bowl-1')).toBeNull();
    expect(valuesIn(back, 'other', 'bowl-2', '30.0')).toEqual({ chocolate: 30 });
  });

  test('channels are counted, those of the room in every bowl', () => {
    expect(channelsOf([{}, { '': 'ignored' }, { '': 'ignored', '1': 'bath', '2': 'room', '3': 'ignored' }])).toBe(3);
  });
});

describe('bowls come and go', () => {
  test('up to four, each with a number of its own for ever', () => {
    const third = withBowl(TWO, null)!;
    const again = withBowl(withoutBowl(third, 'bowl-3'), null)!;
    expect(again.bowls.map(({ bowl }) => bowl)).toEqual(['bowl-1', 'bowl-2', 'bowl-4']);
    const full = withBowl(again, null)!;
    expect(full.bowls).toHaveLength(BOWLS_MOST);
    expect(withBowl(full, null)).toBeNull();
  });

  test('the last one stays; what measured the room goes on doing so when its bowl is gone', () => {
    expect(withoutBowl(PLAIN_BENCH, 'bowl-1')).toBe(PLAIN_BENCH);
    let bench = withPlace(TWO, { thermometer: 't', channel: '1', role: 'room', bowls: [] }, {});
    bench = withPlace(bench, { thermometer: 't', channel: '2', role: 'chocolate', bowls: ['bowl-1'] }, {});
    const left = withoutBowl(bench, 'bowl-1');
    expect(valuesIn(left, 't', 'bowl-2', '20.1,31.2')).toEqual({ room: 20.1 });
  });

  test('a bowl is called what people call it, else by its place', () => {
    expect(bowlName(TWO, 'bowl-1')).toBe('Bowl 1');
    expect(bowlName(TWO, 'bowl-2')).toBe('milk, left');
    expect(bowlName(renamed(TWO, 'bowl-2', null), 'bowl-2')).toBe('Bowl 2');
  });
});

describe('what is read back', () => {
  test('is the same bench', () => {
    const bench = withPlace(TWO, { thermometer: 'b', channel: '2', role: 'bath', bowls: ['bowl-2'] }, FOUND);
    expect(benchFrom(JSON.parse(JSON.stringify(bench)))).toEqual(bench);
  });

  test.each([
    ['nothing', undefined],
    ['no bowl', { ...TWO, bowls: [] }],
    ['one bowl twice', { ...TWO, bowls: [TWO.bowls[0], TWO.bowls[0]] }],
    [
      'too many bowls',
      { ...TWO, lastNumber: 9, bowls: [1, 2, 3, 4, 5].map((n) => ({ bowl: `bowl-${n}`, name: null })) },
    ],
    ['a bowl beyond the last number', { ...TWO, lastNumber: 1 }],
    ['a bowl that is none of ours', { ...TWO, bowls: [{ bowl: 'pan', name: null }] }],
    ['a role that is none', { ...TWO, placed: { t: { 'bowl-1': { '1': 'soup' } } } }],
    ['a key that there is not', { ...TWO, colour: 'red' }],
  ])('is a plain one where the file has %s', (_, value) => expect(benchFrom(value)).toBe(PLAIN_BENCH));
});
