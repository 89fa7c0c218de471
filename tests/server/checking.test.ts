/** A thermometer that is checked between runs: what is told of it, what it holds back meanwhile, and what stays of it. */
import { describe, expect, test } from 'vitest';
import type { CheckStands } from '../../server/core/check/told.ts';
import { ASKED_WITHIN_MS } from '../../server/session/checking.ts';
import type { ProbeCheck } from '../../server/core/record/check.ts';
import { OLD_AFTER_DAYS } from '../../server/session/check-info.ts';
import type { Standard } from '../../server/core/check/standard.ts';
import { type Bowl, openBowl, WALL_START_MS } from '../support/server.ts';

const ICE: Standard = { against: 'ice' };
const STEAM: Standard = { against: 'steam', air: { by: 'station', hpa: 1013.25 } };

function ask(bowl: Bowl, standard: Standard | null = ICE, points: ProbeCheck['points'] = []): CheckStands {
  const stands = bowl.session.check({ standard, points });
  if ('ok' in stands) throw new Error(stands.detail);
  return stands;
}

/** A minute of one reading, asked for twice in it as a page does. */
function held(bowl: Bowl, tempC: number, standard: Standard | null = ICE): CheckStands {
  ask(bowl, standard);
  bowl.ramp(tempC, tempC, 31);
  ask(bowl, standard);
  bowl.ramp(tempC, tempC, 31);
  return ask(bowl, standard);
}

/** The correction of one ice point, as the page would send it. */
function checkedInIce(bowl: Bowl, readC: number): ProbeCheck {
  const { point } = held(bowl, readC);
  const check = { checkedAtWall: new Date(WALL_START_MS).toISOString(), points: [point!] };
  const { outcome } = ask(bowl, null, check.points);
  if (outcome.is !== 'found') throw new Error(outcome.is);
  expect(bowl.says({ name: 'set-correction', ...outcome.correction, check })).toEqual({ ok: true });
  return check;
}

