/** The simulated kitchen: people who do what their name says, a probe that lies in the ways probes do, the same from the same seed. */
import { describe, expect, it } from 'vitest';
import { TICK_S } from '../../../server/source/kitchen/bench.ts';
import { bowlOf, filled, type Kitchen } from '../../../server/source/kitchen/bowl.ts';
import { chance } from '../../../server/source/kitchen/chance.ts';
import { courseOf, type Course } from '../../../server/source/kitchen/course.ts';
import { habitsOf, handled, type Handling } from '../../../server/source/kitchen/handling.ts';
import { POWER_ON_C, sampled, type Mishap, type ProbeMake } from '../../../server/source/kitchen/probe.ts';
import { nearEdgeC } from '../../../server/core/show/course.ts';
import type { Phase, Profile } from '../../../server/core/record/profile.ts';
import { shipped } from '../../support/shipped.ts';

const PROFILES = ['dark', 'milk', 'white'].map(shipped);
const SEEDS = [1, 2, 3];
const RUNS = PROFILES.flatMap((profile) => SEEDS.map((seed) => [profile.id, seed, profile] as const));

function worked(handling: Handling, profile: Profile, seed: number): Course {
  const luck = chance(seed);
  const kg = luck.logBetween(0.3, 2);
  const bowl = bowlOf({
    kg,
    wall: luck.pick(['steel', 'glass']),
    thicknessMm: luck.between(1, 3),
    stirWPerM2K: luck.logBetween(60, 200),
    waterWPerM2K: luck.between(200, 500),
  });
  const kitchen = filled(bowl, { kg, tempC: luck.between(20, 26), solid: true }, luck.between(18, 23));
  const habits = { ...habitsOf(luck), topUps: [], workS: 1500 };
  return courseOf(kitchen, (bench) => handled({ handling, profile, habits, bench, chance: luck }), 4 * 3600);
}

/** Chocolate during one phase, °C. */
function during(course: Course, phase: string): number[] {
  return course.kitchens.flatMap((kitchen, tick) => (course.phases[tick] === phase ? [kitchen.chocolateC] : []));
}

function phaseOf(profile: Profile, id: string): Required<Pick<Phase, 'bandC' | 'heading'>> & Phase {
  const phase = profile.phases.find((one) => one.id === id);
  if (phase === undefined) throw new Error(`no phase ${id}`);
  return phase;
}

function secondsAbove(values: readonly number[], limitC: number): number {
  return values.filter((value) => value >= limitC).length * TICK_S;
}

describe('somebody who follows the curve well', () => {
  it.each(RUNS)('%s, seed %d: reaches each band, goes over no ceiling and under no floor', (_, seed, profile) => {
    const course = worked('well', profile, seed);
    for (const phase of profile.phases) {
      const values = during(course, phase.id);
      const near = nearEdgeC(phase);
      expect(phase.heading === 'down' ? Math.min(...values) <= near : Math.max(...values) >= near).toBe(true);
      if (phase.heading !== 'down') expect(Math.max(...values)).toBeLessThan(phase.ceilingC ?? Infinity);
      if (phase.heading !== 'up') expect(Math.min(...values)).toBeGreaterThan(phase.floorC ?? -Infinity);
    }
    const coolS =
      during(course, 'cool').filter((value) => value <= nearEdgeC(phaseOf(profile, 'cool'))).length * TICK_S;
    expect(coolS).toBeGreaterThan(180);
    const work = during(course, 'work');
    const [lowC, highC] = phaseOf(profile, 'work').bandC;
    expect(Math.min(...work)).toBeGreaterThan(lowC);
    expect(Math.max(...work)).toBeLessThan(highC);
  });

  it('coasts: the bowl is off the heat before the chocolate is where it lands', () => {
    const course = worked('well', PROFILES[0] as Profile, 3);
    const from = course.phases.indexOf('rewarm');
    const offTick = course.kitchens.findIndex((kitchen, tick) => tick > from + 2 && kitchen.around.kind === 'air');
    const landsC = Math.max(...during(course, 'rewarm'));
    expect(landsC - (course.kitchens[offTick]?.chocolateC ?? 0)).toBeGreaterThan(0.1);
  });
});

