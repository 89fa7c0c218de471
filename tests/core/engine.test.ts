/** What holds for every step. Rule numbers are those of DEVELOPERS.md. */
import { describe, expect, it } from 'vitest';
import { estimateAt, situationAt, step } from '../../server/core/engine.ts';
import { Bowl, shippedProfile, workingBowl } from '../support/bowl.ts';

describe('step', () => {
  it('[E7] takes an input of no moment as of the moment before, and goes on', () => {
    for (const atMs of [NaN, Infinity, -Infinity]) {
      const bowl = workingBowl();
      const before = bowl.state.atMs;
      const { state } = step(bowl.state, { atMs, source: 'probe', kind: 'reading', valuesC: { chocolate: 31.5 } });
      expect(state.atMs).toBe(before);
    }
  });

  it('[E7] takes an input from before as of the moment before', () => {
    const bowl = workingBowl();
    const { state } = step(bowl.state, { atMs: 5, source: 'probe', kind: 'reading', valuesC: { chocolate: 31.5 } });
    expect(state.atMs).toBe(bowl.state.atMs);
  });

  it('[E8] records nothing after its end', () => {
    const bowl = workingBowl().do({ name: 'end' });
    const count = bowl.events.length;
    bowl.hold(30).do({ name: 'next' }).silence(600);
    expect(bowl.events).toHaveLength(count);
    expect(bowl.events.at(-1)).toMatchObject({ kind: 'run-ended', by: 'hand' });
  });

  it('[E9] finds the chocolate, the bath and the room in a line by their labels', () => {
    const bowl = new Bowl(shippedProfile('dark'), 31.5).start('work').line('bath: 45.2; room: 21; choc: 31.5');
    expect(bowl.readings.map(({ role, valueC }) => [role, valueC])).toEqual([
      ['bath', 45.2],
      ['room', 21],
      ['chocolate', 31.5],
    ]);
  });

  it('[E10] corrects the probe before anything is judged', () => {
    const bowl = new Bowl(shippedProfile('dark'), 31.5).do({ name: 'set-correction', offsetC: 1.5, gain: 1 });
    bowl.start('work').hold(60);
    expect(bowl.alarms).toEqual(['overshoot']);
    expect(bowl.readings.at(-1)!.valueC).toBe(33);
  });

  it('[E11] gives an estimate between readings, and none a minute after the last', () => {
    const bowl = workingBowl();
    expect(estimateAt(bowl.state, bowl.atMs + 700)!.tempC).toBeCloseTo(31.5, 1);
    expect(estimateAt(bowl.state, bowl.atMs + 61_000)).toBeNull();
    expect(estimateAt(new Bowl(shippedProfile('dark'), 20).state, 0)).toBeNull();
  });

  it('[E12] calls a number stale after three usual intervals, and never before two seconds', () => {
    const bowl = workingBowl();
    expect(situationAt(bowl.state, bowl.atMs + 2_900).stale).toBe(false);
    expect(situationAt(bowl.state, bowl.atMs + 3_100).stale).toBe(true);
  });
});
