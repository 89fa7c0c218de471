/** The alarms the estimate raises. Rule numbers are those of DEVELOPERS.md. */
import { describe, expect, it } from 'vitest';
import type { Profile } from '../../../server/core/record/profile.ts';
import { Bowl, seededBowl, shippedProfile, workingBowl } from '../../support/bowl.ts';

const dark = shippedProfile('dark');

describe('alarms on the estimate', () => {
  it('[A1] tells an overshoot above the working ceiling within seconds and clears it inside the dead band', () => {
    const bowl = workingBowl().ramp(32.8, 1.2).hold(30);
    const raised = bowl.find('alarm-raised').find((event) => event.alarm === 'overshoot')!;
    expect(raised).toMatchObject({ severity: 'warning', phase: 'work', limitC: 32.5 });
    expect(raised.valueC).toBeGreaterThan(32.37);
    expect(raised.valueC).toBeLessThan(32.8);
    bowl.ramp(32.4, 1).hold(60);
    expect(bowl.find('alarm-cleared').filter((event) => event.alarm === 'overshoot')).toEqual([]);
    bowl.ramp(32.2, 1).hold(30);
    const cleared = bowl.find('alarm-cleared').find((event) => event.alarm === 'overshoot')!;
    expect(cleared.extremeC).toBeGreaterThan(32.7);
    expect(cleared.lastedMs).toBe(cleared.atMs - raised.atMs);
  });

  it('[A1] calls the ceiling before the first cooling phase scorch, and critical', () => {
    const bowl = new Bowl(dark, 48).start('melt').hold(5).ramp(52.6, 2).hold(5);
    expect(bowl.find('alarm-raised').find((event) => event.alarm === 'scorch')).toMatchObject({
      severity: 'critical',
      limitC: 52,
    });
    expect(bowl.alarms).not.toContain('overshoot');
  });

  it('[A1] tells a slow drift over the ceiling', () => {
    const bowl = workingBowl().ramp(32.75, 0.08);
    expect(bowl.alarms).toContain('overshoot');
  });

  it('[A2] calls the floor of the cooling phase undershoot and that of the working phase below-working', () => {
    const cooled = new Bowl(dark, 30).start('cool').hold(5).ramp(25.6, 1).hold(20);
    expect(cooled.alarms).toContain('undershoot');
    const worked = workingBowl().ramp(30.2, 0.5).hold(30);
    expect(worked.find('alarm-raised').find((event) => event.alarm === 'below-working')).toMatchObject({
      severity: 'notice',
      limitC: 30.5,
    });
    expect(worked.alarms).not.toContain('undershoot');
  });

  it('[A3] says that temper is lost by the profile’s limit, enters the recovery phase, and can be walked to temper again', () => {
    const bowl = workingBowl().ramp(34.4, 1.5).hold(60);
    expect(bowl.alarms).toContain('temper-lost');
    expect(bowl.find('phase-entered').at(-1)).toMatchObject({ phase: 'cool', from: 'work', by: 'recovery' });
    expect(bowl.find('standing').at(-1)).toMatchObject({ standing: 'lost', why: 'above-lost' });
    bowl.ramp(28, 1.5).ramp(27.5, 0.3).hold(200).ramp(31.3, 1).hold(30);
    expect(bowl.phases.slice(-3)).toEqual(['cool', 'rewarm', 'work']);
    expect(bowl.find('standing').at(-1)).toMatchObject({ standing: 'in-temper', why: 'made-again' });
  });

  it('[A3] keeps the working ceiling told while temper is lost, and asks for no strip test before it is made again', () => {
    const bowl = workingBowl().ramp(34.4, 1.5).hold(120);
    expect(bowl.said.slice(bowl.said.indexOf('temper-lost!'))).not.toContain('overshoot.');
    const before = bowl.said.length;
    bowl.ramp(30, 2);
    expect(bowl.said.slice(before)).toContain('overshoot.');
    expect(bowl.said.slice(before)).not.toContain('?strip-test');
  });

  it('[A3] takes the limit of another phase only once the chocolate has been under it since it was seeded', () => {
    const twice: Profile = {
      ...dark,
      id: 'twice',
      onLost: 'melt',
      phases: [
        { id: 'melt', heading: 'up', bandC: [45, 50] },
        { id: 'first', heading: 'down', bandC: [33, 35] },
        { id: 'second', heading: 'down', bandC: [27, 28] },
        { id: 'work', heading: 'hold', bandC: [31, 32], lostAboveC: 34 },
      ],
    };
    const bowl = new Bowl(twice, 40).start('first').ramp(34.8, 2).hold(60);
    expect(bowl.phases).toEqual(['first', 'second']);
    expect(bowl.alarms).toEqual([]);
    bowl.ramp(33, 1).ramp(34.5, 1).hold(30);
    expect(bowl.alarms).toContain('temper-lost');
  });

  it('[A3] does not speak of lost temper before any has been made', () => {
    const bowl = new Bowl(dark, 30).start('melt').ramp(46, 2).hold(130).ramp(40, 2);
    expect(bowl.alarms).not.toContain('temper-lost');
  });

  it('[A3] never says lost while the chocolate stays 0.3 °C under the limit', () => {
    const bowl = workingBowl().ramp(33.7, 0.8).hold(600);
    expect(bowl.alarms).not.toContain('temper-lost');
    expect(bowl.find('standing').at(-1)!.standing).toBe('at-risk');
  });

  it('[A4] tells of a bowl warmed before it reached the seeding band, and of a dwell cut short', () => {
    const early = new Bowl(dark, 40).start('cool').hold(5).ramp(28.7, 1.5).hold(30).ramp(30, 1);
    const told = early.find('alarm-raised').find((event) => event.alarm === 'not-cooled-enough')!;
    expect(told.limitC).toBe(28);
    expect(told.valueC).toBeCloseTo(28.7, 0);
    const short = new Bowl(dark, 40).start('cool').hold(5).ramp(27.7, 1.5).hold(30).ramp(29.5, 1);
    expect(short.alarms).toContain('not-cooled-enough');
    const patient = seededBowl().ramp(31, 1);
    expect(patient.alarms).not.toContain('not-cooled-enough');
  });

  it('[A4] does not say so of a dwell that may have been over while nobody saw the bowl, and still does of one that was not', () => {
    const cooled = (): Bowl => new Bowl(dark, 40).start('cool').hold(5).ramp(27.7, 1.5).hold(30).silence(60);
    const perhaps = cooled().hold(90).ramp(30, 1);
    expect(perhaps.phases).toEqual(['cool']);
    expect(perhaps.alarms).not.toContain('not-cooled-enough');
    expect(perhaps.state.watch.seeded).toBe(false);
    const surelyNot = cooled().hold(10).ramp(30, 1);
    expect(surelyNot.alarms).toContain('not-cooled-enough');
  });

  it('[A4] does not take a warm top-up that the person noted for rewarming', () => {
    const bowl = new Bowl(dark, 40)
      .start('cool')
      .hold(5)
      .ramp(29, 1.5)
      .do({ name: 'act', act: 'topped-up-untempered' });
    bowl.ramp(30, 4).hold(30);
    expect(bowl.alarms).toEqual([]);
  });

  it('[A5] guards the working ceiling as soon as the seeding band has been reached, even where the dwell was cut short', () => {
    const bowl = new Bowl(dark, 40).start('cool').hold(5).ramp(27.7, 1.5).hold(30).ramp(33, 1.5).hold(10);
    expect(bowl.phases).toEqual(['cool']);
    expect(bowl.alarms).toContain('overshoot');
  });
});

