/** Where the bowl is going. Rule numbers are those of DEVELOPERS.md. */
import { describe, expect, it } from 'vitest';
import type { Likely } from '../../../server/core/bowl/courses.ts';
import {
  arrival,
  bathThatDoes,
  coastC,
  fan,
  isSteady,
  levelC,
  levelOf,
  surelyCoastsC,
  takeOffInS,
} from '../../../server/core/bowl/forecast.ts';
import type { Bowl } from '../../../server/core/bowl/stretch.ts';
import { isBowlRate } from '../../../server/core/bowl/surroundings.ts';
import { Bowl as ToldBowl, shippedProfile } from '../../support/bowl.ts';
import { Watched } from './watched.ts';

function going(tempC: number, cPerMin: number): Bowl {
  return {
    tempC,
    tempSdC: 0.05,
    rateCPerS: cPerMin / 60,
    rateSdCPerS: 0.001,
    latestRateCPerS: cPerMin / 60,
    courseS: 600,
    wallS: 40,
    wallLnSd: 0.3,
    isMelting: false,
    mixing: null,
  };
}

/** From 45 °C towards 14 °C, with a time constant of 600 s, beyond any doubt. */
function course(change: Partial<Likely> = {}): Likely {
  const sure = { levelVar: 0, bothVar: 0, tempVar: 0 };
  const lnTau = Math.log(change.tauS ?? 600);
  return { weight: 1, tauS: 600, lnTau, levelC: 14, tempC: 45, isBath: true, ...sure, ...change };
}

describe('the arrival', () => {
  it('[G5] solves the approach it states, less the age of its courses', () => {
    // 600 s · ln((45 − 14)/(28 − 14)) = 476.96 s.
    expect(arrival([course()], 0, 45, 28, -1)!.etaS).toBeCloseTo(476.96, 2);
    expect(arrival([course()], 12, 45, 28, -1)!.etaS).toBeCloseTo(464.96, 2);
  });

  it('[G5] has an interval that is 1.7 times the doubt of the course to either side', () => {
    // Level 14 ± 1 °C; at 1.2816 · 1.7 °C beyond and short of it: 600 s · ln(33.1787/16.1787) and · ln(28.8213/11.8213).
    const { etaS, lowS, highS } = arrival([course({ levelVar: 1 })], 0, 45, 28, -1)!;
    expect(etaS).toBeCloseTo(476.96, 2);
    expect(lowS).toBeCloseTo(430.93, 1);
    expect(highS).toBeCloseTo(534.73, 1);
  });

  it('[G5] takes the middle of all courses by their weights, and has no high end where one in five levels off before', () => {
    const slow = course({ weight: 0.3, tauS: 900 });
    const short = course({ weight: 0.2, levelC: 30 });
    const both = arrival([slow, course({ weight: 0.5 }), short], 0, 45, 28, -1)!;
    expect(both.lowS).toBeCloseTo(476.96, 2);
    expect(both.highS).toBeNull();
    expect(arrival([slow, course({ weight: 0.7 })], 0, 45, 28, -1)!.highS).toBeCloseTo(1.5 * 476.96, 1);
  });

  it('[G5] gives none where it is more likely never than ever, or further off than an hour', () => {
    const never = course({ weight: 0.6, levelC: 30 });
    expect(arrival([never, course({ weight: 0.4 })], 0, 45, 28, -1)).toBeNull();
    expect(arrival([course({ levelC: 60 })], 0, 45, 28, -1)).toBeNull();
    expect(arrival([course({ tauS: 4600 })], 0, 45, 28, -1)).toBeNull();
  });

  it('[G5] is now for a bowl that is there, or past it', () => {
    const there = { etaS: 0, lowS: 0, highS: 0 };
    expect(arrival([course({ tempC: 28 })], 0, 28, 28, -1)).toEqual(there);
    expect(arrival([course({ tempC: 27 })], 0, 27, 28, -1)).toEqual(there);
    expect(arrival([course({ tempC: 31.2, levelC: 50 })], 0, 31.2, 31, 1)).toEqual(there);
  });

  it('[G5] holds inside its interval for about four bowls in five', () => {
    let asked = 0;
    let inside = 0;
    for (let seed = 1; seed <= 100; seed++) {
      // Time constants of 220 to 2000 s and baths of 10 to 22 °C, spread evenly.
      const tauS = 220 * Math.exp(((seed * 0.618) % 1) * Math.log(2000 / 220));
      const levelAtC = 10 + 12 * ((seed * 0.755) % 1);
      const bowl = new Watched(45, { seed });
      const leftS = (): number => tauS * Math.log((bowl.tempC - levelAtC) / (28 - levelAtC));
      const wholeS = leftS();
      for (const share of [0.9, 0.75, 0.6, 0.45, 0.3, 0.15]) {
        while (leftS() > share * wholeS) bowl.drift(levelAtC, tauS, 1);
        const coming = bowl.arrivalAt(28)!;
        asked += 1;
        if (coming.lowS <= leftS() && leftS() <= (coming.highS ?? Infinity)) inside += 1;
      }
    }
    expect(asked).toBe(600);
    expect(inside / asked).toBeGreaterThan(0.7);
    expect(inside / asked).toBeLessThan(0.92);
  });
});

