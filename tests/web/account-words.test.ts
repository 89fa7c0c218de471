/** What happened in a run, in plain words, and which usual causes its curve speaks for. */
import { describe, expect, test } from 'vitest';
import { type Account, type CeilingTold, type Stay } from '../../server/core/show/account.ts';
import type { Outcome } from '../../server/core/record/card.ts';
import { causesOf, FAULTS, faultsOf } from '../../web/faults.ts';
import { accountLines } from '../../web/words/account.ts';

function working(overS: number, peakC: number): CeilingTold {
  return { kind: 'working', limitC: 32.5, overS, peakC, peakAtMs: 2_400_000 };
}

const COOL: Stay = {
  phase: 'cool',
  heading: 'down',
  bandC: [27, 28],
  enteredAtMs: 600_000,
  lastedS: 900,
  unseenS: 0,
  lowestC: 27.4,
  highestC: 46,
  lowestAtMs: 1_200_000,
  highestAtMs: 600_000,
  reached: true,
  keptS: 300,
  holdS: 240,
  insideBandS: 300,
  ceilings: [],
  underFloorS: 0,
  lowHalfS: 0,
};
const WORK: Stay = {
  ...COOL,
  phase: 'work',
  heading: 'hold',
  bandC: [31, 32],
  enteredAtMs: 1_800_000,
  lastedS: 3600,
  lowestC: 31.1,
  highestC: 32,
  lowestAtMs: 1_800_000,
  highestAtMs: 2_400_000,
  ceilings: [working(0, 32)],
  holdS: 0,
  insideBandS: 3600,
};
const GOOD: Account = {
  stays: [COOL, WORK],
  lastedS: 5400,
  coolestC: 27.4,
  peakAfterSeedC: 32,
  overS: 0,
  overByC: 0,
  scorchS: 0,
  underS: 0,
  workReadS: 3600,
  inWorkBandS: 3600,
  lowHalfS: 600,
  unseenS: 0,
};
const COOLED_TOO_LITTLE: Account = { ...GOOD, stays: [{ ...COOL, lowestC: 28.9, reached: false, keptS: 0 }, WORK] };
const OVER: Account = {
  ...GOOD,
  overS: 190,
  overByC: 0.9,
  stays: [COOL, { ...WORK, ceilings: [working(190, 33.4)], highestC: 33.4, insideBandS: 3000 }],
};

const said = (account: Account): string[] => accountLines(account).map(({ text }) => text);
const wrong = (account: Account): string[] =>
  accountLines(account)
    .filter(({ weight }) => weight === 'off')
    .map(({ text }) => text);

