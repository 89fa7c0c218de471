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
  /**
   * Hemisphere just full, 1250 kg/m³, 1670 J/(kg·K), own arithmetic of the domain notes: kg, radius m, wetted m², then the time constant
   * in minutes for each overall coefficient of a bath, and in air at 10 W/(m²·K).
   */
  const published = [
    [0.3, 0.049, 0.0148, ['14', '7', '4'], '38'],
    [0.5, 0.058, 0.0208, ['17', '8', '4.5'], '45'],
    [1, 0.073, 0.0331, ['21', '10.5', '5.6'], '56'],
    [2, 0.091, 0.0525, ['26', '13', '7'], '71'],
    [3, 0.105, 0.0688, ['30', '15', '8'], '81'],
    [5, 0.124, 0.0967, ['36', '18', '10'], '96'],
  ] as const;
  const coefficients = [40, 80, 150] as const;
  const inBath = published.flatMap(([kg, , , minutes]) =>
    minutes.map((printed, index) => [kg, coefficients[index]!, printed] as const),
  );

  /** So thin a wall, and films so good, that only what is asked for holds the heat up. */
  function thinBowl(kg: number, stirWPerM2K: number, waterWPerM2K: number): Bowl {
    return bowlOf({ kg, wall: 'steel', thicknessMm: 1e-6, stirWPerM2K, waterWPerM2K });
  }

  /** As printed, to half of its last digit and a hundredth for the arithmetic. */
  function expectPrinted(value: number, printed: string): void {
    const halfDigit = printed.includes('.') ? 0.05 : 0.5;
    expect(Math.abs(value - Number(printed))).toBeLessThanOrEqual(halfDigit + 0.01 * value);
  }

  it.each(inBath)('%d kg at %d W/(m²·K) follows a bath with a time constant of %s min', (kg, uWPerM2K, printed) => {
    // Both films at twice the overall coefficient.
    const bowl = thinBowl(kg, 2 * uWPerM2K, 2 * uWPerM2K);
    const overallWPerK = 1 / (1 / bowl.innerWPerK + 1 / bowl.bathWPerK);
    expectPrinted((kg * 1670) / overallWPerK / 60, printed);
  });

  it.each(published)('%d kg: radius %d m, wetted %d m², and in air through wall and top %s … %s min', (...row) => {
    const [kg, radiusM, wettedM2, , inAir] = row;
    const bowl = thinBowl(kg, 1e9, 1e9);
    expect(bowl.airWPerK / 10).toBeCloseTo(wettedM2, 4);
    expect(Math.sqrt(bowl.airWPerK / 10 / (2 * Math.PI))).toBeCloseTo(radiusM, 3);
    expectPrinted((kg * 1670) / (bowl.airWPerK + bowl.topWPerK) / 60, inAir);
  });

  it('1 kg at 32 °C in a room of 20 °C falls by 0.21 °C in the first minute and by 2.0 °C in ten (same arithmetic)', () => {
    const { airWPerK, topWPerK } = thinBowl(1, 1e9, 1e9);
    const throughBoth = { wallJPerK: 1, bathWPerK: 0, innerWPerK: 0, airWPerK: 0, topWPerK: airWPerK + topWPerK };
    const start = twoLumps(throughBoth, { wallC: 32, chocolateC: 32, bathC: 20, roomC: 20 });
    expect(32 - later(start, 60).chocolateC).toBeCloseTo(0.21, 2);
    expect(32 - later(start, 600).chocolateC).toBeCloseTo(2.0, 1);
  });
});