describe('the level', () => {
  it('is the one as likely to be passed as not', () => {
    const [low, middle, high] = [12, 16, 30].map((at) => course({ weight: 1 / 3, levelC: at }));
    expect(levelC([high!, low!, middle!])).toBe(16);
  });

  it('[G6] is none that no bath could draw the bowl to, however steep it goes', () => {
    for (const rushC of [-60, -20, 0]) {
      const level = levelC(new Watched(45).drift(rushC, 600, 60).courses);
      expect(level).toBeGreaterThan(0);
      expect(level).toBeLessThan(45);
    }
    for (const rushC of [130, 90, 70]) {
      const level = levelC(new Watched(25).drift(rushC, 600, 60).courses);
      expect(level).toBeGreaterThan(25);
      expect(level).toBeLessThan(90);
    }
  });

  it('of the bowl alone is its rate gone on with for the time constant', () => {
    expect(levelOf(going(30, 1))).toBeCloseTo(40, 9);
    expect(levelOf(going(45, -2))).toBeCloseTo(25, 9);
  });
});

describe('a bath that does', () => {
  it.each([
    // In 300 s of 720 s a bowl goes 34.1 % of the way: (target − 0.6592 · now)/0.3408.
    ['close from 35 to 28 °C', 35, 28, -1, 14],
    ['no colder than water at hand', 45, 28, -1, 10],
    ['at least six degrees beyond', 30, 28, -1, 22],
    ['close from 25 to 31 °C', 25, 31, 1, 43],
    ['at least six degrees beyond, upwards', 30, 31, 1, 37],
    ['no hotter than water at hand', 20, 45, 1, 70],
  ] as const)('is %s', (_, tempC, targetC, towards, bathC) => {
    expect(bathThatDoes(tempC, targetC, towards)).toBe(bathC);
  });

  it('[C4] is told with the level, early, when a bowl will not reach its band', () => {
    const bowl = new ToldBowl(shippedProfile('dark'), 45).start('cool').hold(5).drift(29.2, 500, 700);
    const [cue] = bowl.find('cue').filter((one) => one.cue === 'will-not-reach');
    expect(cue).toMatchObject({ phase: 'cool' });
    const thenC = 29.2 + 15.8 * Math.exp((5 - cue!.atMs / 1000) / 500);
    expect(thenC).toBeGreaterThan(33);
    expect(Math.abs(cue!.landsC! - 29.2)).toBeLessThan(0.5);
    expect(cue!.bathC).toBe(bathThatDoes(thenC, 28, -1));
  });
});

describe('the fan', () => {
  it('[G6] widens, is centred on the course and ends short of its level', () => {
    const beads = fan(going(30, 1), 'unchanged');
    expect(beads.map((bead) => bead.inS)).toEqual([30, 60, 90, 120, 150, 180]);
    const widths = beads.map((bead) => bead.highC - bead.lowC);
    expect(widths).toEqual(widths.toSorted((one, other) => one - other));
    expect(widths.at(-1)).toBeGreaterThan(2 * widths[0]!);
    for (const { inS, lowC, medianC, highC } of beads) {
      expect(medianC).toBeCloseTo((lowC + highC) / 2, 6);
      expect(medianC).toBeCloseTo(40 - 10 * Math.exp(-inS / 600), 6);
    }
  });

  it('[G7] of a bowl that is left peaks where it coasts to, and then falls as it does in the room', () => {
    const beads = fan(going(30, 1), 'left').map(({ medianC }) => medianC);
    expect(Math.max(...beads)).toBeCloseTo(coastC(going(30, 1)), 1);
    expect(Math.max(...beads)).toBeLessThanOrEqual(coastC(going(30, 1)));
    // 9 °C over the room, a time constant in air of 55 min: 0.08 °C in half a minute.
    expect(beads.at(-1)! - beads.at(-2)!).toBeCloseTo(-0.08, 1);
    expect(beads.at(-1)!).toBeLessThan(fan(going(30, 1), 'unchanged').at(-1)!.medianC);
  });

  it('[G7] of a bowl that is left is wider the less is known of its wall', () => {
    const width = (wallLnSd: number): number => {
      const { lowC, highC } = fan({ ...going(30, 1), wallLnSd }, 'left').at(-1)!;
      return highC - lowC;
    };
    expect(width(0.6)).toBeGreaterThan(1.3 * width(0.1));
  });

  it('is wider by more than a degree for a bowl that is not mixed', () => {
    const width = (bowl: Bowl): number => {
      const { lowC, highC } = fan(bowl, 'unchanged')[0]!;
      return highC - lowC;
    };
    expect(width({ ...going(30, 1), mixing: 'stirred' })).toBe(width(going(30, 1)));
    for (const mixing of ['unstirred', 'at-the-wall'] as const) {
      expect(width({ ...going(30, 1), mixing })).toBeGreaterThan(width(going(30, 1)) + 1);
    }
  });
});

