/** A probe's lag from a plunge. Rises are exact solutions; what a real thermometer adds is put on top: spacing, steps, noise. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  lagFromPlunge,
  lagOf,
  type LagOutcome,
  type MeasuredLag,
  type PlungeReading,
  startPlunge,
  watchPlunge,
} from '../../../server/core/bowl/plunge.ts';
import { chance } from '../../../server/source/kitchen/chance.ts';

/** How far a rise has come, 0 to 1, so many seconds after the plunge. */
type Way = (seconds: number) => number;

interface Setting {
  readonly way: Way;
  readonly hz?: number;
  /** Steps of the thermometer, °C; 0: none. */
  readonly stepC?: number;
  readonly noiseC?: number;
  readonly seed?: number;
  readonly plungeS?: number;
  readonly lastS?: number;
  readonly fromC?: number;
  readonly toC?: number;
  /** What the medium does by itself, °C/s. */
  readonly driftCPerS?: number;
}

function firstOrder(lagS: number): Way {
  return (seconds) => 1 - Math.exp(-seconds / lagS);
}

/** Two equal lags one behind the other, as when the heat soaks through a sheath; `lagS` is its time to 63.2 %: 2.1462 of each. */
function twoLags(lagS: number): Way {
  const each = lagS / 2.1462;
  return (seconds) => 1 - (1 + seconds / each) * Math.exp(-seconds / each);
}

function plunge(setting: Setting): PlungeReading[] {
  const { way, hz = 1, stepC = 0, noiseC = 0, seed = 1, plungeS = 20.37 } = setting;
  const { lastS = plungeS + 120, fromC = 21.3, toC = 44.6, driftCPerS = 0 } = setting;
  const luck = chance(seed);
  return Array.from({ length: Math.floor(lastS * hz) + 1 }, (_, index) => {
    const afterS = index / hz - plungeS;
    const cleanC = afterS <= 0 ? fromC : fromC + (toC - fromC) * way(afterS) + driftCPerS * afterS;
    const valueC = cleanC + (noiseC > 0 ? noiseC * luck.normal() : 0);
    return {
      atMs: Math.round((index / hz) * 1000),
      valueC: stepC > 0 ? Math.round(Math.round(valueC / stepC) * stepC * 1e4) / 1e4 : valueC,
    };
  });
}

function measured(outcome: LagOutcome): MeasuredLag {
  if (!outcome.ok) throw new Error(`no lag: ${JSON.stringify(outcome)}`);
  return outcome;
}

const RATES_HZ = [0.5, 1, 2, 5, 10];

describe('a first-order probe', () => {
  test.each(RATES_HZ)('read without error at %d Hz: its lag within 1 %, by 63.2 % as by 90 %', (hz) => {
    for (const lagS of [3.2, 4.2, 8, 17]) {
      const lag = measured(lagFromPlunge(plunge({ way: firstOrder(lagS), hz })));
      expect(lag.rise).toBe('first-order');
      expect(Math.abs(lag.lagS / lagS - 1)).toBeLessThan(0.01);
      expect(Math.abs(lag.by90S / lagS - 1)).toBeLessThan(0.01);
      expect(Math.abs(lag.plungedAtMs - 20_370)).toBeLessThan(0.02 * lagS * 1000);
      expect(Math.abs(lag.fromC - 21.3)).toBeLessThan(0.05);
      expect(Math.abs(lag.toC - 44.6)).toBeLessThan(0.05);
    }
  });

  const worn = RATES_HZ.flatMap((hz) =>
    [0.01, 0.0625, 0.1, 0.25].flatMap((stepC) => [0, 0.03, 0.1].map((noiseC) => ({ hz, stepC, noiseC }))),
  );
  test.each(worn)(
    'at $hz Hz in steps of $stepC °C with $noiseC °C of noise: within the uncertainty it states',
    (thermometer) => {
      for (let seed = 1; seed <= 12; seed += 1) {
        const lagS = chance(seed).logBetween(Math.max(1, 1.5 / thermometer.hz), 20);
        const setting = { ...thermometer, way: firstOrder(lagS), seed, plungeS: 20 + seed / 7 };
        const lag = measured(lagFromPlunge(plunge(setting)));
        expect(lag.rise).toBe('first-order');
        expect(lag.lowS).toBeLessThanOrEqual(lagS);
        expect(lag.highS).toBeGreaterThanOrEqual(lagS);
        expect(lag.lagS).toBeGreaterThanOrEqual(lag.lowS);
        expect(lag.lagS).toBeLessThanOrEqual(lag.highS);
        // An uncertainty that says nothing would hold everything: no wider than the readings are apart, and a third of the lag.
        expect(lag.highS - lag.lowS).toBeLessThan(1 / thermometer.hz + lagS / 3);
      }
    },
  );

  test('goes into cold as well as into warm', () => {
    const lag = measured(lagFromPlunge(plunge({ way: firstOrder(6), fromC: 22, toC: 1 })));
    expect(lag.lagS).toBeCloseTo(6, 1);
  });

  test('that was warmed a little by steam on its way is timed from the plunge', () => {
    const readings = plunge({ way: firstOrder(5), hz: 2 }).map(({ atMs, valueC }) => ({
      atMs,
      valueC: atMs > 18_500 && atMs < 20_370 ? valueC + 0.3 : valueC,
    }));
    const lag = measured(lagFromPlunge(readings));
    expect(Math.abs(lag.lagS / 5 - 1)).toBeLessThan(0.03);
  });

  test('is over before the medium has cooled: what comes later is not looked at', () => {
    const readings = plunge({ way: firstOrder(4) });
    const later = readings.map(({ atMs, valueC }) => ({ atMs, valueC: atMs > 90_000 ? valueC - 10 : valueC }));
    expect(lagFromPlunge(later)).toEqual(lagFromPlunge(readings));
  });
});