describe('somebody who goes wrong', () => {
  it.each(RUNS)('%s, seed %d: overshoots in rewarming, by 0.2 to 3 °C', (_, seed, profile) => {
    const ceilingC = phaseOf(profile, 'rewarm').ceilingC ?? Number.NaN;
    const highest = Math.max(...during(worked('overshoots', profile, seed), 'rewarm'));
    expect(highest - ceilingC).toBeGreaterThan(0.2);
    expect(highest - ceilingC).toBeLessThan(3.1);
  });

  it.each(RUNS)('%s, seed %d: drifts over the ceiling while dipping, slowly', (_, seed, profile) => {
    const ceilingC = phaseOf(profile, 'work').ceilingC ?? Number.NaN;
    const course = worked('drifts', profile, seed);
    expect(Math.max(...during(course, 'rewarm'))).toBeLessThan(ceilingC);
    const overAt = course.kitchens.findIndex(
      (kitchen, tick) => course.phases[tick] === 'work' && kitchen.chocolateC > ceilingC,
    );
    expect(overAt).toBeGreaterThan(0);
    const minuteBeforeC = course.kitchens[overAt - 60 / TICK_S]?.chocolateC ?? 0;
    expect(ceilingC - minuteBeforeC).toBeLessThan(0.5);
  });

  it.each(RUNS)('%s, seed %d: turns back 0.5 to 1.5 °C before the seeding band', (_, seed, profile) => {
    const lowest = Math.min(...during(worked('under-cools', profile, seed), 'cool'));
    const short = lowest - nearEdgeC(phaseOf(profile, 'cool'));
    expect(short).toBeGreaterThan(0.3);
    expect(short).toBeLessThan(1.6);
  });

  it.each(RUNS)('%s, seed %d: cools under the floor', (_, seed, profile) => {
    const floorC = phaseOf(profile, 'cool').floorC ?? Number.NaN;
    expect(Math.min(...during(worked('undershoots', profile, seed), 'cool'))).toBeLessThan(floorC - 0.2);
  });

  it.each(RUNS)('%s, seed %d: heats by turns and still goes over no ceiling', (_, seed, profile) => {
    const course = worked('cycles', profile, seed);
    const from = course.phases.indexOf('rewarm') * TICK_S;
    const to = course.phases.indexOf('work') * TICK_S;
    expect(course.changesS.filter((atS) => atS >= from && atS < to).length).toBeGreaterThan(3);
    expect(Math.max(...during(course, 'rewarm'))).toBeLessThan(phaseOf(profile, 'rewarm').ceilingC ?? 0);
  });

  it.each(RUNS)('%s, seed %d: loses the temper for a minute and more', (_, seed, profile) => {
    const lostC = phaseOf(profile, 'work').lostAboveC ?? Number.NaN;
    const course = worked('loses', profile, seed);
    const late = [...during(course, 'rewarm'), ...during(course, 'work')];
    expect(secondsAbove(late, lostC + 0.3)).toBeGreaterThanOrEqual(60);
  });

  it.each(RUNS)('%s, seed %d: loses it and makes it again, ending in the working band', (_, seed, profile) => {
    const course = worked('recovers', profile, seed);
    const lostC = phaseOf(profile, 'work').lostAboveC ?? Number.NaN;
    const lostAt = course.kitchens.findLastIndex(
      (kitchen, tick) => course.phases[tick] !== 'melt' && course.phases[tick] !== 'cool' && kitchen.chocolateC > lostC,
    );
    expect(lostAt).toBeGreaterThan(0);
    const after = course.phases.slice(lostAt);
    expect(after).toContain(profile.onLost);
    expect(after.at(-1)).toBe('work');
    const lastC = course.kitchens.at(-1)?.chocolateC ?? 0;
    expect(lastC).toBeGreaterThan(phaseOf(profile, 'work').bandC[0]);
    expect(lastC).toBeLessThan(phaseOf(profile, 'work').bandC[1]);
  });
});

describe('the same seed', () => {
  it('gives the same course, another seed another', () => {
    const dark = PROFILES[0] as Profile;
    const once = worked('overshoots', dark, 5).kitchens.map((kitchen) => kitchen.chocolateC);
    expect(worked('overshoots', dark, 5).kitchens.map((kitchen) => kitchen.chocolateC)).toEqual(once);
    expect(worked('overshoots', dark, 6).kitchens.map((kitchen) => kitchen.chocolateC)).not.toEqual(once);
  });
});

