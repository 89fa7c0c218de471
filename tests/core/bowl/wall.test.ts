/** What the wall of a bowl still gives after a bath, and what a leaving teaches of it. */
import { describe, expect, it } from 'vitest';
import { coastedC, followWall, forgetMinutes, lossCPerS, unseenWall } from '../../../server/core/bowl/wall.ts';
import type { Wall } from '../../../server/core/bowl/wall.ts';
import { chance } from '../../../server/source/kitchen/chance.ts';

/** White noise of a value every two seconds, °C r.m.s., and its density, °C²·s. */
const NOISE_C = 0.06;
const DENSITY = NOISE_C ** 2 * 2;
const COURSE_S = 600;

/** Goes on with the wall over values every two seconds of a course, °C by seconds. */
function seen(wall: Wall, atS: (second: number) => number, fromS: number, toS: number, seed = 1): Wall {
  const luck = chance(seed);
  let now = wall;
  for (let second = fromS; second < toS; second += 2) {
    now = followWall(now, second * 1000, atS(second) + NOISE_C * luck.normal(), DENSITY, COURSE_S);
  }
  return now;
}

/** Five minutes towards a bath, then left: by the stated course with the room's loss of the moment of leaving. */
function left(wallS: number, startC: number, bathC: number): (second: number) => number {
  const bathed = (second: number): number => bathC + (startC - bathC) * Math.exp(-second / COURSE_S);
  const leftC = bathed(300);
  const rateCPerS = (bathC - leftC) / COURSE_S;
  return (second) => (second <= 300 ? bathed(second) : leftC + coastedC(leftC, rateCPerS, wallS, second - 300));
}

function learnt(wallS: number, seed: number): Wall {
  const heats = seed % 2 === 0;
  return seen(unseenWall(null), left(wallS, heats ? 28 : 40, heats ? 48 : 12), 0, 560, seed);
}

describe('the wall', () => {
  it('[G7] gives r·τ in the end, and half of it by τ·ln 2, where the room takes nothing', () => {
    expect(lossCPerS(21)).toBe(0);
    expect(coastedC(21, 0.02, 60, 1e5)).toBeCloseTo(1.2, 9);
    expect(coastedC(21, 0.02, 60, 60 * Math.LN2)).toBeCloseTo(0.6, 9);
    expect(coastedC(21, -0.02, 60, 1e5)).toBeCloseTo(-1.2, 9);
  });

  it('[G7] cools in the end as the room draws it, 10 °C over it by 10 °C in 55 min at first', () => {
    expect(coastedC(31, 0.02, 60, 1000) - coastedC(31, 0.02, 60, 940)).toBeCloseTo((-10 / 3300) * 60, 3);
  });
});

describe('a leaving', () => {
  it.each([25, 60, 120])('[G7] teaches the time constant of %d s, with a doubt that holds', (wallS) => {
    const walls = Array.from({ length: 20 }, (_, seed) => learnt(wallS, seed));
    const offs = walls.filter(({ here }) => here).map(({ ln }) => ln - Math.log(wallS));
    expect(offs.length).toBeGreaterThanOrEqual(16);
    const unseen = unseenWall(null);
    const blind = Math.abs(unseen.ln - Math.log(wallS));
    const meanOff = Math.sqrt(offs.reduce((sum, off) => sum + off * off, 0) / offs.length);
    expect(meanOff).toBeLessThan(Math.max(0.35, blind / 2));
    const held = walls.filter(({ ln, lnVar }) => (ln - Math.log(wallS)) ** 2 <= 4 * lnVar);
    expect(held.length).toBeGreaterThanOrEqual(17);
    expect(Math.max(...walls.filter(({ here }) => here).map(({ lnVar }) => lnVar))).toBeLessThan(unseen.lnVar);
  });

  it('[G7] that goes on as slowly as a bath is told from none by few, and misleads hardly any', () => {
    const walls = Array.from({ length: 20 }, (_, seed) => learnt(220, seed));
    const held = walls.filter(({ ln, lnVar }) => (ln - Math.log(220)) ** 2 <= 6.25 * lnVar);
    expect(held.length).toBeGreaterThanOrEqual(17);
  });

  it('[G7] is what a next one adds to, with another way of stirring allowed for', () => {
    const once = learnt(60, 2);
    const again = seen(forgetMinutes(once), left(60, 28, 48), 0, 560, 4);
    expect(again.lnVar).toBeLessThanOrEqual(once.lnVar);
    expect(Math.abs(again.ln - Math.log(60))).toBeLessThan(0.3);
  });

  it('[G10] of an earlier run is known from the start, as no lesson of this one', () => {
    const wall = unseenWall(140);
    expect(Math.exp(wall.ln)).toBeCloseTo(140, 9);
    expect(wall.here).toBe(false);
    expect(wall.lnVar).toBeLessThan(unseenWall(null).lnVar / 4);
  });
});

describe('what is no leaving', () => {
  const steady = (second: number): number => 48 - 20 * Math.exp(-second / COURSE_S);
  const turned = (second: number): number => 26 + Math.abs(second - 300) / 60;
  const pulse = (second: number): number => 30 + (second < 200 ? 0 : coastedC(30, 0.012, 60, second - 200));

  it.each([
    ['one and the same bath', steady],
    ['from the cold to the heat', turned],
    ['warmed for seconds', pulse],
  ])('teaches nothing: %s', (_, course) => {
    for (let seed = 0; seed < 10; seed++) {
      const wall = seen(unseenWall(null), course, 0, 560, seed);
      expect(wall.here).toBe(false);
      expect(wall.ln).toBe(unseenWall(null).ln);
    }
  });

  it('a pause of half a minute in the minutes that would show it', () => {
    const course = left(60, 28, 48);
    const before = seen(unseenWall(null), course, 0, 322);
    expect(before.valuesC.length).toBeGreaterThan(30);
    const after = seen(before, course, 353, 560, 2);
    expect(after.here).toBe(false);
  });

  it('leaves the wall as it was, plain data that is replaced', () => {
    const wall = Object.freeze({ ...unseenWall(null), atMs: Object.freeze([]), valuesC: Object.freeze([]) });
    expect(JSON.parse(JSON.stringify(seen(wall, steady, 0, 60)))).toEqual(seen(wall, steady, 0, 60));
    expect(wall.valuesC).toEqual([]);
  });
});
