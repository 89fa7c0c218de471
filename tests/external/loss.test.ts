/**
 * Two limits of a professional confectionery textbook for dark chocolate (title withheld; common practice agrees): above 34 °C no form V
 * seed survives, and below 29 °C unstable form IV is likely to be present. Judged on the engine's own estimate, so exactly.
 */
import { describe, expect, test } from 'vitest';
import { estimateAt, situationAt } from '../../server/core/engine.ts';
import type { Condition } from '../../server/core/record/command.ts';
import { Bowl, workingBowl } from '../support/bowl.ts';
import { shipped } from '../support/shipped.ts';

const LOST_C = 34;
const FORM_IV_C = 29;
/** Long enough for a rise that was doubted at first to be believed, s. */
const SETTLED_S = 240;

interface Moment {
  readonly tempC: number;
  readonly standing: string;
}

/** Estimate and standing at every reading while the bowl goes its way. */
function watched(bowl: Bowl, way: readonly (readonly [toC: number, cPerMin: number])[]): Moment[] {
  const moments: Moment[] = [];
  const note = () => {
    const estimate = estimateAt(bowl.state, bowl.atMs);
    if (estimate !== null)
      moments.push({ tempC: estimate.tempC, standing: situationAt(bowl.state, bowl.atMs).standing });
  };
  for (const [toC, cPerMin] of way) {
    const stepC = cPerMin / 60;
    const direction = Math.sign(toC - bowl.tempC);
    while ((toC - bowl.tempC) * direction > stepC) {
      bowl.ramp(bowl.tempC + direction * stepC, cPerMin);
      note();
    }
    for (let s = 0; s < SETTLED_S; s += 1) {
      bowl.hold(1);
      note();
    }
  }
  return moments;
}

describe('dark at 34.0 °C and above is never said to be in temper (textbook: no form V seed survives)', () => {
  test.each([0.3, 1, 2, 3, 6, 12])('warmed from the work band at %d °C/min', (cPerMin) => {
    const bowl = workingBowl();
    expect(situationAt(bowl.state, bowl.atMs).standing).toBe('in-temper');
    const over = watched(bowl, [[35.5, cPerMin]]).filter(({ tempC }) => tempC >= LOST_C);
    expect(over.length).toBeGreaterThan(100);
    expect(over.filter(({ standing }) => standing === 'in-temper')).toEqual([]);
    expect(over.at(-1)!.standing).toBe('lost');
    expect(bowl.alarms).toContain('temper-lost');
  });

  test('held at 34.2 and no higher', () => {
    const over = watched(workingBowl(), [[34.2, 1]]).filter(({ tempC }) => tempC >= LOST_C);
    expect(over.length).toBeGreaterThan(100);
    expect(over.filter(({ standing }) => standing === 'in-temper')).toEqual([]);
  });

  test('nor when it has come back down into the work band afterwards', () => {
    const after = watched(workingBowl(), [
      [34.6, 2],
      [31.5, 1],
    ]).slice(-60);
    expect(after.every(({ tempC }) => tempC < 32)).toBe(true);
    expect(after.filter(({ standing }) => standing === 'in-temper')).toEqual([]);
  });

  test.each(['solid', 'melted', 'tempered'] satisfies Condition[])(
    'nor when the run begins up there, said to be %s',
    (condition) => {
      const bowl = new Bowl(shipped('dark'), 36);
      bowl.do({ name: 'choose-profile', profile: shipped('dark'), condition });
      const over = watched(bowl, [[35, 1]]).filter(({ tempC }) => tempC >= LOST_C);
      expect(over.length).toBeGreaterThan(100);
      expect(over.filter(({ standing }) => standing === 'in-temper')).toEqual([]);
    },
  );
});

describe('dark worked below 29.0 °C is flagged (textbook: form IV is likely)', () => {
  test.each([0.2, 0.5, 1, 2])('cooled from the work band at %d °C/min', (cPerMin) => {
    const bowl = workingBowl();
    const below = watched(bowl, [[28.5, cPerMin]]).filter(({ tempC }) => tempC < FORM_IV_C);
    expect(below.length).toBeGreaterThan(100);
    const raised = bowl.find('alarm-raised').filter((event) => event.alarm === 'below-working');
    expect(raised.map((event) => event.limitC)).toEqual([30.5]);
    expect(bowl.find('alarm-cleared')).toEqual([]);
    // Told before the textbook's limit is reached, not at it.
    expect(raised[0]!.valueC).toBeGreaterThan(FORM_IV_C);
  });
});