describe('the probe', () => {
  const bowl = bowlOf({ kg: 1, wall: 'steel', thicknessMm: 1, stirWPerM2K: 100, waterWPerM2K: 300 });
  const probe: ProbeMake = { lagS: 5, stepC: 0.01, swirlS: 5, calmC: 0.03, swirlPerC: 0.02 };
  const still = (wallAboveC: number): Kitchen[] => {
    const kitchen = filled(bowl, { kg: 1, tempC: 31, solid: false }, 20);
    return Array.from({ length: 7200 }, () => ({ ...kitchen, wallC: kitchen.chocolateC + wallAboveC }));
  };
  const seconds = Array.from({ length: 3600 }, (_, second) => second);
  const read = (wallAboveC: number, mishaps: readonly Mishap[] = [], make = probe) =>
    sampled({ course: still(wallAboveC), gridS: TICK_S, make, mishaps }, seconds, chance(1));

  it('is noisier the further the wall is from the chocolate, from 0.03 to at most 0.3 °C', () => {
    const deviation = (wallAboveC: number): number => {
      const values = read(wallAboveC).map(({ valueC }) => valueC - 31);
      return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
    };
    expect(deviation(0)).toBeGreaterThan(0.025);
    expect(deviation(0)).toBeLessThan(0.036);
    expect(deviation(6)).toBeGreaterThan(0.12);
    expect(deviation(6)).toBeLessThan(0.18);
    expect(deviation(60)).toBeLessThan(0.35);
  });

  it('has noise that resembles itself for about its swirl time', () => {
    const values = read(6).map(({ valueC }) => valueC - 31);
    const product = (lag: number): number =>
      values.slice(lag).reduce((sum, value, index) => sum + value * (values[index] ?? 0), 0);
    expect(product(5) / product(0)).toBeGreaterThan(0.25);
    expect(product(5) / product(0)).toBeLessThan(0.5);
    expect(Math.abs(product(40) / product(0))).toBeLessThan(0.15);
  });

  it('shows only steps of its converter', () => {
    for (const { valueC } of read(6, [], { ...probe, stepC: 0.0625 })) expect((valueC / 0.0625) % 1).toBe(0);
  });

  it('falls towards the room while lifted, and comes back to the bowl', () => {
    const samples = read(0, [{ kind: 'lifted', fromS: 100, toS: 160, mediumC: 20, lagS: 20 }]);
    expect(samples[159]?.valueC).toBeCloseTo(20 + 11 * Math.exp(-59 / 20), 1);
    expect(samples[200]?.valueC).toBeCloseTo(31, 0);
  });

  it('shoots up under a warm-air gun, and comes back', () => {
    const samples = read(0, [{ kind: 'gun', fromS: 100, toS: 115, mediumC: 95, lagS: 9 }]);
    expect(samples[115]?.valueC).toBeGreaterThan(60);
    expect(samples[115]?.valueC).toBeLessThan(90);
    expect(samples[150]?.valueC).toBeCloseTo(31, 0);
  });

  it('gives nothing in a gap, the same value while stuck, one spike, one power-on value', () => {
    const samples = read(0, [
      { kind: 'gap', fromS: 100, toS: 130 },
      { kind: 'stuck', fromS: 200, toS: 240 },
      { kind: 'spike', atS: 300, byC: 8 },
      { kind: 'power-on', atS: 400.5 },
    ]);
    expect(samples.filter(({ atS }) => atS >= 100 && atS < 130)).toHaveLength(0);
    expect(samples).toHaveLength(3570);
    expect(new Set(samples.filter(({ atS }) => atS >= 200 && atS < 240).map(({ valueC }) => valueC)).size).toBe(1);
    expect(samples.filter(({ valueC }) => valueC > 37 && valueC < 41).map(({ atS }) => atS)).toEqual([300]);
    expect(samples.filter(({ valueC }) => valueC === POWER_ON_C).map(({ atS }) => atS)).toEqual([401]);
  });
});
