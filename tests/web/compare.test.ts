/** Runs laid over one another: where they are brought together, what is drawn, in figures and in words. */
import { describe, expect, test } from 'vitest';
import type { Card, Outcome } from '../../server/core/record/card.ts';
import { EMPTY_CARD } from '../../server/core/record/card.ts';
import { alignablePhases, bandOf, layOver, lineOf, originOf, phasesOf, runsIn, stretchOf } from '../../web/compare.ts';
import { keysOf, namesOf } from '../../web/compare-names.ts';
import { differenceWords, figureRows } from '../../web/words/compare.ts';
import { NOT_LOOKED_AT } from '../support/outcomes.ts';
import { DARK, eventsUpTo, infoOf, msAt, readingsUpTo, tilesOf } from '../support/scenes.ts';

const JUDGED: Outcome = { ...NOT_LOOKED_AT, verdict: 'usable' };

/** The afternoon of the scenes up to a minute. */
function afternoon(min: number, card: Partial<Card> = {}) {
  const run = {
    info: infoOf(false),
    events: eventsUpTo(min, [{ kind: 'run-ended', by: 'hand' }]),
    endedAtMs: msAt(min),
    tiles: tilesOf(readingsUpTo(min), 4),
    notes: [],
    binnedAtWall: null,
    importedAtWall: null,
  };
  return { run, card: { ...EMPTY_CARD, ...card } };
}

const LAID = layOver([
  afternoon(118, { outcome: { ...JUDGED, verdict: 'good' } }),
  afternoon(80, { outcome: JUDGED }),
  afternoon(40),
]);
const [LONG, SHORT, COOLING] = LAID as [(typeof LAID)[0], (typeof LAID)[0], (typeof LAID)[0]];
const AT_WORK = { at: 'phase', phase: 'work' } as const;

test('an address names each run once, six at most', () => {
  expect(runsIn('a,b,a,,c')).toEqual(['a', 'b', 'c']);
  expect(runsIn('a,b,c,d,e,f,g')).toHaveLength(6);
  expect(runsIn('')).toEqual([]);
});

describe('brought together', () => {
  test('at the start, or at any phase that two of them entered', () => {
    expect(LAID.map(({ letter }) => letter)).toEqual(['A', 'B', 'C']);
    expect(phasesOf(LAID)).toEqual(['melt', 'cool', 'rewarm', 'work']);
    expect(alignablePhases(LAID)).toEqual(['melt', 'cool', 'rewarm', 'work']);
    expect(alignablePhases([LONG, COOLING])).toEqual(['melt', 'cool']);
    expect(originOf(LONG, AT_WORK)).toBe(msAt(56));
    expect(originOf(COOLING, AT_WORK)).toBeNull();
  });

  test('each line begins where it was, and one that never got there has none', () => {
    const { fromMs, toMs, lowC, highC } = stretchOf(LAID, AT_WORK);
    expect([fromMs, toMs]).toEqual([-5 * 60_000, (62 + 5) * 60_000]);
    const line = lineOf(LONG, AT_WORK, fromMs, toMs);
    expect(line[0]![0]).toBeGreaterThanOrEqual(-5 * 60_000);
    expect(lineOf(COOLING, AT_WORK, fromMs, toMs)).toEqual([]);
    for (const [, tempC] of line) expect(tempC! > lowC && tempC! < highC).toBe(true);
    expect(bandOf(LAID, AT_WORK)).toEqual(DARK.phases.find(({ id }) => id === 'work')!.bandC);
  });

  test('the pen is lifted over a gap', () => {
    const gappy = {
      ...LONG,
      curve: [
        [msAt(0), 31],
        [msAt(0) + 1_000, 31.2],
        [msAt(1), 31.5],
      ] as const,
    };
    const line = lineOf(gappy, { at: 'start' }, 0, 600_000);
    expect(line.map(([, tempC]) => tempC)).toEqual([31, 31.2, null, 31.5]);
  });
});

describe('called', () => {
  const NOW = new Date('2026-11-26T16:00:00');
  const CAME = '2026-11-26T15:0';

  test('by name where that tells them apart, and in the legend with when and how long', () => {
    const laid = layOver([afternoon(118, { name: 'Ginger for Saturday' }), afternoon(80)]);
    expect(namesOf(laid, NOW)).toEqual(['Ginger for Saturday', 'Dark chocolate']);
    expect(keysOf(laid, NOW)).toEqual([
      'Ginger for Saturday, Tue, Nov 24, 13:40, 1 h 58 min',
      'Dark chocolate, Tue, Nov 24, 13:40, 1 h 20 min',
    ]);
  });

  test('those of one name by what else tells them apart: when, how long, and when each was brought in', () => {
    const [first, second] = [afternoon(118), afternoon(118)];
    const brought = layOver([
      { ...first, run: { ...first.run, importedAtWall: `${CAME}4:00` } },
      { ...second, run: { ...second.run, importedAtWall: `${CAME}9:00` } },
      afternoon(80),
    ]);
    expect(namesOf(brought, NOW)).toEqual(keysOf(brought, NOW));
    expect(keysOf(brought, NOW)).toEqual([
      'Dark chocolate, Tue, Nov 24, 13:40, 1 h 58 min, brought in Thu, Nov 26, 15:04',
      'Dark chocolate, Tue, Nov 24, 13:40, 1 h 58 min, brought in Thu, Nov 26, 15:09',
      'Dark chocolate, Tue, Nov 24, 13:40, 1 h 20 min',
    ]);
  });
});

describe('told', () => {
  test('in figures, one cell for each run', () => {
    const rows = Object.fromEntries(figureRows(LAID).map(({ title, cells }) => [title, cells]));
    expect(rows).toMatchObject({
      Melt: ['23 min', '23 min', '23 min'],
      Work: ['1 h 2 min', '24 min', '–'],
      Coolest: ['26.9', '26.9', '28.7'],
      'Highest after it': ['32.9', '31.8', '–'],
      'Under the floor': ['0 s', '0 s', '0 s'],
      Judged: ['good', 'usable', 'not yet'],
    });
  });

  test('in words, how each differs from the first', () => {
    expect(differenceWords(LONG, SHORT)).toMatch(
      /^B: Work 38 min shorter; peak 1\.1 lower; \d min \d+ s less over the working ceiling; judged usable, not good\.$/,
    );
    expect(differenceWords(LONG, COOLING)).toContain('never entered Work');
    expect(differenceWords(LONG, COOLING)).toContain('cooled 1.8 less deep');
    expect(differenceWords(LONG, { ...LONG, letter: 'B' })).toBe('B: much the same.');
  });
});