describe('the life of an alarm', () => {
  it('[A6] is acknowledged once, keeps until it is over, and a cleared one keeps until it is seen', () => {
    const bowl = workingBowl().ramp(32.8, 1.2).hold(5).do({ name: 'acknowledge', alarm: 'overshoot', by: 'Ana' });
    bowl.do({ name: 'acknowledge', alarm: 'overshoot', by: 'Jo' });
    // What had foretold the crossing is seen with it: one event wants one answer.
    expect(bowl.find('alarm-acknowledged')).toMatchObject([
      { alarm: 'overshoot', by: 'Ana' },
      { alarm: 'overshoot-ahead', by: 'Ana' },
    ]);
    bowl.ramp(31.8, 1).hold(10);
    expect(bowl.state.watch.alarms.overshoot).toBeUndefined();
    const unseen = workingBowl().ramp(32.8, 1.2).ramp(31.8, 1).hold(10);
    expect(unseen.state.watch.alarms.overshoot).toMatchObject({ cleared: true });
    unseen.do({ name: 'acknowledge', alarm: 'overshoot' });
    expect(unseen.state.watch.alarms.overshoot).toBeUndefined();
  });

  it('[A6] raises an acknowledged alarm again only after it was cleared', () => {
    const bowl = workingBowl().ramp(32.8, 1.2).do({ name: 'acknowledge', alarm: 'overshoot' }).hold(300);
    expect(bowl.alarms.filter((alarm) => alarm === 'overshoot')).toHaveLength(1);
    bowl.ramp(32, 1).hold(20).ramp(32.8, 1).hold(5);
    expect(bowl.alarms.filter((alarm) => alarm === 'overshoot')).toHaveLength(2);
  });

  it('[A6] quietens a raised alarm for two minutes and says until when', () => {
    const bowl = workingBowl().do({ name: 'quieten', alarm: 'overshoot' }).ramp(32.8, 1.2).hold(5);
    bowl.do({ name: 'quieten', alarm: 'overshoot' });
    const quiet = bowl.find('alarm-quietened');
    expect(quiet).toHaveLength(1);
    expect(quiet[0]!.untilMs - quiet[0]!.atMs).toBe(120_000);
  });

  it('[A6] does not flap at the limit: readings about the ceiling raise one alarm', () => {
    const bowl = workingBowl().ramp(32.5, 0.5);
    for (let turn = 0; turn < 40; turn++) bowl.ramp(32.58, 0.3).ramp(32.44, 0.3);
    expect(bowl.alarms.filter((alarm) => alarm === 'overshoot')).toHaveLength(1);
  });
});
