/** The bowl since somebody last changed something. Rule numbers are those of DEVELOPERS.md. */
import { describe, expect, it } from 'vitest';
import { expectChange, takeBath } from '../../../server/core/bowl/belief.ts';
import { levelC } from '../../../server/core/bowl/forecast.ts';
import { bowlOf, copyStretch, meltsOut, ownCourseS } from '../../../server/core/bowl/stretch.ts';
import { bathsOf } from '../../../server/core/learned.ts';
import { UNKNOWN_BATHS, Watched } from './watched.ts';

const SEEDS = Array.from({ length: 20 }, (_, index) => index + 1);

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Time constants of 300 to 1500 s and baths of 10 to 22 °C, spread evenly over seeds. */
function coldBath(seed: number): { tauS: number; bathC: number } {
  const tauS = 300 * Math.exp(((seed * 0.618) % 1) * Math.log(5));
  return { tauS, bathC: 10 + 12 * ((seed * 0.755) % 1) };
}

/** How far, as a share of what is really left, the arrival at 28 °C is off. */
function arrivalOff(bowl: Watched, levelAtC: number, tauS: number): number {
  const leftS = tauS * Math.log((bowl.tempC - levelAtC) / (28 - levelAtC));
  return Math.abs((bowl.arrivalAt(28)?.etaS ?? Infinity) - leftS) / leftS;
}