describe('a check', () => {
  test('gives a point once the probe has been steady for a minute, though it reads what no bowl of chocolate could', () => {
    const bowl = openBowl();
    bowl.ramp(22, 22, 5);
    expect(ask(bowl)).toMatchObject({ steadiness: { state: 'waiting' }, point: null, outcome: { is: 'nothing' } });
    bowl.ramp(22, 0.4, 30);
    expect(ask(bowl).point).toBe(null);
    expect(held(bowl, 0.4)).toMatchObject({
      steadiness: { state: 'steady' },
      reference: { trueC: 0 },
      point: { against: 'ice', trueC: 0, readC: 0.4 },
    });
  });

  test('keeps the air that a boiling point was reckoned by', () => {
    expect(held(openBowl(), 99.5, STEAM).point).toMatchObject({ against: 'steam', trueC: 99.974, air: STEAM.air });
  });

  test('gives no point while nobody has said what it is held against', () => {
    expect(held(openBowl(), 0.4, null)).toMatchObject({
      steadiness: { state: 'steady' },
      reference: null,
      point: null,
    });
  });

  test('starts no run and warns of no heat, for as long as it is asked for', () => {
    const bowl = openBowl();
    bowl.choose('solid');
    ask(bowl, STEAM);
    bowl.ramp(22, 99.9, 60);
    expect(bowl.session.status().state).toBe('waiting');

    const unnamed = openBowl();
    ask(unnamed, STEAM);
    unnamed.ramp(22, 99.9, 60);
    expect(unnamed.session.now(1).careful).toBe(null);
    unnamed.waits(ASKED_WITHIN_MS / 1000);
    unnamed.ramp(99.9, 99.9, 30);
    expect(unnamed.session.now(1).careful).not.toBe(null);
  });

  test('holds nothing back where only the points of an earlier one are asked after', () => {
    const earlier = openBowl();
    const points = [held(earlier, 0.4).point!];
    const asked = { standard: null, points, isWatched: false };

    const unnamed = openBowl();
    for (let s = 0; s < 60; s += 10) {
      expect(unnamed.session.check(asked)).toMatchObject({ outcome: { is: 'found', correction: { offsetC: -0.4 } } });
      unnamed.ramp(99.9, 99.9, 10);
    }
    expect(unnamed.session.now(1).careful).not.toBeNull();

    const bowl = openBowl();
    bowl.choose('solid');
    for (let s = 0; s < 60; s += 10) {
      bowl.session.check(asked);
      bowl.ramp(24 + s / 10, 25 + s / 10, 10);
    }
    expect(bowl.session.status().state).toBe('going');
  });

  test('tells nothing of the probe that was watched before where none is asked to be', () => {
    const bowl = openBowl();
    held(bowl, 0.4);
    const stands = bowl.session.check({ standard: STEAM, points: [], isWatched: false });
    expect(stands).toMatchObject({ point: null, steadiness: { meanC: null } });
  });

  test('that is going goes on where its points are asked after beside it', () => {
    const bowl = openBowl();
    ask(bowl, STEAM);
    bowl.session.check({ standard: null, points: [], isWatched: false });
    bowl.ramp(99.9, 99.9, 60);
    expect(bowl.session.now(1).careful).toBe(null);
  });

  test('is not made while a run is going: the probe belongs in the bowl', () => {
    const bowl = openBowl();
    bowl.begin();
    expect(bowl.session.check({ standard: ICE, points: [] })).toMatchObject({ ok: false, because: 'unfit' });
  });

  test('is of what the probe itself says, whatever correction it has', () => {
    const bowl = openBowl();
    bowl.says({ name: 'set-correction', offsetC: -3, gain: 1.02 });
    bowl.ramp(2, 0.4, 10);
    expect(held(bowl, 0.4).point!.readC).toBeCloseTo(0.4, 2);
  });

  test('of the bath begins no run, and warns of the heat of the chocolate all the same', () => {
    const bowl = openBowl();
    const both = (s: number, chocC: number): void => bowl.hears(`choc: ${chocC.toFixed(2)}; bath: 0.4${s % 2}`);
    for (let s = 0; s < 8; s++) both(s, 22 + s / 20);
    const bath = bowl.session.probe().probes.find(({ role }) => role === 'bath')!;
    expect(bath).toMatchObject({ channel: 'bath', check: null });
    const asked = { probe: bath, standard: ICE, points: [] };
    bowl.choose('solid');
    for (let s = 0; s <= 61; s++) {
      bowl.session.check(asked);
      both(s, 24 + s / 10);
    }
    expect(bowl.session.check(asked)).toMatchObject({ point: { against: 'ice', readC: 0.405 } });
    expect(bowl.session.status().state).toBe('waiting');

    const unnamed = openBowl();
    for (let s = 0; s < 8; s++) unnamed.hears(`choc: 40.${s}0; bath: 0.4${s % 2}`);
    unnamed.session.check(asked);
    for (let s = 0; s < 30; s++) {
      unnamed.session.check(asked);
      unnamed.hears(`choc: ${(54 + s / 20).toFixed(2)}; bath: 0.4${s % 2}`);
    }
    expect(unnamed.session.now(1).careful).not.toBeNull();
  });

  test('of a probe that is not in this bowl is none, and a probe that is exchanged for another begins a minute anew', () => {
    const bowl = openBowl();
    for (let s = 0; s < 70; s++) bowl.hears(`choc: 22.0${s % 2}; bath: 0.4${s % 2}`);
    const [choc, bath] = bowl.session.probe().probes;
    const stands = (probe: typeof choc) => bowl.session.check({ probe: probe!, standard: ICE, points: [] });
    stands(choc);
    for (let s = 0; s < 61; s++) bowl.hears(`choc: 22.0${s % 2}; bath: 0.4${s % 2}`);
    expect(stands(choc)).toMatchObject({ steadiness: { state: 'steady' } });
    expect(stands(bath)).toMatchObject({ steadiness: { state: 'waiting', readings: 0 } });
    expect(stands({ ...choc!, channel: 'oven' })).toMatchObject({ ok: false, because: 'unfit' });
  });

  test('of the chocolate is not made of another probe, where nothing is in the chocolate', () => {
    const bowl = openBowl();
    for (let s = 0; s < 8; s++) bowl.hears(`choc: 31.${s}5; bath: 44.0${s % 2}`);
    bowl.says({ name: 'assign-role', channel: 'choc', role: 'ignored' });
    expect(bowl.session.probe().probes).toMatchObject([{ role: 'bath' }]);
    expect(bowl.session.check({ standard: ICE, points: [] })).toMatchObject({ ok: false, because: 'unfit' });
    bowl.says({ name: 'assign-role', channel: 'bath', role: 'ignored' });
    expect(bowl.session.probe().probes).toEqual([]);
  });

  test('bears the clock of this computer, not of the page', () => {
    expect(Date.parse(ask(openBowl()).atWall)).toBe(WALL_START_MS);
  });

  test('says so where the probe is too far off to be corrected', () => {
    const bowl = openBowl();
    const { point } = held(bowl, 7);
    expect(ask(bowl, null, [point!]).outcome).toEqual({ is: 'too-far-off', mostC: 5 });
  });
});

