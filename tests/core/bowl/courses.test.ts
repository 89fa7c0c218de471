/** The courses a bowl may be on. Rule numbers are those of DEVELOPERS.md. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { likelyCourses, startCourses, withValue } from '../../../server/core/bowl/courses.ts';
import type { Baths, Courses, Known, Likely } from '../../../server/core/bowl/courses.ts';
import { UNKNOWN_BATHS } from './watched.ts';

/** Of a calm, fine thermometer, °C²·s. */
const DENSITY = 0.01;
/** Hardly anything is known of the beginning. */
const known = (valueC: number): Known => ({ valueC, valueSdC: 1, rateCPerS: 0, rateSdCPerS: 0.1 });

function likelyOf(courses: Courses, baths: Baths = UNKNOWN_BATHS, density = DENSITY, melting = false): Likely[] {
  return likelyCourses(courses, 0, density, baths, melting, null);
}

/** A value each two seconds of an exact approach. */
function approached(fromC: number, levelC: number, tauS: number, seconds: number, density = DENSITY): Courses {
  let courses = startCourses(0, known(fromC), density);
  for (let s = 2; s <= seconds; s += 2) {
    courses = withValue(courses, s * 1000, levelC + (fromC - levelC) * Math.exp(-s / tauS), 0);
  }
  return courses;
}

function shareOf(likely: readonly Likely[], of: (one: Likely) => boolean): number {
  return likely.reduce((share, one) => share + (of(one) ? one.weight : 0), 0);
}

function meanLevelC(likely: readonly Likely[]): number {
  return likely.reduce((sum, { weight, levelC }) => sum + weight * levelC, 0);
}

function meanTempC(likely: readonly Likely[]): number {
  return likely.reduce((sum, { weight, tempC }) => sum + weight * tempC, 0);
}

const TAUS_S = [...new Set(likelyOf(startCourses(0, known(40), DENSITY)).map(({ tauS }) => tauS))];

