/** The judge of the figures, judged: one who sees all gets full marks, one who says nothing or cries wolf does not. */
import { describe, expect, it } from 'vitest';
import type { EventBody } from '../../server/core/record/event.ts';
import { shipped } from '../support/shipped.ts';
import { quantile, summed } from './figures.ts';
import { judge } from './judge.ts';
import { caseOf, SEED_SETS } from './kitchens.ts';
import { ORACLE } from './oracle.ts';
import { THRESHOLD } from './stand-ins.ts';
import type { Watched } from './watchers.ts';

const PROFILES = ['dark', 'milk', 'white'].map(shipped);
/** Two of each handling that overshoots, loses or turns back, and some good ones. */
const CASES = [0, 3, 4, 9, 10, 12, 13, 18, 19, 33].map((turn) => caseOf(SEED_SETS.tuning + turn, turn, PROFILES));

function saying(...said: (EventBody & { readonly atMs: number })[]): Watched {
  return { events: said.map((event, index) => ({ ...event, seq: index + 1 })), estimates: [], tookMs: 1 };
}

describe('the judge of the figures', () => {
  it('finds nothing to blame in an oracle', () => {
    const sum = summed(CASES.map((kitchen) => judge(kitchen, ORACLE.watch(kitchen))));
    expect(sum.overshoots).toBeGreaterThan(4);
    expect(sum.overshootsMissed).toBe(0);
    expect(sum.overshootsTold).toBe(sum.overshoots);
    expect(sum.overshootsFalse).toBe(0);
    expect(sum.aheadFalse).toBe(0);
    expect(sum.offHeatsInBand / sum.offHeats).toBeGreaterThan(0.95);
    expect(Math.min(...sum.leadShares)).toBeGreaterThan(0.9);
    expect(Math.max(...sum.tempErrorsC)).toBe(0);
  });

  it('counts all as missed for one who says nothing', () => {
    const sum = summed(CASES.map((kitchen) => judge(kitchen, saying())));
    expect(sum.overshootsMissed).toBe(sum.overshoots);
    expect(sum.overshootsTold).toBe(0);
    expect(sum.lost).toBeGreaterThan(0);
    expect(sum.lostTold).toBe(0);
    expect(sum.underCooled).toBe(2);
    expect(sum.underCooledTold).toBe(0);
    expect(sum.followed).toBe(0);
  });

  it('hears no warning ahead from a bare threshold', () => {
    const sum = summed(CASES.map((kitchen) => judge(kitchen, THRESHOLD.watch(kitchen))));
    expect(sum.overshootsTold).toBe(0);
    expect(sum.lostTold).toBe(0);
  });

  it('counts what is said without reason in a well-handled run as false', () => {
    const [well] = CASES;
    if (well === undefined) throw new Error('no case');
    expect(well.handling).toBe('well');
    const workS = well.course.phases.indexOf('work') / 2 + 120;
    const raised = {
      atMs: workS * 1000,
      kind: 'alarm-raised',
      severity: 'warning',
      phase: 'work',
      valueC: 31.5,
    } as const;
    const tally = judge(
      well,
      saying(
        { atMs: 60_000, kind: 'phase-entered', phase: 'cool', from: 'melt', by: 'reached' },
        { ...raised, alarm: 'overshoot', limitC: 32.5 },
        { ...raised, alarm: 'overshoot-ahead', limitC: 32.5 },
        { ...raised, alarm: 'temper-lost', limitC: 34 },
        { ...raised, alarm: 'not-cooled-enough', limitC: 28 },
      ),
    );
    expect(tally).toMatchObject({
      phasesWrong: 1,
      overshootsFalse: 1,
      aheadFalse: 1,
      lostFalse: 1,
      underCooledFalse: 1,
    });
    expect(Object.keys(tally.alarmsWellHandled)).toHaveLength(4);
    expect(tally.wrong.length).toBeGreaterThanOrEqual(9);
  });
});

describe('the seeded kitchens', () => {
  it('are the same from the same seed, and the two sets of seeds never meet', () => {
    const again = caseOf(SEED_SETS.tuning, 0, PROFILES);
    expect(again.samples).toEqual(CASES[0]?.samples);
    expect(SEED_SETS.report - SEED_SETS.tuning).toBeGreaterThan(100_000);
  });
});

describe('the quantiles', () => {
  it('are the values below which that share lies', () => {
    const hundred = Array.from({ length: 100 }, (_, index) => 99 - index);
    expect(quantile(hundred, 0.5)).toBe(50);
    expect(quantile(hundred, 0.9)).toBe(90);
    expect(quantile([], 0.5)).toBeNaN();
  });
});
