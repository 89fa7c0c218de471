/**
 * The simulated kitchen against values from outside this project: exact solutions, published constants, definitions.
 * Each check names where its numbers come from.
 */
import { describe, expect, it } from 'vitest';
import { setUp, coastsToC } from '../../server/source/kitchen/bench.ts';
import {
  bowlOf,
  filled,
  later,
  LIQUID_J_PER_KG_K,
  roomAir,
  settledC,
  SOLID_J_PER_KG_K,
  STOCK_MELTING,
  toppedUp,
  type Bowl,
  type Kitchen,
} from '../../server/source/kitchen/bowl.ts';
import { tipAfter } from '../../server/source/kitchen/probe.ts';

const NO_MELTING = { ...STOCK_MELTING, latentJPerKg: 0 };

function twoLumps(bowl: Bowl, temps: { wallC: number; chocolateC: number; bathC: number; roomC: number }): Kitchen {
  const kitchen = filled(bowl, { kg: 1, tempC: temps.chocolateC, solid: false }, temps.roomC, NO_MELTING);
  const around = { kind: 'hot-bath', tempC: temps.bathC, settlesAtC: temps.bathC, settleS: Infinity } as const;
  return { ...kitchen, wallC: temps.wallC, around };
}

describe('the integrator', () => {
  // Two nodes by matrix exponential: bath 40, air 20, wall 250 and chocolate 1670 J/K, paths 10, 3 and 0.5 W/K, both from 20 °C.
  const exact = [
    [60, 34.8644, 21.0997],
    [300, 36.7235, 26.1431],
    [600, 37.6897, 30.1956],
    [900, 38.2756, 32.6529],
    [1800, 38.9769, 35.5943],
    [3600, 39.1681, 36.3964],
  ] as const;
  const bowl: Bowl = { wallJPerK: 250, bathWPerK: 10, innerWPerK: 3, airWPerK: 1, topWPerK: 0.5 };

  it.each(exact)('meets the exact two-node solution to 1e-3 °C after %d s', (seconds, wallC, chocolateC) => {
    const start = twoLumps(bowl, { wallC: 20, chocolateC: 20, bathC: 40, roomC: 20 });
    expect(start.chocolateJPerK).toBe(1670);
    const then = later(start, seconds);
    expect(Math.abs(then.wallC - wallC)).toBeLessThan(1e-3);
    expect(Math.abs(then.chocolateC - chocolateC)).toBeLessThan(1e-3);
  });

  it('gives the same whether time passes at once or tick by tick', () => {
    const bench = setUp(twoLumps(bowl, { wallC: 20, chocolateC: 20, bathC: 40, roomC: 20 }));
    for (let tick = 0; tick < 1200; tick += 1) bench.tick();
    expect(bench.atS()).toBe(600);
    expect(Math.abs(bench.now().chocolateC - 30.1956)).toBeLessThan(1e-3);
  });

  it('settles at the steady state of that solution, 39.1781 and 36.4384 °C', () => {
    const then = later(twoLumps(bowl, { wallC: 20, chocolateC: 20, bathC: 40, roomC: 20 }), 20_000);
    expect(then.wallC).toBeCloseTo(39.1781, 3);
    expect(then.chocolateC).toBeCloseTo(36.4384, 3);
  });

  it('cools as Newton does where the wall weighs nothing: T = room + (T0 − room)·exp(−t/τ)', () => {
    // 1 kg loses 0.5 W/K through its open surface only.
    const alone: Bowl = { wallJPerK: 1, bathWPerK: 0, innerWPerK: 0, airWPerK: 0, topWPerK: 0.5 };
    const start = twoLumps(alone, { wallC: 32, chocolateC: 32, bathC: 20, roomC: 20 });
    const tauS = 1670 / 0.5;
    for (const seconds of [60, 600, 1800, 3600]) {
      expect(later(start, seconds).chocolateC).toBeCloseTo(20 + 12 * Math.exp(-seconds / tauS), 6);
    }
  });

  it('carries a bath that goes to room temperature along its own exponential', () => {
    const start = twoLumps(bowl, { wallC: 20, chocolateC: 20, bathC: 40, roomC: 20 });
    const drifting = { ...start, around: { ...start.around, settlesAtC: 20, settleS: 3600 } };
    expect(later(drifting, 1800).around.tempC).toBeCloseTo(20 + 20 * Math.exp(-0.5), 9);
  });
});

describe('coasting', () => {
  it('a kilogram at 31 °C in a steel bowl still at 38 °C ends at 31.9 °C with no heat on (ΣCT / ΣC)', () => {
    const bowl: Bowl = { wallJPerK: 250, bathWPerK: 10, innerWPerK: 3, airWPerK: 0, topWPerK: 0 };
    const kitchen = { ...twoLumps(bowl, { wallC: 38, chocolateC: 31, bathC: 20, roomC: 20 }), around: roomAir(20) };
    expect(settledC(kitchen)).toBeCloseTo(31.9, 1);
    expect(later(kitchen, 1800).chocolateC).toBeCloseTo(31.9, 1);
    expect(coastsToC(kitchen, 'up')).toBeGreaterThan(31.85);
  });
});