describe('what stays of a check', () => {
  test('is told with every number: how far off it may be', () => {
    const bowl = openBowl();
    expect(bowl.session.now(1).check).toBeUndefined();
    checkedInIce(bowl, 0.4);
    bowl.ramp(20, 31.4, 30);
    const { check, reading } = bowl.session.now(1);
    expect(reading!.valueC).toBeCloseTo(31, 1);
    expect(check).toMatchObject({ isOld: false });
    expect(check!.withinC).toBeGreaterThan(check!.biasC);
    expect(check!.biasC).toBeGreaterThan(check!.noiseC);
    expect(bowl.session.probe().probes).toMatchObject([{ isOld: false }]);
  });

  test('is told to be old where it was made too long ago', () => {
    const bowl = openBowl();
    const { points } = checkedInIce(bowl, 0.4);
    const checkedAtWall = new Date(WALL_START_MS - (OLD_AFTER_DAYS + 1) * 86_400_000).toISOString();
    bowl.says({ name: 'set-correction', offsetC: -0.4, gain: 1, check: { checkedAtWall, points } });
    expect(bowl.session.now(1).check).toMatchObject({ isOld: true });
    expect(bowl.session.probe().probes).toMatchObject([{ isOld: true }]);
  });

  test('stands in the header of the runs to come, and in the log of one that is going', async () => {
    const bowl = openBowl();
    const check = checkedInIce(bowl, 0.4);
    bowl.session.endCheck();
    const run = bowl.begin();
    await bowl.store.flush();
    expect(bowl.store.openRun(run)!.header).toMatchObject({ correction: { offsetC: -0.4 }, check });

    bowl.says({ name: 'set-correction', offsetC: -0.4, gain: 1, check });
    bowl.says({ name: 'set-correction', offsetC: -0.5, gain: 1 });
    await bowl.store.flush();
    const changes = bowl.store.openRun(run)!.events.filter(({ kind }) => kind === 'correction-changed');
    expect(changes).toMatchObject([{ offsetC: -0.4, check }, { offsetC: -0.5 }]);
    expect(changes[1]).not.toHaveProperty('check');
    expect(bowl.session.probe().probes[0]!.check).toBe(null);
  });
});

test('what each number of the newest line is taken for', () => {
  const bowl = openBowl();
  const line = (text: string): void =>
    bowl.session.feed({ atMs: bowl.clock.nowMs(), source: 'test', kind: 'line', text });
  line('amb: 22.0; R: 112.06');
  expect(bowl.session.probe().numbers).toEqual([
    { key: 'amb', value: 22, unit: null, sensor: null, likely: null, valueC: 22, role: 'room' },
    expect.objectContaining({ key: 'r', value: 112.06, unit: 'ohm', sensor: null, valueC: null, role: null }),
  ]);
  const sensor = { kind: 'platinum', unit: 'ohm', ohmsAt0C: 100 } as const;
  expect(bowl.session.probe().numbers[1]!.likely).toEqual(sensor);
  bowl.says({ name: 'assign-role', channel: 'r', role: 'chocolate', sensor });
  line('amb: 22.0; R: 112.06');
  expect(bowl.session.probe().numbers[1]).toMatchObject({ sensor, role: 'chocolate' });
  expect(bowl.session.probe().numbers[1]!.valueC).toBeCloseTo(31, 2);
  expect(bowl.session.now(1).reading!.valueC).toBe(31);
});
