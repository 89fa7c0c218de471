/** What to do next, and what is foretold when it is not done. Rule numbers are those of DEVELOPERS.md. */
import { describe, expect, it } from 'vitest';
import { Bowl, seededBowl, shippedProfile, workingBowl } from '../../support/bowl.ts';

const dark = shippedProfile('dark');

describe('cues and ahead-alarms', () => {
  it('[C1] says when to leave the heat, early, aimed into the band', () => {
    const bowl = seededBowl().ramp(31.2, 1);
    const cue = bowl.find('cue').find((one) => one.cue === 'off-heat' && one.phase === 'rewarm')!;
    expect(cue.inS).toBeGreaterThanOrEqual(15);
    expect(cue.landsC).toBeGreaterThan(31);
    expect(cue.landsC).toBeLessThan(32);
  });

  it('[C1] says when to leave the cold', () => {
    const bowl = new Bowl(dark, 36).start('cool').hold(5).ramp(28, 1);
    const cue = bowl.find('cue').find((one) => one.cue === 'off-cold')!;
    expect(cue.landsC).toBeGreaterThan(27);
    expect(cue.landsC).toBeLessThan(28);
  });

  it('[C2] says it once on one course', () => {
    const bowl = seededBowl().ramp(31.6, 0.8).hold(120);
    expect(bowl.find('cue').filter((one) => one.cue === 'off-heat' && one.phase !== 'melt')).toHaveLength(1);
  });

  it('[C3] foretells an overshoot when the cue was not heeded, before the ceiling is crossed', () => {
    const bowl = seededBowl().ramp(33, 1);
    const raised = bowl.find('alarm-raised');
    const ahead = raised.find((event) => event.alarm === 'overshoot-ahead')!;
    const over = raised.find((event) => event.alarm === 'overshoot')!;
    expect(over.atMs - ahead.atMs).toBeGreaterThan(20_000);
    expect(ahead.peakC).toBeGreaterThan(ahead.valueC!);
    expect(bowl.find('alarm-cleared').map((event) => event.alarm)).toContain('overshoot-ahead');
  });

  it('[C3] stays silent when the cue was heeded: the rate falls and the bowl lands in the band', () => {
    const bowl = seededBowl().ramp(30.8, 1).drift(31.6, 40, 300);
    expect(bowl.alarms).toEqual([]);
    expect(bowl.phases.at(-1)).toBe('work');
  });

  it('[C3] takes the person’s word that the bowl is off the heat', () => {
    const goesOn = (bowl: Bowl): number =>
      bowl
        .ramp(32.4, 1)
        .find('alarm-raised')
        .find((event) => event.alarm === 'overshoot-ahead')?.valueC ?? 99;
    const heedless = goesOn(seededBowl().ramp(30.8, 1));
    const said = goesOn(seededBowl().ramp(30.8, 1).do({ name: 'act', act: 'off-heat' }));
    expect(heedless).toBeLessThan(32.5);
    expect(said).toBeGreaterThan(heedless);
  });

  it('[C4] says when the band will not be reached like this, and not again at once', () => {
    const bowl = new Bowl(dark, 36).start('cool').hold(5).drift(29.2, 150, 1500);
    const cues = bowl.find('cue').filter((one) => one.cue === 'will-not-reach');
    expect(cues.length).toBeGreaterThanOrEqual(1);
    expect(cues.length).toBeLessThanOrEqual(3);
  });

  it('[C4] does not take melting crystals for a bath that is too cold', () => {
    const said = (condition: 'solid' | 'melted'): number => {
      const bowl = new Bowl(dark, 24, { condition }).start('melt').hold(5).drift(31, 240, 700);
      return bowl.find('cue').filter((one) => one.cue === 'will-not-reach').length;
    };
    expect(said('solid')).toBeLessThan(said('melted'));
  });

  it('[C5] asks to warm gently when the working bowl nears the lower edge', () => {
    const bowl = workingBowl().ramp(31, 0.2).hold(10);
    expect(bowl.said).toContain('?warm-gently');
    expect(bowl.alarms).toEqual([]);
  });

  it('[C6] a steady working bowl is told nothing but its strip tests', () => {
    const bowl = workingBowl();
    const before = bowl.events.length;
    bowl.hold(1500);
    expect(bowl.events.slice(before)).toEqual([]);
  });
});