describe('the courses of a bowl', () => {
  it.each(TAUS_S)('finds an exact approach by the time constant of %d s, and where it leads', (tauS) => {
    const levelC = tauS > 2200 ? 21 : 14;
    const density = 1e-5;
    const likely = likelyOf(approached(40, levelC, tauS, 600, density), UNKNOWN_BATHS, density);
    const likeliest = likely.toSorted((one, other) => other.weight - one.weight)[0]!;
    expect(likeliest.tauS).toBe(tauS);
    expect(Math.abs(likeliest.levelC - levelC)).toBeLessThan(0.05);
    expect(Math.abs(likeliest.tempC - (levelC + (40 - levelC) * Math.exp(-600 / tauS)))).toBeLessThan(0.01);
  });

  it('lets what is known of baths decide where readings cannot', () => {
    const unseen = likelyOf(startCourses(0, { ...known(30), rateSdCPerS: 10 }, DENSITY));
    for (const bath of unseen.filter(({ isBath }) => isBath)) {
      expect(Math.min(Math.abs(bath.levelC - 50), Math.abs(bath.levelC - 17))).toBeLessThan(1);
    }
    for (const air of unseen.filter(({ isBath }) => !isBath)) expect(Math.abs(air.levelC - 21)).toBeLessThan(1);
  });

  it('takes a value for what was read some seconds ago', () => {
    const valueC = (s: number): number => 15 + 30 * Math.exp(-s / 800);
    let late = startCourses(0, known(45), DENSITY);
    for (let s = 2; s <= 300; s += 2) late = withValue(late, s * 1000, valueC(s - 1), 1);
    expect(meanTempC(likelyOf(late))).toBeCloseTo(valueC(300), 2);
  });

  it('lets readings overrule it', () => {
    const off = 28;
    expect(Math.abs(meanLevelC(likelyOf(approached(45, off, 520, 60))) - off)).toBeGreaterThan(3);
    expect(Math.abs(meanLevelC(likelyOf(approached(45, off, 520, 900))) - off)).toBeLessThan(1);
  });

  it('tells heat from cold by the first half minute', () => {
    expect(shareOf(likelyOf(approached(30, 55, 600, 30)), ({ levelC }) => levelC > 30)).toBeGreaterThan(0.99);
    expect(shareOf(likelyOf(approached(30, 12, 600, 30)), ({ levelC }) => levelC < 30)).toBeGreaterThan(0.99);
  });

  it('takes a bath met before for likely to be met again', () => {
    const early = approached(45, 10, 520, 40);
    const bath = { levelC: 10, lnTau: Math.log(520), lnTauVar: 0.01, here: true };
    const off = (baths: Baths): number => Math.abs(meanLevelC(likelyOf(early, baths)) - 10);
    expect(off({ hot: null, cold: bath })).toBeLessThan(off(UNKNOWN_BATHS) / 2);
  });

  it('takes the time constant that was learned for likelier than any other, and the other kind of bath’s for as good', () => {
    const unseen = startCourses(0, known(45), DENSITY);
    const near = (baths: Baths): number =>
      shareOf(likelyOf(unseen, baths), ({ tauS, isBath }) => isBath && Math.abs(Math.log(tauS / 520)) < 0.3);
    const bath = { levelC: null, lnTau: Math.log(520), lnTauVar: 0.01, here: true };
    expect(near({ hot: null, cold: bath })).toBeGreaterThan(1.5 * near(UNKNOWN_BATHS));
    expect(near({ hot: bath, cold: null })).toBeGreaterThan(1.5 * near(UNKNOWN_BATHS));
  });

  it('takes a melting bowl to stand over heat', () => {
    const unseen = startCourses(0, known(30), DENSITY);
    const hot = (melting: boolean): number =>
      shareOf(likelyOf(unseen, UNKNOWN_BATHS, DENSITY, melting), ({ levelC }) => levelC > 40);
    expect(hot(true)).toBeGreaterThan(Math.max(0.9, hot(false)));
  });

  it('expects a bath that gets a bowl on the heat to where it is to go', () => {
    const early = approached(60, 95, 900, 20);
    const levelC = (towardsC: number | null): number =>
      meanLevelC(likelyCourses(early, 0, DENSITY, UNKNOWN_BATHS, true, towardsC));
    expect(levelC(80)).toBeGreaterThan(levelC(null) + 3);
  });

  it('[G1] takes the chocolate to be further on than the probe, by the lag', () => {
    const courses = approached(45, 15, 800, 300);
    const at = (lagS: number): Likely[] => likelyCourses(courses, lagS, DENSITY, UNKNOWN_BATHS, false, null);
    const behindC = meanTempC(at(0)) - meanTempC(at(8));
    // The probe lags by 8 s of the pace it has: 30 °C · e^(−300/800) / 800 s.
    expect(behindC).toBeCloseTo((8 * 30 * Math.exp(-300 / 800)) / 800, 1);
  });

  it('[G4] gives weights that add up to 1 and finite doubts, whatever is read and whatever the gaps', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 1, max: 3_600_000 }), fc.double({ min: -20, max: 120, noNaN: true })), {
          maxLength: 60,
        }),
        (values) => {
          let courses = startCourses(0, known(25), DENSITY);
          for (const [gapMs, valueC] of values) courses = withValue(courses, courses.atMs + gapMs, valueC, 0);
          const likely = likelyOf(courses);
          expect(shareOf(likely, () => true)).toBeCloseTo(1, 9);
          for (const { levelC, tempC, levelVar, tempVar } of likely) {
            expect([levelC, tempC, levelVar, tempVar].every(Number.isFinite)).toBe(true);
            expect(Math.min(levelVar, tempVar)).toBeGreaterThan(0);
          }
        },
      ),
      { seed: 20261126, numRuns: 200 },
    );
  });

  it.each([
    ['that stands still', 0.01, () => 31.5],
    ['on an exact approach', 0.01, (s: number) => 14 + 31 * Math.exp(-s / 700)],
    // No course goes to and fro: it is behind by then, but not lost.
    ['that goes to and fro', 1, (s: number) => 31 + 5 * Math.sin(s / 400)],
  ])('[G4] stays finite and as small over 24 hours of a bowl %s', (_, offC, valueC) => {
    const first = startCourses(0, known(valueC(0)), DENSITY);
    let courses = first;
    for (let s = 2; s <= 86_400; s += 2) courses = withValue(courses, s * 1000, valueC(s), 0);
    for (const key of ['time', 'z', 'zz', 'u', 'uu', 'uz'] as const) {
      expect(courses[key]).toHaveLength(first[key].length);
      // Sums that fade within minutes hold no more than minutes of values.
      for (const sum of courses[key]) expect(Math.abs(sum)).toBeLessThan(1e7);
    }
    const likely = likelyOf(courses);
    expect(shareOf(likely, () => true)).toBeCloseTo(1, 9);
    expect(Math.abs(meanTempC(likely) - valueC(86_400))).toBeLessThan(offC);
  });
});