describe('a probe that the heat has to soak into', () => {
  test.each([2, 5, 10])(
    'at %d Hz is told from a first-order one, and the number to use is that of 90 % (domain §5.6)',
    (hz) => {
      const lagS = 6;
      const lag = measured(lagFromPlunge(plunge({ way: twoLags(lagS), hz, stepC: 0.0625, noiseC: 0.03 })));
      expect(lag.rise).toBe('soaking');
      expect(lag.ratio).toBeLessThan(2.9);
      expect(lag.lagS).toBe(lag.by90S);
      expect(lag.lagS).toBeLessThan(lag.to63S);
      // t90 of two equal lags is 3.8897 of each.
      expect(Math.abs(lag.by90S / ((3.8897 * (lagS / 2.1462)) / Math.LN10) - 1)).toBeLessThan(0.08);
      // Nobody saw the moment of the plunge: the rise begins too slowly to show it.
      expect(Math.abs(lag.to63S / lagS - 1)).toBeLessThan(0.08);
      expect(lag.lowS).toBeLessThan(lag.by90S);
      expect(lag.highS).toBeGreaterThan(lagS);
    },
  );

  test('read so rarely that it cannot be told from a first-order one still lies within the uncertainty', () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const lag = measured(
        lagFromPlunge(plunge({ way: twoLags(4), plungeS: 20 + seed / 20, stepC: 0.0625, noiseC: 0.03, seed })),
      );
      expect(lag.lowS).toBeLessThanOrEqual(4);
      expect(lag.highS).toBeGreaterThanOrEqual(4);
    }
  });

  test('one that trails at the end is told too, and goes by 63.2 %', () => {
    const way: Way = (seconds) => 1 - 0.75 * Math.exp(-seconds / 3) - 0.25 * Math.exp(-seconds / 18);
    const lag = measured(lagFromPlunge(plunge({ way, hz: 5 })));
    expect(lag.rise).toBe('trailing');
    expect(lag.lagS).toBe(lag.to63S);
    expect(way(lag.to63S)).toBeCloseTo(0.632, 1);
    expect(lag.highS).toBeGreaterThan(lag.by90S);
  });
});

