/**
 * What the core and the simulated bowl write out by hand, against the same written as matrices with a general-purpose linear algebra
 * library: eigenvalues for the matrix exponential, products for the filter, a solver for the fit.
 */
import { EigenvalueDecomposition, Matrix, determinant, inverse, solve } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import { likelyCourses, startCourses, withValue } from '../../server/core/bowl/courses.ts';
import type { Courses, Likely } from '../../server/core/bowl/courses.ts';
import { carry, copyFilter, correct, startFilter, type Filter } from '../../server/core/bowl/filter.ts';
import { chance } from '../../server/source/kitchen/chance.ts';
import { filled, later, STOCK_MELTING, type Bowl } from '../../server/source/kitchen/bowl.ts';

describe('the simulated bowl against a matrix exponential', () => {
  /** exp(A·t) by eigenvalues; two lumps that exchange heat have real ones. */
  function exponential(a: Matrix, t: number): Matrix {
    const { eigenvectorMatrix: vectors, realEigenvalues } = new EigenvalueDecomposition(a);
    return vectors.mmul(Matrix.diag(realEigenvalues.map((value) => Math.exp(value * t)))).mmul(inverse(vectors));
  }

  /** Wall and chocolate after `seconds`, °C: x' = A·x + b, with x = steady + exp(A·t)·(x0 − steady). */
  function exact(bowl: Bowl, chocolateJPerK: number, bathC: number, roomC: number, startC: number, seconds: number) {
    const { wallJPerK, bathWPerK, innerWPerK, topWPerK } = bowl;
    const a = new Matrix([
      [-(bathWPerK + innerWPerK) / wallJPerK, innerWPerK / wallJPerK],
      [innerWPerK / chocolateJPerK, -(innerWPerK + topWPerK) / chocolateJPerK],
    ]);
    const b = Matrix.columnVector([(bathWPerK * bathC) / wallJPerK, (topWPerK * roomC) / chocolateJPerK]);
    const steady = solve(a, b).mul(-1);
    const away = Matrix.sub(Matrix.columnVector([startC, startC]), steady);
    return Matrix.add(steady, exponential(a, seconds).mmul(away)).to1DArray();
  }

  /** Heat capacities and paths as bowls of 0.3 to 5 kg have them, drawn by chance, J/K and W/K. */
  const bowls = Array.from({ length: 12 }, (_, seed): { bowl: Bowl; kg: number; bathC: number; startC: number } => {
    const luck = chance(seed + 1);
    const innerWPerK = luck.logBetween(0.8, 12);
    return {
      kg: luck.logBetween(0.3, 5),
      bathC: luck.between(8, 65),
      startC: luck.between(20, 45),
      bowl: {
        wallJPerK: luck.logBetween(100, 1200),
        bathWPerK: luck.logBetween(2, 30),
        innerWPerK,
        airWPerK: 1,
        topWPerK: luck.between(0, 0.6),
      },
    };
  });
  bowls.push({
    // The two nodes of the domain notes: eigen time constants 19.07 and 599.7 s.
    kg: 1,
    bathC: 40,
    startC: 20,
    bowl: { wallJPerK: 250, bathWPerK: 10, innerWPerK: 3, airWPerK: 1, topWPerK: 0.5 },
  });

  test.each(bowls)(
    'bath $bathC °C, $kg kg from $startC °C: wall and chocolate to 1e-5 °C for an hour',
    ({ bowl, kg, bathC, startC }) => {
      const melted = filled(bowl, { kg, tempC: startC, solid: false }, 20, { ...STOCK_MELTING, latentJPerKg: 0 });
      const around = { kind: 'hot-bath', tempC: bathC, settlesAtC: bathC, settleS: Infinity } as const;
      for (const seconds of [30, 300, 900, 3600]) {
        const { wallC, chocolateC } = later({ ...melted, around }, seconds);
        const [wall, chocolate] = exact(bowl, melted.chocolateJPerK, bathC, 20, startC, seconds) as [number, number];
        expect(Math.abs(wallC - wall)).toBeLessThan(1e-5);
        expect(Math.abs(chocolateC - chocolate)).toBeLessThan(1e-5);
      }
    },
  );
});

