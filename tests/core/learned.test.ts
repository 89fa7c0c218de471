/** What a run teaches of the bowl itself, for the next one. */
import { describe, expect, it } from 'vitest';
import { estimateAt, initialState, learnedOf } from '../../server/core/engine.ts';
import { bathsOf } from '../../server/core/learned.ts';
import { Bowl, headerFor, shippedProfile } from '../support/bowl.ts';

const dark = shippedProfile('dark');

describe('what a run teaches', () => {
  it('is nothing before the bowl was in a bath for minutes', () => {
    const nothing = { runs: 1, heatCourseS: null, coldCourseS: null, coastS: null };
    expect(learnedOf(initialState(headerFor(dark)))).toEqual(nothing);
    expect(learnedOf(new Bowl(dark, 45).start('cool').drift(14, 600, 60).state)).toEqual(nothing);
    expect(learnedOf(new Bowl(dark, 31.5).start('work').hold(1200).state)).toEqual(nothing);
  });

  it('is the time constant on the cold and on the heat, whole seconds', () => {
    const bowl = new Bowl(dark, 45).start('cool').drift(14, 520, 300);
    const { heatCourseS, coldCourseS, runs } = learnedOf(bowl.state);
    expect(runs).toBe(1);
    expect(heatCourseS).toBeNull();
    expect(Number.isInteger(coldCourseS)).toBe(true);
    expect(Math.abs(Math.log(coldCourseS! / 520))).toBeLessThan(0.2);
    const warmed = learnedOf(bowl.drift(55, 800, 300).state);
    expect(Math.abs(Math.log(warmed.heatCourseS! / 800))).toBeLessThan(0.4);
    expect(warmed.coldCourseS).toBe(learnedOf(bowl.state).coldCourseS);
  });

  it('comes back as a bath of any temperature, with some doubt of the time constant', () => {
    const baths = bathsOf({ runs: 2, heatCourseS: 600, coldCourseS: null });
    expect(baths.cold).toBeNull();
    expect(baths.hot).toMatchObject({ levelC: null, lnTau: Math.log(600) });
    expect(baths.hot!.lnTauVar).toBeGreaterThan(0);
    expect(bathsOf(undefined)).toEqual({ hot: null, cold: null });
  });

  it('is known to the next run from its first reading on, and is no lesson of that one', () => {
    const learned = { runs: 1, heatCourseS: 600, coldCourseS: 900 };
    const bowl = new Bowl(dark, 45, { learned }).start('cool').drift(14, 900, 20);
    expect(learnedOf(bowl.state)).toEqual({ runs: 1, heatCourseS: null, coldCourseS: null, coastS: null });
    const plain = new Bowl(dark, 45).start('cool').drift(14, 900, 20);
    expect(estimateAt(bowl.state, bowl.atMs)!.etaS).not.toBe(estimateAt(plain.state, plain.atMs)!.etaS);
  });
});
