import { describe, expect, test } from 'vitest';
import { conditionAt, phaseFor, phaseToStart } from '../../server/core/watch/starting.ts';
import type { Profile } from '../../server/core/record/profile.ts';
import { shipped } from '../support/shipped.ts';

const dark = shipped('dark');
const cold = { tempC: 20.1, lowestC: 20 };
const warming = { tempC: 20.6, lowestC: 20 };

describe('a run begins by itself', () => {
  test.each([
    ['solid, cold', 'solid', cold, null],
    ['solid, half a degree above its lowest', 'solid', warming, 'melt'],
    ['solid, just under that', 'solid', { tempC: 20.49, lowestC: 20 }, null],
    ['solid, warm from the first reading', 'solid', { tempC: 30, lowestC: 30 }, 'melt'],
    ['melted and through the melt', 'melted', { tempC: 46, lowestC: 46 }, 'cool'],
    ['melted, but not warm enough for the last crystals to be gone', 'melted', { tempC: 40, lowestC: 40 }, 'melt'],
    ['tempered', 'tempered', { tempC: 31.5, lowestC: 31.5 }, 'work'],
    ['tempered, with the probe still on the table', 'tempered', cold, null],
  ] as const)('%s', (_, condition, seen, phase) => {
    expect(phaseToStart(dark, { condition }, seen)).toBe(phase);
  });

  test('at the phase that a flag names, once it is warm', () => {
    expect(phaseToStart(dark, { startAt: 'rewarm' }, cold)).toBeNull();
    expect(phaseToStart(dark, { startAt: 'rewarm' }, { tempC: 28, lowestC: 28 })).toBe('rewarm');
  });

  test('not at a phase that the profile does not have', () => {
    expect(phaseToStart(dark, { startAt: 'anneal' }, { tempC: 30, lowestC: 30 })).toBeNull();
  });
});

describe('profiles of other shapes', () => {
  const oneUp: Profile = {
    id: 'gentle-melt',
    title: 'Gentle melt',
    coating: 'dark',
    source: 'made up for a test',
    phases: [{ id: 'soften', heading: 'up', bandC: [38, 42] }],
  };

  test.each(['solid', 'melted', 'tempered'] as const)(
    'with a single phase %s chocolate can only be in that one',
    (condition) => {
      expect(phaseFor(oneUp, condition, 45).id).toBe('soften');
    },
  );

  test('phases are found by heading, whatever they are called and however many there are', () => {
    const phases = [
      { id: 'a', heading: 'up', bandC: [45, 50] },
      { id: 'b', heading: 'down', bandC: [33, 34] },
      { id: 'c', heading: 'down', bandC: [27, 28] },
      { id: 'd', heading: 'hold', bandC: [31, 32] },
    ] as const;
    const profile: Profile = { ...oneUp, phases };
    expect(phaseFor(profile, 'solid', 22).id).toBe('a');
    expect(phaseFor(profile, 'melted', 47).id).toBe('b');
    expect(phaseFor(profile, 'tempered', 31).id).toBe('d');
  });

  test('a phase says how chocolate in it stands', () => {
    expect(dark.phases.map(conditionAt)).toEqual(['solid', 'melted', 'solid', 'tempered']);
  });
});