describe('a stretch', () => {
  it('goes on while nobody changes anything, and grows surer of the rate than the filter', () => {
    const old = SEEDS.map((seed) => new Watched(45, { seed }).drift(14, 700, 300)).filter(
      ({ atMs, belief }) => atMs - belief.stretch!.courses.sinceMs > 200_000,
    );
    // Noise passes for a change now and then; it must not often.
    expect(old.length).toBeGreaterThanOrEqual(0.8 * SEEDS.length);
    for (const { belief, bowl, tempC } of old) {
      expect(belief.stretch!.rateSdCPerS).toBeLessThan(Math.sqrt(belief.filter!.cov[4]) / 2);
      expect(Math.abs(bowl.rateCPerS / ((14 - tempC) / 700) - 1)).toBeLessThan(0.1);
    }
  });

  it.each([
    ['from cold to gentle heat', 14, 600, 40, 600],
    ['from cold to the table', 12, 500, 21, 3000],
    ['from cold to heat', 15, 700, 55, 500],
  ])(
    'ends with a change of what the bowl stands in, and the rate is right within a minute: %s',
    (_, fromC, fromS, toC, toS) => {
      const off: number[] = [];
      let ended = 0;
      for (const seed of SEEDS) {
        const bowl = new Watched(45, { seed }).drift(fromC, fromS, 240);
        const changedMs = bowl.atMs;
        bowl.drift(toC, toS, 60);
        if (bowl.belief.stretch!.courses.sinceMs > changedMs) ended += 1;
        off.push(Math.abs(bowl.bowl.rateCPerS - (toC - bowl.tempC) / toS) * 60);
      }
      // One that was young anyway need not.
      expect(ended).toBeGreaterThanOrEqual(0.9 * SEEDS.length);
      // °C/min, where the rate before was off by 2 and more.
      expect(mean(off)).toBeLessThan(0.4);
    },
  );

  it('believes a person who says so: the rate follows faster than without', () => {
    const off = (seed: number, says: boolean): number => {
      const bowl = new Watched(45, { seed }).drift(14, 600, 240);
      if (says) expectChange(bowl.belief);
      const each = Array.from({ length: 40 }, () => {
        bowl.drift(27, 900, 1);
        return Math.abs(bowl.bowl.rateCPerS - (27 - bowl.tempC) / 900) * 60;
      });
      return mean(each);
    };
    expect(mean(SEEDS.map((seed) => off(seed, true)))).toBeLessThan(0.8 * mean(SEEDS.map((seed) => off(seed, false))));
  });

  it('is not fooled by the heat that melting takes up: two minutes after 37 °C the level is as right as if there had been none', () => {
    // From 28 to 36 °C a third of the pace is left.
    const pace = (tempC: number): number => (tempC > 28 && tempC < 36 ? 0.35 : 1);
    const melted: number[] = [];
    const liquid: number[] = [];
    for (const [levelAtC, tauS] of [
      [55, 500],
      [60, 800],
      [50, 500],
    ] as const) {
      const off = ({ courses }: Watched): number => Math.abs(levelC(courses) - levelAtC);
      for (const seed of SEEDS) {
        const bowl = new Watched(22, { seed });
        while (bowl.tempC < 37) bowl.drift(levelAtC, tauS, 1, pace);
        melted.push(off(bowl.drift(levelAtC, tauS, 120, pace)));
        expect(bowl.belief.stretch!.molten).toBe(true);
        liquid.push(off(new Watched(37.2, { seed }).drift(levelAtC, tauS, 120)));
      }
    }
    expect(mean(melted)).toBeLessThan(mean(liquid) + 1);
  });

  it('finds the level of a usual bath within two minutes of melted chocolate', () => {
    const off = SEEDS.map((seed) => levelC(new Watched(37.2, { seed }).drift(55, 500, 120).courses) - 55);
    expect(Math.abs(mean(off))).toBeLessThan(2);
  });

  it('holds no memory of melting: it is young while crystals are left', () => {
    const bowl = new Watched(22).drift(50, 700, 300);
    expect(bowl.tempC).toBeGreaterThan(28);
    expect(bowl.tempC).toBeLessThan(37);
    expect(bowl.belief.stretch!.molten).toBe(false);
    expect(bowl.atMs - bowl.belief.stretch!.courses.sinceMs).toBeLessThan(5_000);
  });

  it('knows when the last crystals go: between 33 and 36 °C of a bowl that came cold', () => {
    const at = (fromC: number, toC: number): boolean => {
      const bowl = new Watched(fromC, { swingC: 0 });
      while (bowl.tempC < toC) bowl.drift(55, 700, 1);
      return meltsOut(bowl.belief.stretch!);
    };
    expect(at(22, 31)).toBe(false);
    expect(at(22, 34.5)).toBe(true);
    expect(at(22, 37)).toBe(false);
    expect(at(38, 39)).toBe(false);
  });

  it('knows early where a measured bath leads: arrivals are right from the second minute', () => {
    const off = (seed: number, measured: boolean): number => {
      const { tauS, bathC } = coldBath(seed);
      // What the open top takes in of a room of 21 °C.
      const levelAtC = bathC + 0.06 * (21 - bathC);
      const bowl = new Watched(45, { seed }).drift(levelAtC, tauS, 1);
      if (measured) takeBath(bowl.belief, bowl.atMs, bathC);
      return arrivalOff(bowl.drift(levelAtC, tauS, 100), levelAtC, tauS);
    };
    const known = SEEDS.map((seed) => off(seed, true));
    expect(mean(known)).toBeLessThan(0.12);
    expect(mean(known)).toBeLessThan(0.8 * mean(SEEDS.map((seed) => off(seed, false))));
  });

  it('keeps what is measured of the bath over a change', () => {
    const bowl = new Watched(45).drift(14, 600, 60);
    takeBath(bowl.belief, bowl.atMs, 13.5);
    expectChange(bowl.belief);
    expect(bowl.belief.stretch!.bath!.valueC).toBe(13.5);
  });

  it('makes early arrivals better by what earlier runs taught of the bowl', () => {
    const off = (seed: number, learned: boolean): number => {
      const { tauS, bathC } = coldBath(seed);
      const baths = learned ? bathsOf({ runs: 3, heatCourseS: null, coldCourseS: Math.round(tauS) }) : UNKNOWN_BATHS;
      return arrivalOff(new Watched(45, { seed, baths }).drift(bathC, tauS, 30), bathC, tauS);
    };
    const seeds = Array.from({ length: 60 }, (_, index) => index + 1);
    // Half a minute says little; no arrival, or one off by more, counts as off by twice of what is left.
    const meanOff = (learned: boolean): number => mean(seeds.map((seed) => Math.min(2, off(seed, learned))));
    expect(meanOff(true)).toBeLessThan(0.85 * meanOff(false));
  });

  it('learns bath and time constant within minutes, and keeps the latter for the next bath', () => {
    const bowl = new Watched(45, { seed: 2 }).drift(14, 520, 90);
    expect(ownCourseS(bowl.belief.stretch!)).toBeNull();
    bowl.drift(14, 520, 210);
    expect(Math.abs(bowl.belief.stretch!.baths.cold!.levelC! - 14)).toBeLessThan(3);
    expect(Math.abs(Math.log(ownCourseS(bowl.belief.stretch!)! / 520))).toBeLessThan(0.3);
    bowl.drift(50, 520, 240);
    const { hot, cold } = bowl.belief.stretch!.baths;
    expect(hot!.levelC).toBeGreaterThan(40);
    expect(cold!.levelC).toBeNull();
    expect(cold!.lnTau).toBeCloseTo(Math.log(520), 0);
  });

  it('takes filter and stretch together by their doubts: between the two, and no surer than the surer', () => {
    const { stretch, filter } = new Watched(45, { seed: 7 }).drift(14, 700, 200).belief;
    const { rateCPerS, rateSdCPerS, tempSdC } = bowlOf(stretch!, filter!, null);
    const [low, high] = [stretch!.rateCPerS, filter!.rateCPerS].toSorted((one, other) => one - other) as [
      number,
      number,
    ];
    expect(rateCPerS).toBeGreaterThanOrEqual(low);
    expect(rateCPerS).toBeLessThanOrEqual(high);
    expect(Math.abs(rateCPerS - stretch!.rateCPerS)).toBeLessThan(Math.abs(rateCPerS - filter!.rateCPerS));
    expect(rateSdCPerS).toBeGreaterThanOrEqual(Math.min(stretch!.rateSdCPerS, Math.sqrt(filter!.cov[4])));
    expect(tempSdC).toBeLessThanOrEqual(Math.sqrt(filter!.cov[0]));
  });

  it('is copied whole, and a copy is left alone by what is read later', () => {
    const bowl = new Watched(45).drift(14, 700, 101);
    const copy = copyStretch(bowl.belief.stretch!);
    expect(copy).toEqual(bowl.belief.stretch);
    const before = JSON.stringify(copy);
    bowl.drift(14, 700, 60);
    expect(JSON.stringify(copy)).toBe(before);
    expect(JSON.stringify(bowl.belief.stretch)).not.toBe(before);
  });
});
