/** The walk through the profile. Rule numbers are those of DEVELOPERS.md. */
import { describe, expect, it } from 'vitest';
import type { Profile } from '../../../server/core/record/profile.ts';
import { followPhase } from '../../../server/core/watch/phases.ts';
import { copyWatch } from '../../../server/core/watch/watch.ts';
import { Bowl, seededBowl, shippedProfile } from '../../support/bowl.ts';

const dark = shippedProfile('dark');

describe('the walk through the profile', () => {
  it('[E1] enters the next phase when the near edge has been reached and held for holdS', () => {
    const bowl = new Bowl(dark, 43).start('melt').ramp(46, 2).hold(80);
    expect(bowl.phases).toEqual(['melt']);
    bowl.hold(30);
    expect(bowl.phases).toEqual(['melt', 'cool']);
    const reached = bowl.find('band-reached')[0]!;
    const entered = bowl.find('phase-entered')[1]!;
    expect(reached.valueC).toBeGreaterThanOrEqual(45);
    expect(entered.atMs - reached.atMs).toBe(120_000);
    expect(entered).toMatchObject({ from: 'melt', by: 'reached' });
  });

  it('[E1] counts a temperature beyond the far edge as reached', () => {
    const bowl = new Bowl(dark, 44).start('melt').ramp(51, 3).hold(140);
    expect(bowl.phases).toEqual(['melt', 'cool']);
  });

  it('[E2] keeps the dwell through a dip of a tenth and starts it anew after a dip of half a degree', () => {
    const dipped = new Bowl(dark, 44).start('melt').ramp(45.2, 2).hold(60).ramp(44.9, 0.6).ramp(45.2, 0.6).hold(40);
    expect(dipped.phases).toEqual(['melt', 'cool']);
    const fallen = new Bowl(dark, 44).start('melt').ramp(45.2, 2).hold(60).ramp(44.5, 1).ramp(45.2, 1).hold(40);
    expect(fallen.phases).toEqual(['melt']);
  });

  it('[E1] takes an edge for reached after longer the less sure the estimate is, and not through a dip', () => {
    const enteredAfterS = (sdC: number, tempsC: readonly number[]): number => {
      const watch = copyWatch(seededBowl().state.watch);
      return tempsC.findIndex((tempC, second) => {
        const atMs = 3_600_000 + 1000 * second;
        followPhase({ atMs, profile: dark, watch, say: () => {} }, tempC, sdC);
        watch.judgedAtMs = atMs;
        return dark.phases[watch.phase!]!.id === 'work';
      });
    };
    const reached = Array.from({ length: 60 }, () => 31.1);
    expect(enteredAfterS(0.05, reached)).toBe(3);
    expect(enteredAfterS(0.2, reached)).toBe(12);
    expect(enteredAfterS(0.05, [31.1, 31.1, 30.95, ...reached])).toBe(6);
  });

  it('[E2] starts the dwell anew after a gap of more than 30 s, and nothing advances through the gap', () => {
    const bowl = new Bowl(dark, 44).start('melt').ramp(46, 2).hold(60).silence(90).hold(60);
    expect(bowl.phases).toEqual(['melt']);
    expect(bowl.hold(80).phases).toEqual(['melt', 'cool']);
  });

  it('[E1] never leaves a working phase by itself', () => {
    const bowl = new Bowl(dark, 31.2).start('work').hold(1200);
    expect(bowl.phases).toEqual(['work']);
  });

  it('[E3] keeps the scorch ceiling armed after the cooling phase has been entered', () => {
    const bowl = new Bowl(dark, 44).start('melt').ramp(50, 2).hold(140);
    expect(bowl.phases.at(-1)).toBe('cool');
    bowl.ramp(52.6, 2).hold(10);
    expect(bowl.alarms).toContain('scorch');
  });

  it('[E3] keeps the floor of the cooling phase armed until the bowl has turned upward', () => {
    const bowl = seededBowl();
    expect(bowl.phases.at(-1)).toBe('rewarm');
    bowl.ramp(25.7, 1).hold(20);
    expect(bowl.alarms).toContain('undershoot');
    const turned = seededBowl().ramp(29, 1);
    expect(turned.state.watch.turned).toBe(true);
  });

  it('[E5] obeys next and back, and neither beyond the ends of the profile', () => {
    const bowl = new Bowl(dark, 30)
      .start('melt')
      .hold(5)
      .do({ name: 'back' })
      .do({ name: 'next' })
      .do({ name: 'next' });
    bowl.do({ name: 'back' }).do({ name: 'next' }).do({ name: 'next' }).do({ name: 'next' });
    expect(bowl.phases).toEqual(['melt', 'cool', 'rewarm', 'cool', 'rewarm', 'work']);
    expect(bowl.find('phase-entered').every((event) => event.by === 'hand')).toBe(true);
  });

  it('[E6] walks any profile by heading and position: one phase, other ids, no seed', () => {
    const syrup: Profile = {
      id: 'syrup',
      title: 'Syrup',
      coating: 'none',
      source: 'made up for this test',
      phases: [
        { id: 'boil', heading: 'up', bandC: [112, 114], ceilingC: 118 },
        { id: 'stand', heading: 'down', bandC: [60, 65] },
      ],
    };
    const bowl = new Bowl(syrup, 100).start('boil').ramp(113, 3).ramp(64, 5).hold(10);
    expect(bowl.phases).toEqual(['boil', 'stand']);
    const single = new Bowl({ ...syrup, phases: [syrup.phases[0]!] }, 100).start('boil').ramp(119, 3).hold(5);
    expect(single.phases).toEqual(['boil']);
    expect(single.alarms).toContain('scorch');
  });
});