describe('the filter against the equations of a Kalman filter', () => {
  function stateOf({ tempC, rateCPerS, stirC, probeC }: Filter): Matrix {
    return Matrix.columnVector([tempC, rateCPerS, stirC, probeC]);
  }

  function covarianceOf({ cov: [tt, tr, tn, tp, rr, rn, rp, nn, np, pp] }: Filter): Matrix {
    return new Matrix([
      [tt, tr, tn, tp],
      [tr, rr, rn, rp],
      [tn, rn, nn, np],
      [tp, rp, np, pp],
    ]);
  }

  function expectSame(filter: Filter, x: Matrix, p: Matrix): void {
    expect(Matrix.sub(stateOf(filter), x).norm()).toBeLessThan(1e-10);
    expect(Matrix.sub(covarianceOf(filter), p).norm()).toBeLessThan(1e-12);
  }

  /** F of a step no longer than a second, from the equations in the filter's own description, T' = r, r' = −r/course, n' = −n/swirl, P' = (T − P)/lag. */
  function transition({ lagS, swirlS, courseS }: Filter, dtS: number): Matrix {
    const follow = Math.exp(-dtS / lagS);
    return new Matrix([
      [1, dtS, 0, 0],
      [0, 1 - dtS / courseS, 0, 0],
      [0, 0, Math.exp(-dtS / swirlS), 0],
      [1 - follow, dtS - lagS * (1 - follow), 0, follow],
    ]);
  }

  /** Q: white noise of the rate with density `drift`, a swing of a known size, and a trace of doubt about the probe. */
  function noise({ swirlS, swingC }: Filter, dtS: number, drift: number): Matrix {
    const kept = Math.exp(-dtS / swirlS);
    return new Matrix([
      [(drift * dtS ** 3) / 3, (drift * dtS ** 2) / 2, 0, 0],
      [(drift * dtS ** 2) / 2, drift * dtS, 0, 0],
      [0, 0, swingC ** 2 * (1 - kept ** 2), 0],
      [0, 0, 0, 1e-7 * dtS],
    ]);
  }

  test('x = F·x, P = F·P·Fᵀ + Q; K = P·Hᵀ/(H·P·Hᵀ + R), x = x + K·(z − H·x), P = (1 − K·H)·P: reading by reading for ten minutes', () => {
    const luck = chance(5);
    const h = new Matrix([[0, 0, 1, 1]]);
    const filter = startFilter(0, 31, 4);
    let largest = 0;
    for (let reading = 1; reading <= 900; reading += 1) {
      const dtS = luck.pick([0.25, 0.5, 0.8, 1]);
      const before = copyFilter(filter);
      carry(filter, before.atMs + dtS * 1000);
      const f = transition(before, dtS);
      // What drives the rate is not written down outside; it is read off its own variance, and must then explain every other entry.
      const carried = f.mmul(covarianceOf(before)).mmul(f.transpose());
      const drift = (filter.cov[4] - carried.get(1, 1)) / dtS;
      expect(drift).toBeGreaterThan(0);
      const predicted = Matrix.add(carried, noise(before, dtS, drift));
      const x = f.mmul(stateOf(before));
      expectSame(filter, x, predicted);

      const valueC = 31 + 3 * Math.sin(filter.atMs / 90_000) + 0.08 * luck.normal();
      const r = filter.errorC ** 2;
      correct(filter, valueC, dtS);
      const innovation = h.mmul(predicted).mmul(h.transpose()).get(0, 0) + r;
      const gain = predicted.mmul(h.transpose()).div(innovation);
      const missC = valueC - h.mmul(x).get(0, 0);
      const corrected = Matrix.sub(Matrix.eye(4), gain.mmul(h)).mmul(predicted);
      expectSame(filter, Matrix.add(x, Matrix.mul(gain, missC)), corrected);
      largest = Math.max(largest, Math.abs(missC));
    }
    // It had something to do.
    expect(largest).toBeGreaterThan(0.2);
  });
});

