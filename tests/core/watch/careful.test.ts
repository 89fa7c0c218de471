import { describe, expect, test } from 'vitest';
import type { Profile } from '../../../server/core/record/profile.ts';
import { mostCarefulCeiling, NOT_OVER, watchCeiling } from '../../../server/core/watch/careful.ts';
import { shipped } from '../../support/shipped.ts';

const SHIPPED = ['dark', 'milk', 'white'].map((id) => shipped(id));

describe('the most careful ceiling', () => {
  test('is the lowest at which any of them burns, with the name of the one it is', () => {
    const white = shipped('white');
    const melt = white.phases.find(({ heading }) => heading === 'up')!;
    expect(mostCarefulCeiling(SHIPPED)).toEqual({ limitC: melt.ceilingC, coating: 'white' });
    expect(mostCarefulCeiling(SHIPPED.toReversed())).toEqual(mostCarefulCeiling(SHIPPED));
  });

  test('is never a ceiling over made seed: what nobody named may be melting as it should', () => {
    const cooling = { id: 'cool', heading: 'down', bandC: [27, 28] } as const;
    const working = { id: 'work', heading: 'hold', bandC: [31, 32], ceilingC: 32.5 } as const;
    const melting = { id: 'melt', heading: 'up', bandC: [45, 50] } as const;
    const profile: Profile = { ...shipped('dark'), phases: [melting, cooling, working] };
    expect(mostCarefulCeiling([profile])).toBeNull();
    expect(mostCarefulCeiling([])).toBeNull();
  });
});

describe('being over it', () => {
  const ceiling = { limitC: 46, coating: 'white' };
  const after = (...temps: readonly number[]) =>
    temps.reduce((watch, tempC) => watchCeiling(watch, tempC, ceiling), NOT_OVER).isOver;

  test.each([
    ['two readings say nothing yet', [46.3, 46.3], false],
    ['three say it', [46.3, 46.3, 46.3], true],
    ['at the ceiling is over it', [46, 46, 46], true],
    ['three that are not in a row do not', [46.3, 46.3, 45.9, 46.3, 46.3], false],
    ['inside the dead band nothing changes', [46.3, 46.3, 46.3, 45.9, 45.9, 45.9, 45.9], true],
    ['two below it change nothing yet', [46.3, 46.3, 46.3, 45.8, 45.8], true],
    ['three below the dead band unsay it', [46.3, 46.3, 46.3, 45.8, 45.8, 45.8], false],
  ] as const)('%s', (_, temps, isOver) => {
    expect(after(...temps)).toBe(isOver);
  });
});
