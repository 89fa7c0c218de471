/** The numbers on a bag become a whole profile, in order and with a source for each, or it is said which of them cannot be. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Bag, bagShape, profileFromBag } from '../../server/core/record/bag.ts';
import { profileFromJson } from '../../server/core/record/profile-file.ts';
import { shipped } from '../support/shipped.ts';

/** Made up. */
const BAG: Bag = { title: 'House dark', coating: 'dark', meltC: 48, coolC: 27, workC: 31.5 };

describe('a bag with one figure each', () => {
  const profile = profileFromBag(BAG, 'house-dark');

  test('becomes bands that hold its figures where they count: reached from below, from above, and about the middle', () => {
    const [melt, cool, rewarm, work] = profile.phases;
    expect([melt!.bandC, cool!.bandC, rewarm!.bandC, work!.bandC]).toEqual([
      [48, 50],
      [26, 27],
      [31, 32],
      [31, 32],
    ]);
    expect(profile.phases.map(({ heading }) => heading)).toEqual(['up', 'down', 'up', 'hold']);
  });

  test('gets the bounds and dwells of the profile that ships for such a chocolate', () => {
    const dark = shipped('dark');
    const boundsOf = ({ phases }: typeof dark, id: string) => {
      const { ceilingC, floorC, lostAboveC, holdS } = phases.find((phase) => phase.id === id)!;
      return { ceilingC, floorC, lostAboveC, holdS };
    };
    for (const id of ['rewarm', 'work']) expect(boundsOf(profile, id), id).toEqual(boundsOf(dark, id));
    expect(boundsOf(profile, 'melt')).toEqual({ ceilingC: 51, holdS: 120 });
    expect(boundsOf(profile, 'cool')).toEqual({ floorC: 25, holdS: 180 });
    expect(profile.onLost).toBe('cool');
  });

  test('leaves no more room around its bands than any profile that ships', () => {
    const roomsOf = ({ phases }: typeof profile) =>
      phases.flatMap(({ bandC: [low, high], ceilingC, floorC }) => [
        ceilingC === undefined ? Infinity : ceilingC - high,
        floorC === undefined ? Infinity : low - floorC,
      ]);
    const others = (['dark', 'milk', 'white'] as const).map((id) => roomsOf(shipped(id)));
    expect(roomsOf(profile)).toEqual(roomsOf(profile).map((_, i) => Math.min(...others.map((rooms) => rooms[i]!))));
  });

  test('says of every number whether it is the bag’s or ours', () => {
    const numbers = profile.phases.flatMap((phase) =>
      Object.keys(phase)
        .filter((key) => /C$|S$/.test(key))
        .map((key) => `phases.${phase.id}.${key}`),
    );
    expect(Object.keys(profile.sources ?? {}).toSorted()).toEqual([...numbers, 'onLost'].toSorted());
    for (const [path, words] of Object.entries(profile.sources ?? {}))
      expect(words, path).toMatch(path.endsWith('.bandC') ? /^From the bag: .*; ours: / : /^Ours/);
    expect(profile.sources!['phases.melt.bandC']).toContain('melt to 48 °C');
  });
});

test('a range on the bag is the band as it is printed, and nothing of it is ours', () => {
  const profile = profileFromBag({ ...BAG, meltC: [45, 50], coolC: [27, 28], workC: [31, 32] }, 'a');
  expect(profile.phases.map(({ bandC }) => bandC)).toEqual([
    [45, 50],
    [27, 28],
    [31, 32],
    [31, 32],
  ]);
  expect(profile.sources!['phases.work.bandC']).toBe('From the bag: work at 31–32 °C.');
});

test.each<[string, Partial<Record<keyof Bag, unknown>>, string]>([
  ['no name', { title: ' ' }, 'title'],
  ['a text for a number', { meltC: '48' }, 'meltC'],
  ['a range upside down', { workC: [32, 31] }, 'workC'],
  ['three figures', { workC: [30, 31, 32] }, 'workC'],
  ['one hotter than any sugar', { meltC: 250 }, 'meltC'],
  ['no room for the ceiling over it', { meltC: 198 }, 'meltC'],
  ['no room for the floor under it', { coolC: -19 }, 'coolC'],
  ['cooling that ends where the work begins', { coolC: 31 }, 'coolC'],
  ['melting under where temper is lost', { meltC: 34 }, 'meltC'],
])('%s is complained of at its place', (_, change, path) => {
  const complaint = bagShape.check({ ...BAG, ...change }, '');
  expect(complaint?.path).toBe(path);
  expect(complaint?.rule).not.toBe('');
});

test('whatever the shape lets through is a profile in order', () => {
  const tenths = (low: number, high: number) => fc.integer({ min: low * 10, max: high * 10 }).map((n) => n / 10);
  const figure = fc.oneof(tenths(-20, 200), fc.tuple(tenths(-20, 200), tenths(-20, 200)));
  let passed = 0;
  fc.assert(
    fc.property(figure, figure, figure, (meltC, coolC, workC) => {
      const bag = { ...BAG, meltC, coolC, workC };
      if (bagShape.check(bag, '') !== null) return;
      passed += 1;
      expect(profileFromJson(profileFromBag(bag, 'a'), '')).toMatchObject({ ok: true });
    }),
    { numRuns: 3_000, seed: 5 },
  );
  expect(passed).toBeGreaterThan(50);
});