describe('leaving heat or cold', () => {
  it('[G7] carries a bowl on for the time constant of its wall, less what the room takes until the peak', () => {
    // At the room's own 21 °C nothing is taken: 1.5 °C/min for 40 s, all but the last thousandth of it within 240 s.
    expect(coastC(going(21, 1.5))).toBeCloseTo(22 - Math.exp(-6), 9);
    // At 30 °C it takes 9 °C in 3300 s: r·τ − λ·τ·ln(1 + r/λ) = 1 − 0.1091·ln(10.17).
    expect(coastC(going(30, 1.5))).toBeCloseTo(30.747, 3);
    // Out of the cold 90 s count, and the room takes on: (r + λ)·τ·(1 − e^(−90/40)) − λ·90.
    expect(coastC(going(29, -1.5))).toBeCloseTo(
      29 + (-0.025 + 8 / 3300) * 40 * (1 - Math.exp(-2.25)) - (8 / 3300) * 90,
      9,
    );
    expect(coastC({ ...going(30, 1.5), wallS: 80 })).toBeGreaterThan(31.3);
  });

  it('[G7] is told for the moment from which the coast ends at the aim', () => {
    const sure = (tempC: number, cPerMin: number): Bowl => ({ ...going(tempC, cPerMin), rateSdCPerS: 0 });
    const inS = takeOffInS(sure(30, 1), 31.4, 1, 1)!;
    expect(inS).toBeGreaterThan(40);
    expect(coastC(going(30 + inS / 60, 1))).toBeCloseTo(31.4, 1);
    expect(takeOffInS(sure(31.2, 1), 31.4, 1, 1)).toBeLessThan(-5);
    const downS = takeOffInS(sure(29, -1), 27.5, -1, 1)!;
    expect(coastC(going(29 - downS / 60, -1))).toBeCloseTo(27.5, 1);
  });

  it('[G7] is told later where the rate is hardly known, and at once past the aim', () => {
    const unsure: Bowl = { ...going(30, 1), rateSdCPerS: 0.5 / 60 };
    expect(takeOffInS(unsure, 31.4, 1, 1)!).toBeGreaterThan(2 * takeOffInS(going(30, 1), 31.4, 1, 1)!);
    expect(takeOffInS(unsure, 31.4, 1, 0)).toBe(takeOffInS({ ...unsure, rateSdCPerS: 0 }, 31.4, 1, 1));
    expect(takeOffInS({ ...unsure, tempC: 31.5 }, 31.4, 1, 1)).toBeLessThan(0);
  });

  it('[G7] surely goes on by what is left of the coast 15 s later, and less far the less is known of the wall', () => {
    const known = surelyCoastsC({ ...going(30, 1), wallLnSd: 0 }, 1 / 60);
    expect(known).toBeCloseTo((coastC(going(30, 1)) - 30) * Math.exp(-15 / 40), 9);
    expect(surelyCoastsC(going(30, 1), 1 / 60)).toBeLessThan(known - 0.1);
  });

  it('[G7] is no question for a bowl that stands still or leads away', () => {
    expect(takeOffInS(going(30, 0.04), 31.4, 1, 1)).toBeNull();
    expect(takeOffInS(going(30, -1), 31.4, 1, 1)).toBeNull();
    expect(isSteady(going(30, -0.04))).toBe(true);
    expect(isSteady(going(30, 0.06))).toBe(false);
  });
});

describe('how fast a bowl can go', () => {
  it('[B9] hangs on how far it is from its bath', () => {
    // (80 − 25)/230 s · 1.3 = 18.7 °C/min up; (45 − 2)/230 s · 1.3 = 14.6 °C/min down.
    expect(isBowlRate(18.5 / 60, 25, null)).toBe(true);
    expect(isBowlRate(18.8 / 60, 25, null)).toBe(false);
    expect(isBowlRate(18.5 / 60, 35, null)).toBe(false);
    expect(isBowlRate(-14.5 / 60, 45, null)).toBe(true);
    expect(isBowlRate(-14.7 / 60, 45, null)).toBe(false);
    expect(isBowlRate(-14.5 / 60, 30, null)).toBe(false);
    // Hotter than any bath it is on a flame.
    expect(isBowlRate(0.2, 120, null)).toBe(true);
  });

  it('[B9] hangs on the bowl’s own time constant once that is known', () => {
    // 0.55 · 1000 s: (80 − 25)/550 s · 1.3 = 7.8 °C/min.
    expect(isBowlRate(7.7 / 60, 25, 1000)).toBe(true);
    expect(isBowlRate(7.9 / 60, 25, 1000)).toBe(false);
    expect(isBowlRate(18.5 / 60, 25, 300)).toBe(true);
  });
});