describe('no lag is made up', () => {
  test('where the probe never rested', () => {
    const fromTheHand = plunge({ way: firstOrder(60), plungeS: 0, fromC: 33, toC: 21, lastS: 120 });
    expect(lagFromPlunge(fromTheHand)).toEqual({ ok: false, why: 'never-steady' });
    expect(lagFromPlunge(plunge({ way: firstOrder(4), plungeS: 4, lastS: 30 }))).toEqual({
      ok: false,
      why: 'never-steady',
    });
    const loose = plunge({ way: firstOrder(4), hz: 2, lastS: 20 }).map(({ atMs, valueC }) => ({
      atMs,
      valueC: valueC + (atMs % 1000 === 0 ? 1 : -1),
    }));
    expect(lagFromPlunge(loose)).toEqual({ ok: false, why: 'never-steady' });
    expect(lagFromPlunge([])).toEqual({ ok: false, why: 'never-steady' });
  });

  test('where nothing was plunged, and a spike is no plunge', () => {
    const resting = plunge({ way: () => 0 });
    expect(lagFromPlunge(resting)).toEqual({ ok: false, why: 'no-plunge', restC: expect.closeTo(21.3, 6) as number });
    const spiked = resting.map((each) => (each.atMs === 60_000 ? { ...each, valueC: 85 } : each));
    expect(lagFromPlunge(spiked)).toMatchObject({ ok: false, why: 'no-plunge' });
  });

  test.each([
    [0.25, 28, 10],
    [0.1, 25.5, 5],
    [1, 45, 40],
  ])('where the step is small for steps of %d °C', (stepC, toC, wantedC) => {
    const outcome = lagFromPlunge(plunge({ way: firstOrder(9), hz: 2, stepC, fromC: 21, toC }));
    expect(outcome).toMatchObject({ ok: false, why: 'small-step' });
    if (outcome.ok || outcome.why !== 'small-step') return;
    expect(outcome.stepC).toBeCloseTo(toC - 21, 0);
    expect(outcome.wantedC).toBeCloseTo(wantedC, 0);
  });

  test('where the step is small beside the noise', () => {
    const outcome = lagFromPlunge(plunge({ way: firstOrder(4), hz: 2, noiseC: 0.25, fromC: 21, toC: 29 }));
    expect(outcome).toMatchObject({ ok: false, why: 'small-step' });
  });

  test('where the medium was still warming, or the readings end too early: the pace at the end is told', () => {
    const warming = lagFromPlunge(plunge({ way: firstOrder(4), hz: 2, driftCPerS: 0.1 }));
    expect(warming).toMatchObject({ ok: false, why: 'still-changing', cPerMin: expect.closeTo(6, 1) as number });
    const short = lagFromPlunge(plunge({ way: firstOrder(9), lastS: 40 }));
    expect(short).toMatchObject({ ok: false, why: 'still-changing' });
  });

  test('and a medium that goes on changing is given up after five minutes', () => {
    const watching = startPlunge();
    for (const reading of plunge({ way: firstOrder(4), driftCPerS: 0.1, lastS: 400 })) watchPlunge(watching, reading);
    expect(watching.stage).toBe('over');
    expect(watching.readings.at(-1)!.atMs).toBeLessThan(330_000);
    expect(lagOf(watching)).toMatchObject({ ok: false, why: 'still-changing' });
  });

  test.each(RATES_HZ)('where it is over within a few readings at %d Hz: under so many seconds, which it is', (hz) => {
    for (const lagS of [0.05 / hz, 0.3 / hz, 0.6 / hz]) {
      const outcome = lagFromPlunge(plunge({ way: firstOrder(lagS), hz, stepC: 0.1 }));
      expect(outcome).toMatchObject({ ok: false, why: 'few-readings' });
      if (outcome.ok || outcome.why !== 'few-readings') continue;
      expect(outcome.underS).toBeGreaterThan(lagS);
      expect(outcome.underS).toBeLessThanOrEqual(2 / hz);
    }
  });

  test('where readings are missing from the rise', () => {
    const holed = plunge({ way: firstOrder(6), hz: 2 }).filter(({ atMs }) => atMs < 22_000 || atMs > 27_000);
    expect(lagFromPlunge(holed)).toMatchObject({ ok: false, why: 'gap', gapS: 6 });
  });
});

test('watched reading by reading it is steady, plunged, over, and the same as from all of them', () => {
  const readings = plunge({ way: firstOrder(4.2), hz: 4, stepC: 0.1 });
  const watching = startPlunge();
  const stages: string[] = [];
  for (const reading of readings) {
    watchPlunge(watching, reading);
    if (watching.stage !== stages.at(-1)) stages.push(watching.stage);
  }
  expect(stages.filter((stage, index) => stages.indexOf(stage) === index)).toEqual([
    'unsteady',
    'steady',
    'plunged',
    'over',
  ]);
  expect(lagOf(watching)).toEqual(lagFromPlunge(readings));
  expect(JSON.parse(JSON.stringify(watching))).toEqual(watching);
});

test('whatever is read, it never throws, and a lag that it states lies within the bounds that it states', () => {
  const stay = fc.record({
    readings: fc.integer({ min: 1, max: 60 }),
    levelC: fc.constantFrom(-20, 0, 21, 21.5, 30, 45, 85),
    lagS: fc.constantFrom(0.01, 1, 6, 30),
    spacingMs: fc.constantFrom(0, 100, 1000, 4000),
    noiseC: fc.constantFrom(0, 0.1, 3),
  });
  fc.assert(
    fc.property(fc.array(stay, { maxLength: 6 }), fc.integer(), (stays, seed) => {
      const luck = chance(seed);
      const readings: PlungeReading[] = [];
      let [atMs, tipC] = [0, 21];
      for (const { readings: count, levelC, lagS, spacingMs, noiseC } of stays) {
        for (let index = 0; index < count; index += 1) {
          atMs += spacingMs;
          tipC = levelC + (tipC - levelC) * Math.exp(-spacingMs / 1000 / lagS);
          readings.push({ atMs, valueC: tipC + noiseC * luck.normal() });
        }
      }
      const outcome = lagFromPlunge(readings);
      if (!outcome.ok) return;
      expect(outcome.lowS).toBeLessThanOrEqual(outcome.lagS);
      expect(outcome.highS).toBeGreaterThanOrEqual(outcome.lagS);
      expect(outcome.lagS).toBeGreaterThan(0);
    }),
    { numRuns: 400 },
  );
});
