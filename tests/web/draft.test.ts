/** A profile while somebody types: what is a number becomes one, what is none stays, and sources go with their numbers. */
import { afterEach, describe, expect, test } from 'vitest';
import {
  type Draft,
  pathOf,
  typedC,
  typedFigure,
  typedMin,
  withCue,
  withEdge,
  withNumber,
  withoutPhase,
} from '../../web/draft.ts';
import { panelOf } from '../../web/profile-panels.ts';
import { sayIn } from '../../web/words/manner.ts';
import { shipped } from '../support/shipped.ts';

const DARK: Draft = shipped('dark');
const YOURS = 'Changed by hand.';

afterEach(() => sayIn('C'));

describe('what is typed', () => {
  test.each<[string, unknown]>([
    ['31', 31],
    [' 31.5 ', 31.5],
    ['31,5', 31.5],
    ['-5', -5],
    ['−5', -5],
    ['', undefined],
    ['  ', undefined],
    ['31.', '31.'],
    ['warm', 'warm'],
    ['1e3', '1e3'],
    ['31 32', '31 32'],
  ])('%j is %j', (text, value) => {
    expect(typedC(text)).toBe(value);
  });

  test('°F is taken as °C, to the hundredth', () => {
    sayIn('F');
    expect([typedC('88'), typedC('212'), typedC('90.5')]).toEqual([31.11, 100, 32.5]);
  });

  test('minutes are seconds', () => {
    expect([typedMin('3'), typedMin('4,5'), typedMin(''), typedMin('long')]).toEqual([180, 270, undefined, 'long']);
  });

  test.each<[string, unknown]>([
    ['31.5', 31.5],
    ['31–32', [31, 32]],
    ['31 - 32', [31, 32]],
    ['31-32', [31, 32]],
    ['29,5 to 30,5', [29.5, 30.5]],
    ['-2', -2],
    ['31–', '31–'],
    ['31–32–33', '31–32–33'],
    ['about 31', 'about 31'],
    ['', undefined],
  ])('a bag’s %j is %j', (text, value) => {
    expect(typedFigure(text)).toEqual(value);
  });
});

describe('a change', () => {
  test('of a number changes it alone, and says in its source that it is the person’s', () => {
    const changed = withNumber(withEdge(DARK, 3, 1, 31.8, YOURS), 1, 'holdS', 240, YOURS);
    expect(changed.phases[3]!.bandC).toEqual([31, 31.8]);
    expect(changed.phases[1]!.holdS).toBe(240);
    expect(changed.sources).toEqual({ ...DARK.sources, 'phases.work.bandC': YOURS, 'phases.cool.holdS': YOURS });
    expect(changed.phases.slice(0, 1)).toEqual(DARK.phases.slice(0, 1));
    expect(DARK).toEqual(shipped('dark'));
  });

  test('to nothing takes the number and its source away; an edge cannot be missing', () => {
    const changed = withNumber(DARK, 3, 'floorC', undefined, YOURS);
    expect(changed.phases[3]).not.toHaveProperty('floorC');
    expect(changed.sources).not.toHaveProperty('phases.work.floorC');
    expect(withEdge(DARK, 0, 0, undefined, YOURS).phases[0]!.bandC).toEqual(['', 50]);
  });

  test('of what to do, and none at all', () => {
    expect(withCue(DARK, 0, 'Melt.').phases[0]!.cue).toBe('Melt.');
    expect(withCue(DARK, 0, ' ').phases[0]).not.toHaveProperty('cue');
  });

  test('that leaves a phase out leaves nothing that speaks of it', () => {
    const without = withoutPhase(DARK, 1);
    expect(without.phases.map(({ id }) => id)).toEqual(['melt', 'rewarm', 'work']);
    expect(without).not.toHaveProperty('onLost');
    expect(Object.keys(without.sources ?? {}).filter((path) => /cool|onLost/.test(path))).toEqual([]);
    expect(withoutPhase(DARK, 2).onLost).toBe('cool');
    expect(pathOf(without, 1, 'ceilingC')).toBe('phases.rewarm.ceilingC');
  });
});

describe('the road of it', () => {
  test('has its levels in their order from the top, with room at both ends', () => {
    const { lane, ceiling, floor, lost } = panelOf(DARK.phases[3]!);
    const tops = [lost!, ceiling!, lane!.high, lane!.low, floor!].map(({ topPc }) => topPc);
    expect(tops).toEqual(tops.toSorted((a, b) => a - b));
    expect(tops[0]).toBeGreaterThan(10);
    expect(tops.at(-1)).toBeLessThan(90);
  });

  test('leaves out what is no number yet, and a lane upside down', () => {
    const phase = DARK.phases[3]!;
    expect(panelOf({ ...phase, bandC: [32, 31] }).lane).toBeNull();
    expect(panelOf({ ...phase, ceilingC: 'warm' })).toMatchObject({ ceiling: null, lost: { valueC: 34 } });
    expect(panelOf({ id: 'a', heading: 'up', bandC: ['', ''] })).toMatchObject({
      lane: null,
      ceiling: null,
      floor: null,
    });
  });
});