describe('the courses against a weighted least-squares solver', () => {
  const FROM_C = 38;
  const DENSITY = 0.04;
  const LAG_S = 4;
  /** A value is the mean of readings, and stands for the moment in their middle. */
  const AGO_S = 0.6;
  const BEFORE = { valueC: FROM_C, valueSdC: 0.3, rateCPerS: -0.03, rateSdCPerS: 0.01 };
  /** What is known of baths and air before anything is read, in this order for each time constant: share, level, °C, and its spread. */
  const HOT = { share: 0.45, levelC: 50, sdC: 9 };
  const COLD = { share: 0.35, levelC: 17, sdC: 4 };
  const AIR = { share: 0.2, levelC: 21, sdC: 2 };
  const NO_BATHS = { hot: null, cold: null };

  interface Value {
    readonly atS: number;
    readonly valueC: number;
  }

  function likelyOf(values: readonly Value[]): Likely[] {
    const begun = startCourses(0, BEFORE, DENSITY);
    const taken = values.reduce<Courses>(
      (courses, { atS, valueC }) => withValue(courses, atS * 1000, valueC, AGO_S),
      begun,
    );
    return likelyCourses(taken, LAG_S, DENSITY, NO_BATHS, false, null);
  }

  /** How a value fades: half of the stretch's age is remembered, from 25 to 400 s, and no longer than the time constant over 2.2. */
  function faded(dtS: number, ageS: number, tauS: number): number {
    return Math.exp(-dtS / Math.min(Math.max(25, Math.min(400, ageS / 2)), tauS / 2.2));
  }

  /** One row [1, e^(ago/τ)] for each value and for what was known at first, one for the rate known at first, one for the prior of the level. */
  function solved(values: readonly Value[], tauS: number, prior: typeof HOT) {
    let first = 1;
    const shares: number[] = [];
    const lastS = values.at(-1)!.atS;
    for (const [index, { atS }] of values.entries()) {
      const dtS = atS - (values[index - 1]?.atS ?? 0);
      const fade = faded(dtS, atS, tauS);
      first *= fade;
      for (const [older, share] of shares.entries()) shares[older] = share * fade;
      // A value stands for the time since the one before, five seconds at most.
      shares.push(Math.min(5, dtS));
    }
    const grown = Math.exp(lastS / tauS);
    const rows = [
      ...values.map(({ atS, valueC }, index) => ({
        row: [1, Math.exp((lastS - atS) / tauS) * (1 + AGO_S / tauS)],
        is: valueC,
        sure: shares[index]! / DENSITY,
      })),
      { row: [1, grown], is: BEFORE.valueC, sure: first / BEFORE.valueSdC ** 2 },
      { row: [0, -grown / tauS], is: BEFORE.rateCPerS, sure: first / BEFORE.rateSdCPerS ** 2 },
      { row: [1, 0], is: prior.levelC, sure: 1 / prior.sdC ** 2 },
    ];
    const root = Matrix.diag(rows.map(({ sure }) => Math.sqrt(sure)));
    const design = root.mmul(new Matrix(rows.map(({ row }) => row)));
    const seen = root.mmul(Matrix.columnVector(rows.map(({ is }) => is)));
    const fit = solve(design, seen, true);
    const information = design.transpose().mmul(design);
    const misses = Matrix.sub(seen, design.mmul(fit)).to1DArray();
    const own = misses.at(-1)! ** 2;
    const time = shares.reduce((sum, share) => sum + share, (first * DENSITY) / BEFORE.valueSdC ** 2);
    return {
      fit,
      doubt: inverse(information),
      own,
      misfit: misses.slice(0, -1).reduce((sum, miss) => sum + miss * miss, 0),
      time,
      logDet: Math.log(determinant(information)),
    };
  }

  const luck = chance(11);
  const values: Value[] = [];
  for (let atS = 0; atS < 500;) {
    atS += luck.pick([0.5, 2, 2, 3, 7]);
    values.push({ atS, valueC: 14 + 24 * Math.exp(-atS / 640) + 0.05 * luck.normal() });
  }
  const likely = likelyOf(values);
  /** Every course that is asked for: before anything is read none is as good as impossible. */
  const asked = likelyOf([]).map(({ tauS, isBath }, index) => ({
    tauS,
    prior: !isBath ? AIR : index % 2 === 0 ? HOT : COLD,
  }));
  const found = asked.map(({ tauS, prior }) => {
    const levelC = solved(values, tauS, prior).fit.get(0, 0);
    return likely.find((one) => one.tauS === tauS && Math.abs(one.levelC - levelC) < 1e-7);
  });
  const fitted = asked.flatMap(({ prior }, index) =>
    found[index] === undefined ? [] : { course: found[index], prior },
  );

  test.each(fitted)(
    'level and temperature by the time constant $course.tauS s from $prior.levelC °C, and their doubts, are those of the solver',
    ({ course, prior }) => {
      const { fit, doubt } = solved(values, course.tauS, prior);
      // The probe is late by its lag: the chocolate has that much less of the way left.
      const towards = new Matrix([
        [1, 0],
        [1, 1 - LAG_S / course.tauS],
      ]);
      const [levelC, tempC] = towards.mmul(fit).to1DArray() as [number, number];
      const both = towards.mmul(doubt).mmul(towards.transpose());
      expect(Math.abs(course.levelC - levelC)).toBeLessThan(1e-7);
      expect(Math.abs(course.tempC - tempC)).toBeLessThan(1e-7);
      expect(Math.abs(course.levelVar / both.get(0, 0) - 1)).toBeLessThan(1e-6);
      expect(Math.abs(course.bothVar - both.get(0, 1))).toBeLessThan(1e-6 * Math.sqrt(both.get(0, 0) * both.get(1, 1)));
      expect(Math.abs(course.tempVar / both.get(1, 1) - 1)).toBeLessThan(1e-6);
    },
  );

  test('their weights are those of the evidence: prior share, misfit, distance from the prior, and how sharp the fit is', () => {
    expect(fitted).toHaveLength(likely.length);
    const timed = solved(values, asked[0]!.tauS, HOT).time;
    const logs = asked.map(({ tauS, prior }) => {
      const { misfit, own, time, logDet } = solved(values, tauS, prior);
      const among = asked.filter((one) => (one.prior === AIR) === (prior === AIR)).length / (prior === AIR ? 1 : 2);
      return Math.log(prior.share / among / prior.sdC) - 0.5 * ((misfit * timed) / time + own) - 0.5 * logDet;
    });
    const highest = Math.max(...logs);
    const sum = logs.reduce((all, log) => all + Math.exp(log - highest), 0);
    for (const [index, log] of logs.entries()) {
      const weight = Math.exp(log - highest) / sum;
      // What is left out is as good as impossible.
      expect(Math.abs((found[index]?.weight ?? 0) - weight)).toBeLessThan(found[index] === undefined ? 1e-8 : 1e-6);
    }
    // More than one course had something to say.
    expect(likely.filter(({ weight }) => weight > 0.01).length).toBeGreaterThan(1);
  });
});