describe('heat', () => {
  // Beckett (ed.), Industrial Chocolate Manufacture and Use, 4th ed., physical constants: 1.67 and 1.59 kJ/(kg·K), 46 kJ/kg.
  const seeded: readonly (readonly [share: number, ...c: number[]])[] = [
    [0.1, 35.3, 37.1, 39.8, 42.6, 44.4],
    [0.15, 33.0, 34.7, 37.2, 39.8, 41.5],
    [0.2, 30.6, 32.2, 34.6, 37.1, 38.7],
    [0.25, 28.2, 29.7, 32.0, 34.3, 35.8],
    [0.3, 25.8, 27.2, 29.4, 31.5, 32.9],
    [1 / 3, 24.2, 25.6, 27.6, 29.6, 31.0],
  ];
  const meltsC = [40, 42, 45, 48, 50];
  const cells = seeded.flatMap(([share, ...row]) =>
    row.map((endC, index) => [share, meltsC[index] ?? 0, endC] as const),
  );

  it.each(cells)(
    'seed as %d of the whole into %d °C pulls it to %d °C, no losses, all of it melted',
    (share, meltC, endC) => {
      const closed: Bowl = { wallJPerK: 1, bathWPerK: 0, innerWPerK: 0, airWPerK: 0, topWPerK: 0 };
      const melted = filled(closed, { kg: 1 - share, tempC: meltC, solid: false }, 20, {
        ...STOCK_MELTING,
        fromC: -2,
        toC: -1,
      });
      const seeding = toppedUp(melted, { kg: share, tempC: 20, solid: true });
      expect(Math.abs(later(seeding, 1800).chocolateC - endC)).toBeLessThanOrEqual(0.1);
    },
  );

  it('covers every cell of the published-constant table', () => {
    expect(cells).toHaveLength(30);
  });

  it('melting 1 kg of dark from 20 to 45 °C takes 86 kJ within 1 % (same constants)', () => {
    const bowl: Bowl = { wallJPerK: 1, bathWPerK: 1e-9, innerWPerK: 1e-9, airWPerK: 0, topWPerK: 2 };
    // Heat comes in through the open surface from a warm room, so all of it can be counted.
    let now = filled(bowl, { kg: 1, tempC: 20, solid: true }, 60);
    let joules = 0;
    while (now.chocolateC < 45) {
      joules += 2 * (60 - now.chocolateC);
      now = later(now, 1);
    }
    expect(Math.abs(joules / 86_000 - 1)).toBeLessThan(0.01);
    expect(now.solidKg).toBeLessThan(1e-6);
    expect(SOLID_J_PER_KG_K / LIQUID_J_PER_KG_K).toBeCloseTo(1.59 / 1.67, 9);
  });
});

describe('the bowl', () => {
  // Hemisphere just full, 1250 kg/m³, 1670 J/(kg·K): overall coefficient to time constant in minutes, own arithmetic of the domain notes.
  it.each([
    [0.3, 40, 14],
    [0.5, 80, 8],
    [1, 80, 10.5],
    [2, 150, 7],
    [5, 40, 36],
    [5, 150, 10],
  ])('%d kg at %d W/(m²·K) follows a bath with a time constant of about %d min', (kg, uWPerM2K, tauMin) => {
    // Both films at twice the overall coefficient, the wall as thin as nothing.
    const bowl = bowlOf({
      kg,
      wall: 'steel',
      thicknessMm: 1e-6,
      stirWPerM2K: 2 * uWPerM2K,
      waterWPerM2K: 2 * uWPerM2K,
    });
    const overallWPerK = 1 / (1 / bowl.innerWPerK + 1 / bowl.bathWPerK);
    expect((kg * 1670) / overallWPerK / 60 / tauMin).toBeGreaterThan(0.94);
    expect((kg * 1670) / overallWPerK / 60 / tauMin).toBeLessThan(1.06);
  });
});

describe('the probe', () => {
  it('has gone 63.2 % of a step after its time constant, 90 % after 2.303 and 99 % after 4.61 of them (definition)', () => {
    for (const [times, share] of [
      [1, 0.632],
      [2.303, 0.9],
      [4.605, 0.99],
    ] as const) {
      let tipC = 0;
      for (let piece = 0; piece < 10; piece += 1) tipC = tipAfter(tipC, 1, 1, 7, (times * 7) / 10);
      expect(tipC).toBeCloseTo(share, 3);
    }
  });

  it('trails a ramp r by r·τ: 3 °C/min with τ = 10 s by 0.50 °C', () => {
    let tipC = 20;
    for (let second = 0; second < 300; second += 1)
      tipC = tipAfter(tipC, 20 + second / 20, 20 + (second + 1) / 20, 10, 1);
    expect(20 + 15 - tipC).toBeCloseTo(0.5, 3);
  });
});
