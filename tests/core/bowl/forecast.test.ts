/** Where the bowl is going. Rule numbers are those of DEVELOPERS.md. */
import { describe, expect, it } from 'vitest';
import { arrival, coastC, fan, levelC, takeOffInS } from '../../../server/core/bowl/forecast.ts';
import { startFilter } from '../../../server/core/bowl/filter.ts';
import type { Filter } from '../../../server/core/bowl/filter.ts';
import { fastestFall, fastestRise, usualCourseS } from '../../../server/core/bowl/surroundings.ts';

function going(tempC: number, cPerMin: number): Filter {
  return { ...startFilter(0, tempC, 4), rateCPerS: cPerMin / 60, cov: [0.003, 0, 0, 0, 4e-6, 0, 0, 0.01, 0, 0.01] };
}

describe('the forecast', () => {
  it('[G5] gives the time to a temperature with an interval about it, and none for a course that leads away or levels off before', () => {
    const coming = arrival(going(29, 1), 31, 1)!;
    expect(coming.etaS).toBeGreaterThan(120);
    expect(coming.etaS).toBeLessThan(150);
    expect(coming.lowS).toBeLessThan(coming.etaS);
    expect(coming.highS!).toBeGreaterThan(coming.etaS);
    expect(arrival(going(29, -1), 31, 1)).toBeNull();
    expect(arrival(going(29, 0.01), 31, 1)).toBeNull();
    expect(arrival(going(29, 0.1), 31, 1)).toBeNull();
    expect(arrival(going(31.2, 1), 31, 1)).toEqual({ etaS: 0, lowS: 0, highS: 0 });
  });

  it('[G5] solves the approach it states: at the arrival the course stands at the target', () => {
    const filter = going(40, -2);
    const { etaS } = arrival(filter, 28, -1)!;
    const course = usualCourseS(40, -2 / 60);
    const atArrivalC = 40 - (2 / 60) * course * (1 - Math.exp(-etaS / course));
    expect(atArrivalC).toBeCloseTo(28, 6);
  });

  it('[G6] never foretells a level that no bath could draw the bowl to', () => {
    expect(levelC(going(42, -9))).toBeGreaterThanOrEqual(10);
    expect(levelC(going(25, 11))).toBeLessThanOrEqual(60);
  });

  it('[G6] draws a fan that widens and is centred on the course', () => {
    const beads = fan(going(30, 1));
    expect(beads.map((bead) => bead.inS)).toEqual([30, 60, 90, 120, 150, 180]);
    const widths = beads.map((bead) => bead.highC - bead.lowC);
    expect(widths).toEqual(widths.toSorted((one, other) => one - other));
    for (const bead of beads) expect(bead.medianC).toBeCloseTo((bead.lowC + bead.highC) / 2, 6);
  });

  it('[G7] says when to leave the heat so that the coast ends at the aim', () => {
    const filter = going(30, 1);
    const inS = takeOffInS(filter, 31.4, 1)!;
    const thenC = 30 + inS / 60;
    expect(coastC({ ...filter, tempC: thenC })).toBeCloseTo(31.4, 6);
    expect(takeOffInS(going(30, 0.01), 31.4, 1)).toBeNull();
  });

  it('[B9] knows how fast a bowl can go: faster the further it is from its bath', () => {
    expect(fastestRise(25)).toBeGreaterThan(fastestRise(35));
    expect(fastestFall(45)).toBeLessThan(fastestFall(30));
    expect(fastestRise(120)).toBeGreaterThan(0.1);
  });
});
