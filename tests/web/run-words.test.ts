/** What a run's line says of it. */
import { describe, expect, test } from 'vitest';
import { EVERY_RUN, isNarrow } from '../../web/run-list.ts';
import type { RunLine } from '../../web/run-list.ts';
import { dateOf, daysLeft, factsOf, nameOf, outcomeOf, writtenOf } from '../../web/run-words.ts';
import { LINE } from '../support/lines.ts';

const NOW = new Date('2026-11-26T12:00:00');
const plain = (text: string): string => text.replaceAll('\u00a0', ' ');
const facts = (part: Partial<RunLine>): string => plain(factsOf({ ...LINE, ...part }, NOW));

describe('a line', () => {
  test('is called as its person called it, else by its profile', () => {
    expect([nameOf(LINE), nameOf({ ...LINE, name: 'Ginger' })]).toEqual(['Dark chocolate', 'Ginger']);
  });

  test('says when it was, with the year where it is another one', () => {
    expect(dateOf('2026-11-24T13:40:00', NOW)).toBe('Tue, Nov 24, 13:40');
    expect(dateOf('2025-03-19T09:02:00', NOW)).toBe('Wed, Mar 19, 2025, 09:02');
  });

  test('says how long, how much, and what it was where its name doesn’t', () => {
    expect(facts({})).toBe('Tue, Nov 24, 13:40, 1 h 58 min');
    expect(facts({ kg: 2.5, simulated: true })).toBe('Tue, Nov 24, 13:40, 1 h 58 min, 2.5 kg, simulated');
    expect(facts({ importedAtWall: '2026-11-26T13:05:00' })).toBe(
      'Tue, Nov 24, 13:40, 1 h 58 min, brought in Thu, Nov 26',
    );
    expect(facts({ endedAtMs: null })).toBe('Tue, Nov 24, 13:40, still going');
    expect(facts({ bowlName: 'Milk, left' })).toBe('Milk, left, Tue, Nov 24, 13:40, 1 h 58 min');
    expect(facts({ name: 'Ginger' })).toBe('Dark chocolate, Tue, Nov 24, 13:40, 1 h 58 min');
    expect(facts({ title: 'House blend', coating: 'milk' })).toBe('milk chocolate, Tue, Nov 24, 13:40, 1 h 58 min');
  });

  test('says what stands on its card, and nothing where nothing does', () => {
    expect(writtenOf(LINE)).toBe('');
    expect(writtenOf({ ...LINE, lot: 'G-7', centre: 'ginger', tags: ['gift', 'shop'] })).toBe(
      'lot G-7, ginger, gift, shop',
    );
  });

  test('says the worst and the verdict', () => {
    expect(outcomeOf(LINE)).toBe('never over');
    const short = { ...LINE, standing: 'not-made-yet', visits: [{ phase: 'melt', atMs: 0 }] } as const;
    expect(outcomeOf(short)).toBe('came as far as melt');
    expect(outcomeOf({ ...LINE, worstAlarm: 'overshoot', worstOverC: 0.42 })).toBe('0.4 over the ceiling');
    expect(outcomeOf({ ...LINE, worstAlarm: 'undershoot', worstOverC: 0.04 })).toBe('under the floor');
    expect(outcomeOf({ ...LINE, verdict: 'usable' })).toBe('never over, judged usable');
  });

  test('says how long it still lies in the bin', () => {
    expect(daysLeft('2026-11-26T11:00:00', NOW)).toBe(30);
    expect(daysLeft('2026-10-28T00:00:00', NOW)).toBe(1);
    expect(daysLeft('2026-01-01T00:00:00', NOW)).toBe(0);
  });
});

test('a wish is narrow by anything but its order', () => {
  expect(isNarrow({ ...EVERY_RUN, order: 'worst', words: '  ' })).toBe(false);
  expect(isNarrow({ ...EVERY_RUN, simulated: 'no' })).toBe(true);
});
