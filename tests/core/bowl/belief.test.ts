/** Which readings are believed. Rule numbers are those of DEVELOPERS.md. */
import { describe, expect, it } from 'vitest';
import { estimateAt, situationAt } from '../../../server/core/engine.ts';
import { chance } from '../../../server/source/kitchen/chance.ts';
import { Bowl, seededBowl, shippedProfile, workingBowl } from '../../support/bowl.ts';
import { Watched } from './watched.ts';

const dark = shippedProfile('dark');

describe('belief in a reading', () => {
  it('[B1] drops a spike: marked suspect, no estimate moved, nothing said but the count', () => {
    const bowl = workingBowl();
    const before = bowl.state.belief.filter!.tempC;
    bowl.read(47.3).hold(3);
    expect(bowl.readings.filter((reading) => reading.quality === 'suspect')).toHaveLength(1);
    expect(bowl.state.belief.filter!.tempC).toBeCloseTo(before, 1);
    expect(bowl.alarms).toEqual([]);
  });

  it('[B2] greys a lifted probe within three seconds and makes no alarm of half a minute', () => {
    const bowl = workingBowl();
    const liftedMs = bowl.atMs;
    const cooling = (second: number): number => 21 + 10.5 * Math.exp(-second / 20);
    bowl.shows(30, cooling);
    const out = bowl.find('probe')[0]!;
    expect(out.state).toBe('out');
    expect(out.sinceMs - liftedMs).toBeLessThanOrEqual(3_000);
    bowl.hold(40);
    expect(bowl.find('probe').map((event) => event.state)).toEqual(['out', 'in']);
    expect(bowl.alarms).toEqual([]);
    expect(bowl.state.belief.filter!.tempC).toBeCloseTo(31.5, 1);
  });

  it('[B2] raises probe-lifted after a minute and clears it when the probe is back', () => {
    const bowl = workingBowl();
    bowl.shows(90, (second) => 21 + 10.5 * Math.exp(-second / 20)).hold(60);
    expect(bowl.alarms).toEqual(['probe-lifted']);
    expect(bowl.find('alarm-cleared').map((event) => event.alarm)).toEqual(['probe-lifted']);
  });

  it('[B2] shows what the tip shows while it is on its way back, not what it showed when it came back', () => {
    const bowl = workingBowl();
    bowl.shows(30, (second) => 21 + 10.5 * Math.exp(-second / 20));
    while (bowl.state.belief.doubt !== null) bowl.hold(1);
    bowl.hold(5);
    const { stretch, filter } = bowl.state.belief;
    expect(filter!.atMs).toBe(bowl.atMs);
    expect(stretch!.courses.atMs).toBe(bowl.atMs);
  });

  it('[B2] moves no phase while a slowly cooling probe hangs over the bowl for half a minute', () => {
    const bowl = new Bowl(dark, 36).start('cool').hold(5).ramp(30, 1.5);
    bowl.shows(35, (second) => 21 + 9 * Math.exp(-second / 40)).hold(60);
    expect(bowl.phases).toEqual(['cool']);
    expect(bowl.find('band-reached')).toEqual([]);
    expect(bowl.alarms).toEqual([]);
  });

  it('[B2] does not take a warm room for the bowl, whatever the coating', () => {
    for (const [id, workC, roomC] of [
      ['dark', 31.5, 25],
      ['milk', 30, 24],
      ['white', 28.5, 23],
    ] as const) {
      const bowl = new Bowl(shippedProfile(id), workC).start('work').hold(120);
      bowl.shows(80, (second) => roomC + (workC - roomC) * Math.exp(-second / 12)).hold(60);
      expect(bowl.alarms, id).toEqual(['probe-lifted']);
      expect(bowl.state.belief.filter!.tempC).toBeCloseTo(workC, 0);
    }
  });

  it('[B3] makes nothing of a warm-air gun on the tip', () => {
    const bowl = workingBowl();
    bowl.shows(15, (second) => 75 - 43.5 * Math.exp(-second / 12)).hold(60);
    expect(bowl.alarms).toEqual([]);
    expect(bowl.phases.at(-1)).toBe('work');
    expect(bowl.find('probe').map((event) => event.state)).toEqual(['out', 'in']);
  });

  it('[B3] believes heat that goes on: a fast climb is told as an overshoot', () => {
    const bowl = workingBowl().ramp(36, 12);
    bowl.hold(40);
    expect(bowl.alarms).toContain('overshoot');
  });

  it('[B4] takes a cold top-up for real: one degree in twenty seconds is followed, and so are two', () => {
    for (const dropC of [1, 2]) {
      const bowl = workingBowl()
        .ramp(31.5 - dropC, 60 * (dropC / 20))
        .hold(40);
      expect(Math.abs(bowl.state.belief.filter!.tempC - (31.5 - dropC))).toBeLessThan(0.2);
      expect(bowl.alarms.filter((alarm) => alarm !== 'below-working')).toEqual([]);
    }
  });

  it('[B5] rejects 85 as a power-on value when it comes first or by a jump, and not when it is passed through', () => {
    const first = new Bowl(dark, 24).read(85).read(24.1).read(24.2);
    expect(first.readings.map((reading) => reading.quality)).toEqual(['rejected', 'good', 'good']);
    const jump = workingBowl().read(85).hold(2);
    expect(jump.readings.at(-3)).toMatchObject({ quality: 'rejected', reason: 'power-on-value' });
    const syrup = new Bowl({ ...dark, phases: [{ id: 'boil', heading: 'up', bandC: [100, 104] }] }, 84).start('boil');
    syrup.ramp(86, 3).hold(20);
    expect(syrup.readings.filter((reading) => reading.quality === 'rejected')).toEqual([]);
  });

  it('[B6] rejects what lies outside the window of the profile, with a reason and a count', () => {
    const bowl = workingBowl().read(-127).read(400).read(1999);
    expect(bowl.readings.slice(-3).map((reading) => reading.reason)).toEqual([
      'sentinel',
      'implausible',
      'implausible',
    ]);
    expect(bowl.state.rejected).toMatchObject({ sentinel: 1, implausible: 2 });
    for (let i = 0; i < 120; i++) bowl.read(400);
    expect(
      bowl
        .find('rejected')
        .filter((event) => event.reason === 'implausible')
        .map((event) => event.count),
    ).toEqual([1, 10, 100]);
  });

  it('[B7] begins again after ten seconds of silence, wherever the bowl is by then', () => {
    const bowl = seededBowl().silence(120);
    bowl.tempC = 30;
    bowl.hold(20);
    expect(bowl.state.belief.filter!.tempC).toBeCloseTo(30, 0);
    expect(bowl.find('probe')).toEqual([]);
  });

  it('[B8] judges nothing by the first two readings', () => {
    const bowl = new Bowl(dark, 60).start('melt').read(60).read(60);
    expect(bowl.alarms).toEqual([]);
    expect(bowl.read(60).read(60).alarms).toEqual(['scorch']);
  });

  it('[B9] knows a probe in the air by its rate, once the bowl’s own time constant is known', () => {
    // −6 °C/min at 40 °C: a small bowl on ice can, one with a time constant of 1500 s cannot.
    const own = { hot: null, cold: { levelC: null, lnTau: Math.log(1500), lnTauVar: 0.1, here: true } };
    const outs = [undefined, own].map((baths) => {
      const bowl = new Watched(40, { swingC: 0.05, ...(baths && { baths }) }).drift(36, 1500, 60).drift(-20, 600, 25);
      return bowl.verdicts.some((verdict) => verdict?.reason === 'not-the-bowl');
    });
    expect(outs).toEqual([false, true]);
  });
});

