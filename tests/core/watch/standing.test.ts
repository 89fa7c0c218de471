/** Whether the chocolate is in temper, as far as a thermometer can tell. Rule numbers are those of DEVELOPERS.md. */
import { describe, expect, it } from 'vitest';
import { Bowl, seededBowl, shippedProfile, workingBowl } from '../../support/bowl.ts';

const dark = shippedProfile('dark');
const last = (bowl: Bowl): string => bowl.find('standing').at(-1)?.standing ?? 'not-made-yet';

describe('standing', () => {
  it('[T1] is in temper only once seed was made, kept its time and was rewarmed', () => {
    const bowl = new Bowl(dark, 44).start('melt').ramp(46, 2).hold(150).ramp(27.6, 2).hold(200);
    expect(last(bowl)).toBe('not-made-yet');
    bowl.ramp(31.2, 1).hold(5);
    expect(last(bowl)).toBe('in-temper');
  });

  it('[T1] is unproven when started tempered or stepped past the seeding by hand, until a strip test', () => {
    const started = new Bowl(dark, 31.5).start('work').hold(60);
    expect(started.find('standing').at(-1)).toMatchObject({ standing: 'unproven', why: 'started-tempered' });
    started.do({ name: 'act', act: 'strip-test-good' });
    expect(started.find('standing').at(-1)).toMatchObject({ standing: 'in-temper', why: 'strip-test-good' });
    const forced = new Bowl(dark, 30).start('cool').hold(20).do({ name: 'next' }).do({ name: 'next' });
    expect(forced.find('standing').at(-1)).toMatchObject({ standing: 'unproven', why: 'forced-step' });
  });

  it('[T1] is unproven when the rewarming was stepped over, however well the seed was made', () => {
    const bowl = seededBowl().do({ name: 'next' });
    expect(bowl.find('standing').at(-1)).toMatchObject({ standing: 'unproven', why: 'forced-step' });
    const kept = workingBowl().do({ name: 'back' }).do({ name: 'next' });
    expect(last(kept)).toBe('in-temper');
  });

  it('[T2] is at risk by how far and how long over the ceiling: 0.3 over for a minute, not for ten seconds', () => {
    expect(last(workingBowl().ramp(32.8, 2).hold(8).ramp(32, 2).hold(60))).toBe('in-temper');
    expect(last(workingBowl().ramp(32.8, 2).hold(60))).toBe('at-risk');
  });

  it('[T2] is at risk after 40 minutes in the lower half of the band', () => {
    const bowl = workingBowl().ramp(31.3, 0.3).hold(2300);
    expect(last(bowl)).toBe('in-temper');
    expect(last(bowl.hold(200))).toBe('at-risk');
    expect(bowl.find('standing').at(-1)!.why).toBe('low-for-long');
  });

  it('[T3] is unproven after a minute nobody saw, from the moment it came true', () => {
    const bowl = workingBowl();
    const seenMs = bowl.atMs;
    bowl.silence(90);
    expect(bowl.find('standing').at(-1)).toMatchObject({ standing: 'unproven', why: 'gap', atMs: seenMs + 60_000 });
    expect(last(workingBowl().silence(40).hold(10))).toBe('in-temper');
  });

  it('[T4] believes the strip test, except against a temperature at which no seed can be left', () => {
    expect(last(workingBowl().do({ name: 'act', act: 'strip-test-bad' }))).toBe('unproven');
    expect(last(workingBowl().ramp(32.8, 2).hold(60).ramp(32, 2).do({ name: 'act', act: 'strip-test-good' }))).toBe(
      'in-temper',
    );
    const hot = new Bowl(dark, 34.5).start('work').hold(30);
    hot.do({ name: 'act', act: 'strip-test-good' });
    expect(last(hot)).toBe('lost');
  });

  it('[T1] forgets the seed when the bowl is melted again by hand', () => {
    const bowl = workingBowl().do({ name: 'back' }).do({ name: 'back' }).do({ name: 'back' });
    expect(last(bowl)).toBe('not-made-yet');
  });
});