describe('the account', () => {
  test('of a good run has nothing amiss', () => {
    expect(said(GOOD)).toEqual([
      'Cool: down to 27.4 in 15 min, kept there 5 min.',
      'Work: 1 h, 100 % of it in the band.',
      'Never over the working ceiling.',
    ]);
    expect(wrong(GOOD)).toEqual([]);
  });

  test('of a run that never came to the work says nothing of its ceiling', () => {
    expect(said({ ...GOOD, stays: [COOL], workReadS: 0, lowHalfS: 0 })).toEqual([
      'Cool: down to 27.4 in 15 min, kept there 5 min.',
    ]);
  });

  test('names a cooling that stopped short, with how far it got', () => {
    expect(wrong(COOLED_TOO_LITTLE)).toEqual(['Cool: down to 28.9 in 15 min, never in the band of 27 to 28.']);
  });

  test('names a seeding that was cut short', () => {
    expect(wrong({ ...GOOD, stays: [{ ...COOL, keptS: 100 }, WORK] })).toEqual([
      'Cool: down to 27.4 in 15 min; kept there 1 min 40 s of 4 min.',
    ]);
  });

  test('names the time over the ceiling and the peak', () => {
    expect(wrong(OVER)).toEqual([
      'Work: 1 h, 83 % of it in the band.',
      '3 min 10 s over the working ceiling, 33.4 at most.',
    ]);
    // Back in the cold it is still over it, though it was hotter yet when it came from the melt.
    const again: Stay = { ...COOL, ceilings: [working(30, 32.8)] };
    const twice: Account = { ...OVER, overS: 220, stays: [...OVER.stays, again] };
    expect(wrong(twice).at(-2)).toBe('30 s over the working ceiling, 32.8 at most.');
    expect(wrong(twice).at(-1)).toBe('In all 3 min 40 s over the working ceiling, by 0.9 at most.');
  });

  test('names the time over what burns by its own ceiling, on the way down as well', () => {
    const scorch: CeilingTold = { kind: 'scorch', limitC: 52, overS: 40, peakC: 53.1, peakAtMs: 610_000 };
    expect(wrong({ ...GOOD, scorchS: 40, stays: [{ ...COOL, ceilings: [scorch, working(0, 30)] }, WORK] })).toEqual([
      '40 s over the scorch ceiling, 53.1 at most.',
    ]);
  });

  test('leads to the moment on the curve that shows it', () => {
    expect(accountLines(OVER).map(({ atMs }) => atMs)).toEqual([1_200_000, 1_800_000, 2_400_000]);
    expect(accountLines(GOOD).at(-1)!.atMs).toBeNull();
  });

  test('gives the work’s share of what was read, and says how long that was not', () => {
    const gap = { ...WORK, unseenS: 600, insideBandS: 3000 };
    expect(said({ ...GOOD, stays: [COOL, gap] })[1]).toBe(
      'Work: 1 h, 100 % of what was read, all but 10 min, in the band.',
    );
    // Whole seconds of 100.4 s, of which 89.6 were not read and 10.6 in the band; and of less than half a second.
    const short = { ...WORK, lastedS: 100, unseenS: 90, insideBandS: 11 };
    expect(said({ ...GOOD, stays: [COOL, short] })[1]).toMatch(/^Work: 1 min 40 s, 100 % /);
    const moment = { ...WORK, lastedS: 0, insideBandS: 0 };
    expect(said({ ...GOOD, stays: [COOL, moment] })[1]).toBe('Work: 0 s, 0 % of it in the band.');
    const none = { ...WORK, unseenS: 3600, insideBandS: 0, lowestC: null, highestC: null };
    expect(wrong({ ...GOOD, stays: [COOL, none] })).toEqual(['Work: 1 h, nothing was read.']);
  });

  test('names long holds low in the band, and what nobody saw', () => {
    expect(wrong({ ...GOOD, lowHalfS: 2460, unseenS: 95 })).toEqual([
      'Held 41 min in the lower half of the band or below.',
      'Nothing was read for 1 min 35 s.',
    ]);
  });
});

const SEEN: Outcome = {
  verdict: 'failed',
  gloss: 'dull',
  snap: 'bends',
  release: 'with-help',
  streaks: true,
  fatBloom: null,
  sugarBloom: false,
  soft: null,
  words: null,
};

describe('causes', () => {
  test('are asked for the faults that were marked, and no others', () => {
    expect(faultsOf(SEEN)).toEqual(['streaks', 'dull', 'weak-snap']);
  });

  test('that the curve speaks for stand first, those it speaks against last', () => {
    expect(causesOf('streaks', COOLED_TOO_LITTLE)).toEqual([
      { cause: 'not-cooled', source: 'craft', curve: 'speaks' },
      { cause: 'badly-mixed', source: 'craft', curve: 'blind' },
      { cause: 'too-short-seeding', source: 'craft', curve: 'silent' },
    ]);
    expect(causesOf('soft', OVER)[0]).toMatchObject({ cause: 'over-ceiling', curve: 'speaks' });
    expect(causesOf('fat-bloom', OVER)[0]).toMatchObject({ cause: 'over-ceiling', source: 'lonchampt-hartel-2006' });
  });

  test('of a run that never came to cooling name that; of one begun in temper they do not', () => {
    const melt = { ...COOL, phase: 'melt', heading: 'up' } as const;
    expect(causesOf('streaks', { ...GOOD, stays: [melt] })[0]).toMatchObject({ cause: 'not-cooled', curve: 'speaks' });
    const notCooled = causesOf('streaks', { ...GOOD, stays: [WORK] }).find(({ cause }) => cause === 'not-cooled');
    expect(notCooled).toMatchObject({ curve: 'blind' });
  });

  test('of a good run are none of its curve’s', () => {
    const spoken = FAULTS.flatMap((fault) => causesOf(fault, GOOD)).filter(({ curve }) => curve === 'speaks');
    expect(spoken).toEqual([]);
  });
});