describe('a value that is stuck', () => {
  const cooling = (second: number): number => 15 + 30 * Math.exp(-second / 900);

  function stirred(): Bowl {
    const luck = chance(4);
    return new Bowl(dark, 45).start('cool').shows(200, (s) => cooling(s) + 0.12 * luck.normal(), cooling);
  }

  it('is refused within a quarter of a minute: told, stale, and without effect on the estimate', () => {
    const bowl = stirred();
    const stuckC = bowl.readings.at(-1)!.valueC;
    bowl.shows(
      40,
      () => stuckC,
      (s) => cooling(200 + s),
    );
    const refused = bowl.readings.filter(({ reason }) => reason === 'stuck');
    expect(refused.length).toBeGreaterThanOrEqual(25);
    expect(refused.every(({ quality }) => quality === 'suspect')).toBe(true);
    expect(bowl.find('rejected').map(({ reason, count }) => [reason, count])).toEqual([
      ['stuck', 1],
      ['stuck', 10],
    ]);
    expect(situationAt(bowl.state, bowl.atMs).stale).toBe(true);
    // It goes on to cool, as the bowl does, less a few seconds that were believed.
    expect(Math.abs(estimateAt(bowl.state, bowl.atMs)!.tempC - bowl.tempC)).toBeLessThan(0.5);
    expect(stuckC - bowl.tempC).toBeGreaterThan(1);
  });

  it('leaves no estimate after a minute, and is over with the first other value', () => {
    const bowl = stirred();
    const stuckC = bowl.readings.at(-1)!.valueC;
    bowl.shows(
      90,
      () => stuckC,
      (s) => cooling(200 + s),
    );
    expect(estimateAt(bowl.state, bowl.atMs)).toBeNull();
    const luck = chance(5);
    bowl.shows(
      40,
      (s) => cooling(290 + s) + 0.12 * luck.normal(),
      (s) => cooling(290 + s),
    );
    expect(bowl.readings.slice(-30).every(({ quality }) => quality === 'good')).toBe(true);
    expect(situationAt(bowl.state, bowl.atMs).stale).toBe(false);
    expect(Math.abs(estimateAt(bowl.state, bowl.atMs)!.tempC - bowl.tempC)).toBeLessThan(0.2);
    expect(bowl.phases).toEqual(['cool']);
  });

  it('is none where the thermometer never showed any stirring, or moves in steps that hide it', () => {
    const still = workingBowl().hold(900);
    expect(still.readings.every(({ quality }) => quality === 'good')).toBe(true);
    const luck = chance(6);
    const coarse = new Bowl(dark, 31.5).start('work');
    coarse.shows(300, () => Math.round((31.5 + 0.06 * luck.normal()) * 10) / 10).shows(120, () => 31.5);
    expect(coarse.readings.every(({ quality }) => quality === 'good')).toBe(true);
  });
});

