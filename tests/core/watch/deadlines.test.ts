/** What happens because nothing happened. Rule numbers are those of DEVELOPERS.md. */
import { describe, expect, it } from 'vitest';
import { Bowl, shippedProfile, workingBowl } from '../../support/bowl.ts';

describe('deadlines', () => {
  it('[D1] raises probe-silent ten seconds after the last reading, stamped with that moment, once, and clears it when readings are back', () => {
    const bowl = workingBowl();
    const heardMs = bowl.atMs;
    bowl.silence(300);
    expect(bowl.find('alarm-raised').filter((event) => event.alarm === 'probe-silent')).toMatchObject([
      { atMs: heardMs + 10_000 },
    ]);
    bowl.hold(5);
    expect(bowl.find('alarm-cleared').map((event) => event.alarm)).toContain('probe-silent');
  });

  it('[D1] waits ten usual intervals for a slow thermometer', () => {
    const bowl = new Bowl(shippedProfile('dark'), 31.5).start('work');
    for (let i = 0; i < 30; i++) {
      bowl.atMs += 3000;
      bowl.read(31.5);
    }
    bowl.silence(30);
    expect(bowl.alarms).toEqual([]);
    expect(bowl.silence(15).alarms).toEqual(['probe-silent']);
  });

  it('[D1] ends probe-silent when anything is heard again, even if it is not believed', () => {
    const bowl = workingBowl().silence(60);
    bowl.shows(3, () => 22);
    expect(bowl.readings.at(-1)!.quality).toBe('suspect');
    expect(bowl.find('alarm-cleared').map((event) => event.alarm)).toEqual(['probe-silent']);
  });

  it('[D2] asks for a strip test a minute into the work and about every half hour, and not through a gap', () => {
    const bowl = workingBowl();
    const tests = (): number[] => bowl.find('cue').flatMap((cue) => (cue.cue === 'strip-test' ? [cue.atMs] : []));
    const enteredMs = bowl.find('phase-entered').at(-1)!.atMs;
    expect(tests()).toEqual([enteredMs + 60_000]);
    bowl.hold(1900);
    expect(tests()).toEqual([enteredMs + 60_000, enteredMs + 1_860_000]);
    bowl.silence(10 * 24 * 3600);
    expect(tests()).toHaveLength(2);
  });

  it('[D3] settles deadlines before an input of the same moment', () => {
    const bowl = workingBowl();
    bowl.atMs += 9_000;
    bowl.read(31.5);
    expect(bowl.alarms).toEqual(['probe-silent']);
    expect(bowl.said.slice(-2)).toEqual(['probe-silent!', 'probe-silent.']);
    expect(bowl.events.at(-1)!.atMs).toBe(bowl.atMs);
  });

  it('[D4] says nothing before a run has started', () => {
    const bowl = new Bowl(shippedProfile('dark'), 24).hold(5).silence(600);
    expect(bowl.events).toEqual([]);
  });
});