describe('what a person or a second channel says of the bowl', () => {
  it.each([
    'off-heat',
    'on-heat',
    'off-cold',
    'on-cold',
    'topped-up-tempered',
    'topped-up-untempered',
    'seed-added',
  ] as const)('makes the bowl’s course begin anew: %s', (act) => {
    const bowl = new Bowl(dark, 45).start('cool').drift(14, 700, 120);
    expect(bowl.state.belief.stretch!.courses.sinceMs).toBeLessThan(bowl.atMs - 60_000);
    bowl.do({ name: 'act', act });
    expect(bowl.state.belief.stretch!.courses.sinceMs).toBe(bowl.atMs);
  });

  it.each(['stirred', 'strip-test-good', 'dipping-started'] as const)(
    'is no matter where nothing was changed: %s',
    (act) => {
      const bowl = new Bowl(dark, 45).start('cool').drift(14, 700, 120);
      const { sinceMs } = bowl.state.belief.stretch!.courses;
      bowl.do({ name: 'act', act });
      expect(bowl.state.belief.stretch!.courses.sinceMs).toBe(sinceMs);
    },
  );

  it('[R8] takes a bath channel for the bath, and a nonsense one for nothing', () => {
    const bowl = new Bowl(dark, 45).start('cool').drift(14, 700, 20);
    bowl.line('bath: 13.5; choc: 44.1').line('bath: 300; choc: 44.0');
    expect(bowl.state.belief.stretch!.bath!.valueC).toBe(13.5);
    expect(bowl.state.rejected).toMatchObject({ implausible: 1 });
  });
});
