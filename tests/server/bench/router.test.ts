/** Several thermometers and several bowls at once: who gets what, what is recorded where, and what a change of the bench does to a run. */
import { describe, expect, test } from 'vitest';
import type { RecordedInput } from '../../../server/core/record/input.ts';
import type { Session } from '../../../server/session/session.ts';
import { shipped } from '../../support/shipped.ts';
import { benchAround } from '../../support/bench.ts';
import { openBowl, WALL_START_MS } from '../../support/server.ts';

/** The first bowl's, that of a bowl that is added, and the thermometers a test plugs in. */
function twoBowls() {
  const bowl = openBowl();
  const around = benchAround(bowl);
  const added = around.bowls.add('milk, left')!;
  const [one, two] = [bowl.session, around.sessions.get(added.bowl)!];
  /** Each thermometer says its line once a second. */
  const goOn = (seconds: number, lines: Readonly<Record<string, (s: number) => string>>): void => {
    for (let s = 0; s < seconds; s++) {
      bowl.passes(1);
      for (const [source, line] of Object.entries(lines)) around.says(source, line(s));
    }
  };
  const begin = (session: Session): string => {
    session.command({ name: 'choose-profile', profile: shipped('dark'), condition: 'solid' });
    session.command({ name: 'start', phase: 'melt' });
    return session.status().info!.run;
  };
  const inputsOf = async (run: string): Promise<readonly RecordedInput[]> => {
    await bowl.store.flush();
    return bowl.store.inputsOf(run);
  };
  return { ...around, bowl, one, two, goOn, begin, inputsOf };
}

function linesOf(inputs: readonly RecordedInput[], source: string): readonly string[] {
  return inputs.flatMap((input) => (input.kind === 'line' && input.source === source ? [input.text] : []));
}

function commandsOf(inputs: readonly RecordedInput[], by: string) {
  return inputs.flatMap((input) => (input.kind === 'command' && input.source === by ? [input.command] : []));
}

const wavy =
  (aroundC: number, decimals = 2) =>
  (s: number): string =>
    (aroundC + 0.2 * Math.sin(s)).toFixed(decimals);

describe('a bench with one thermometer', () => {
  test('asks nothing: it is in the chocolate of the first bowl, and the other bowl says that it has none', () => {
    const { plug, goOn, router, one, two } = twoBowls();
    plug('usb:a', 'first');
    const fed: string[] = [];
    router.onFed(({ bowl }) => fed.push(bowl));
    goOn(5, { 'usb:a': wavy(30) });
    expect(fed).toEqual(Array.from({ length: 5 }, () => one.bowl));
    expect(one.now(0).reading?.valueC).toBeCloseTo(30, 0);
    expect(two.now(0).reading).toBeNull();
    expect(two.status().link).toMatchObject({
      state: 'looking',
      why: 'No thermometer is in this bowl yet. Under “Bowls”, say which probe is in it.',
    });
  });
});

test('what a thermometer is told to say is its newest line, not the one it was found by', () => {
  const { plug, goOn, router, one } = twoBowls();
  plug('usb:a', 'first');
  router.link('usb:a', { state: 'up', label: 'probe', sample: '21.40' });
  expect(one.status().link).toMatchObject({ sample: '21.40' });
  goOn(2, { 'usb:a': (s) => `31.${s}0` });
  expect(one.status().link).toMatchObject({ sample: '31.10' });
  expect(one.now(0).link).toMatchObject({ sample: '31.10' });
});

describe('two thermometers', () => {
  test('in two bowls: two runs at once, each with its own lines and no others', async () => {
    const { plug, goOn, placing, begin, one, two, inputsOf, bowl } = twoBowls();
    plug('usb:a', 'first');
    plug('usb:b', null);
    expect(placing.place({ thermometer: 'usb:b', channel: '', role: 'chocolate', bowls: ['bowl-2'] })).toBeNull();
    goOn(3, { 'usb:a': wavy(28), 'usb:b': wavy(33) });
    const runs = [begin(one), begin(two)];
    goOn(3, { 'usb:a': wavy(28), 'usb:b': wavy(33) });
    await bowl.store.flush();
    const listed = bowl.store.runs({ most: 10, after: 0, order: 'oldest' }).runs;
    expect(listed.map(({ run, bowlName }) => [run, bowlName])).toEqual([
      [runs[0], 'Bowl 1'],
      [runs[1], 'milk, left'],
    ]);
    expect(bowl.store.openRun(runs[1]!)).toMatchObject({ bowlName: 'milk, left' });
    const [first, second] = [await inputsOf(runs[0]!), await inputsOf(runs[1]!)];
    expect([linesOf(first, 'usb:a').length, linesOf(first, 'usb:b').length]).toEqual([6, 0]);
    expect([linesOf(second, 'usb:a').length, linesOf(second, 'usb:b').length]).toEqual([0, 6]);
    expect(two.now(0).reading?.valueC).toBeCloseTo(33, 0);
  });

  test('the second one in the room serves every bowl, and stands in the header of a run that begins', async () => {
    const { plug, goOn, placing, begin, one, bowl } = twoBowls();
    plug('usb:a', 'first');
    plug('usb:b', null);
    placing.place({ thermometer: 'usb:b', channel: '', role: 'room', bowls: [] });
    goOn(3, { 'usb:a': wavy(28), 'usb:b': wavy(20) });
    expect(one.now(0).roomC).toBeCloseTo(20, 0);
    const run = begin(one);
    goOn(3, { 'usb:a': wavy(28), 'usb:b': wavy(20) });
    await bowl.store.flush();
    expect(bowl.store.openRun(run)!.header.companions).toMatchObject({ 'usb:b': { roles: { '': 'room' } } });
    const roles = new Set(Array.from(bowl.store.eachReadingOf(run), ({ role }) => role));
    expect([...roles].toSorted()).toEqual(['chocolate', 'room']);
  });

  test('one that is put into the bath in the middle of a run enters its record as commands', async () => {
    const { plug, goOn, placing, begin, one, inputsOf } = twoBowls();
    plug('usb:a', 'first');
    plug('usb:b', null);
    goOn(3, { 'usb:a': wavy(28), 'usb:b': wavy(41) });
    const run = begin(one);
    expect(placing.place({ thermometer: 'usb:b', channel: '1', role: 'bath', bowls: ['bowl-1'] })).toBeNull();
    goOn(3, { 'usb:a': wavy(28), 'usb:b': wavy(41) });
    const inputs = await inputsOf(run);
    expect(commandsOf(inputs, 'bowlside')).toContainEqual({
      name: 'assign-role',
      channel: '1',
      role: 'bath',
      source: 'usb:b',
    });
    expect(linesOf(inputs, 'usb:b')).toHaveLength(3);
    expect(inputs.filter((input) => input.kind === 'link' && input.source === 'usb:b')).toMatchObject([{ up: true }]);
  });

  test('a spare takes the place of one that broke, in the middle of a run', async () => {
    const { plug, goOn, placing, begin, one, two, inputsOf, router } = twoBowls();
    plug('usb:a', 'first');
    plug('usb:b', null);
    placing.place({ thermometer: 'usb:b', channel: '', role: 'chocolate', bowls: ['bowl-2'] });
    goOn(3, { 'usb:a': wavy(28), 'usb:b': wavy(21) });
    const run = begin(one);
    router.input({ atMs: 4_000, source: 'usb:a', kind: 'link', up: false, why: 'It broke.' });
    expect(placing.place({ thermometer: 'usb:b', channel: '1', role: 'chocolate', bowls: ['bowl-1'] })).toBeNull();
    goOn(12, { 'usb:b': wavy(29) });
    expect(one.now(0).reading?.valueC).toBeCloseTo(29, 0);
    expect(one.status().info?.run).toBe(run);
    expect(two.status().link).toMatchObject({ state: 'looking' });
    expect(linesOf(await inputsOf(run), 'usb:b')).toHaveLength(12);
  });

  test('the chocolate’s thermometer is not taken from a run that is going', () => {
    const { plug, goOn, placing, begin, one } = twoBowls();
    plug('usb:a', 'first');
    goOn(3, { 'usb:a': wavy(28) });
    begin(one);
    const away = { thermometer: 'usb:a', channel: '1', role: 'room', bowls: [] } as const;
    expect(placing.place(away)).toBe('going');
    one.command({ name: 'end' });
    expect(placing.place(away)).toBeNull();
  });
});

describe('one thermometer with several channels', () => {
  test('a line that serves two bowls is recorded in both, whole, and each finds its own chocolate in it', async () => {
    const { plug, goOn, placing, begin, one, two, inputsOf, router } = twoBowls();
    plug('usb:four', 'first');
    const line = (s: number): string => `${wavy(28)(s)},${wavy(33)(s)},45.${10 + s},20.5`;
    goOn(8, { 'usb:four': line });
    const put = (channel: string, role: 'chocolate' | 'bath' | 'room', bowls: readonly string[]) =>
      placing.place({ thermometer: 'usb:four', channel, role, bowls });
    expect(put('2', 'chocolate', ['bowl-2'])).toBeNull();
    expect(put('3', 'bath', ['bowl-1', 'bowl-2'])).toBeNull();
    expect(put('4', 'room', [])).toBeNull();
    goOn(3, { 'usb:four': line });
    const runs = [begin(one), begin(two)];
    goOn(5, { 'usb:four': line });
    const [first, second] = [await inputsOf(runs[0]!), await inputsOf(runs[1]!)];
    expect(linesOf(first, 'usb:four').slice(-5)).toEqual(linesOf(second, 'usb:four').slice(-5));
    expect(one.now(0).reading?.valueC).toBeCloseTo(28, 0);
    expect(two.now(0).reading?.valueC).toBeCloseTo(33, 0);
    const [channel] = placing.channelsOf(router.feeds[0]!);
    expect(channel).toMatchObject({ channel: '1', role: 'chocolate', bowls: ['bowl-1'] });
  });

  test('where one channel is put elsewhere, no other becomes the chocolate by being left over', () => {
    const { plug, goOn, placing, one } = twoBowls();
    plug('usb:two', 'first');
    goOn(8, { 'usb:two': (s) => `${wavy(28)(s)},${wavy(45)(s)}` });
    placing.place({ thermometer: 'usb:two', channel: '1', role: 'room', bowls: [] });
    goOn(3, { 'usb:two': (s) => `${wavy(28)(s)},${wavy(45)(s)}` });
    expect(one.status().link).toMatchObject({ state: 'looking' });
    expect(one.now(0).reading).toBeNull();
  });

  test('a bowl takes eight channels and no more', () => {
    const { plug, goOn, placing } = twoBowls();
    plug('usb:a', 'first');
    plug('usb:many', null);
    const many = (s: number): string => [1, 2, 3, 4, 5, 6, 7, 8].map((n) => wavy(30 + n)(s + n)).join(',');
    goOn(8, { 'usb:a': wavy(30), 'usb:many': many });
    const put = (channel: number) =>
      placing.place({ thermometer: 'usb:many', channel: String(channel), role: 'bath', bowls: ['bowl-1'] });
    for (let channel = 1; channel <= 7; channel++) expect(put(channel)).toBeNull();
    expect(put(8)).toBe('full');
  });
});

describe('what is known of a thermometer itself', () => {
  const sensor = { kind: 'platinum', unit: 'ohm', ohmsAt0C: 100 } as const;
  const check = {
    checkedAtWall: new Date(WALL_START_MS).toISOString(),
    points: [{ against: 'ice', trueC: 0, withinC: 0.2, readC: 0.4, spreadC: 0.02, stepC: 0.01, readings: 60 }],
  } as const;

  test('what its number is, said in one bowl, goes into the trace of another that it comes to, and its check with it', async () => {
    const { plug, goOn, placing, begin, one, inputsOf, says, bowl } = twoBowls();
    plug('usb:a', 'first');
    goOn(3, { 'usb:a': wavy(28) });
    plug('usb:ohms', null);
    const ohms = { id: 'usb:ohms', simulated: false };
    bowl.probes.learn(ohms, { name: 'assign-role', channel: '#1', role: 'bath', sensor });
    bowl.probes.learn(ohms, { name: 'set-correction', offsetC: -0.4, gain: 1, check });
    const run = begin(one);
    says('usb:ohms', '115.54 ohm');
    expect(placing.place({ thermometer: 'usb:ohms', channel: '#1', role: 'bath', bowls: ['bowl-1'] })).toBeNull();
    says('usb:ohms', '115.54 ohm');
    expect(commandsOf(await inputsOf(run), 'bowlside')).toEqual(
      expect.arrayContaining([
        { name: 'assign-role', channel: '#1', role: 'bath', sensor, source: 'usb:ohms' },
        { name: 'set-correction', offsetC: -0.4, gain: 1, check, source: 'usb:ohms' },
      ]),
    );
  });

  test('what a person says a number is stays known of the thermometer, where the bench says what it is in', () => {
    const { plug, goOn, one, placing, bowl, router } = twoBowls();
    plug('usb:ohms', 'first');
    goOn(2, { 'usb:ohms': () => '112.06 ohm' });
    one.command({ name: 'assign-role', channel: '#1', role: 'chocolate', sensor });
    goOn(2, { 'usb:ohms': () => '112.06 ohm' });
    expect(bowl.probes.of({ id: 'usb:ohms', simulated: false })).toMatchObject({ sensors: { '#1': sensor } });
    expect(one.now(0).reading?.valueC).toBe(31);
    expect(placing.channelsOf(router.feeds[0]!)).toMatchObject([{ channel: '#1', role: 'chocolate' }]);
    expect(placing.channelsOf(router.feeds[0]!)[0]!.valueC).toBeCloseTo(31, 2);
  });

  test('a probe of one bowl is checked by its channel, and is no other bowl’s; what was found is known in each that it serves', () => {
    const { plug, goOn, placing, one, two, bowl } = twoBowls();
    plug('usb:three', 'first');
    const lines = { 'usb:three': (s: number) => `${wavy(28)(s)},0.4${s % 2},${wavy(22)(s)}` };
    goOn(8, lines);
    placing.place({ thermometer: 'usb:three', channel: '2', role: 'chocolate', bowls: ['bowl-2'] });
    placing.place({ thermometer: 'usb:three', channel: '3', role: 'room', bowls: [] });
    goOn(8, lines);
    const probesOf = (session: Session) =>
      session.probe().probes.map(({ role, channel, correction }) => [role, channel, correction.offsetC]);
    expect(probesOf(one)).toEqual([
      ['chocolate', '1', 0],
      ['room', '3', 0],
    ]);
    const asked = { probe: { source: 'usb:three', channel: '2' }, standard: { against: 'ice' }, points: [] } as const;
    expect(one.check(asked)).toMatchObject({ ok: false, because: 'unfit' });
    two.check(asked);
    goOn(61, lines);
    const stands = two.check(asked);
    expect(stands).toMatchObject({ point: { against: 'ice', readC: 0.405 } });
    two.command({ name: 'set-correction', offsetC: -0.4, gain: 1, check, source: 'usb:three', channel: '2' });
    expect(probesOf(two)).toEqual([
      ['chocolate', '2', -0.4],
      ['room', '3', 0],
    ]);
    expect(probesOf(one)[0]).toEqual(['chocolate', '1', 0]);
    two.endCheck();
    goOn(1, lines);
    expect(two.now(0).check).toMatchObject({ checkedAtWall: check.checkedAtWall });
    expect(one.now(0).check).toBeUndefined();
    one.command({ name: 'set-correction', offsetC: 0.5, gain: 1, source: 'usb:three', channel: '3' });
    expect(probesOf(two)[1]).toEqual(['room', '3', 0.5]);
    expect(bowl.probes.of({ id: 'usb:three', simulated: false }).corrections).toMatchObject({
      '2': { correction: { offsetC: -0.4 }, check },
      '3': { correction: { offsetC: 0.5 } },
    });
  });

  test('what is found of a probe in one bowl comes into the run of another that it serves, which keeps it from being checked meanwhile', async () => {
    const { plug, goOn, placing, begin, one, two, inputsOf } = twoBowls();
    plug('usb:a', 'first');
    plug('usb:room', null);
    placing.place({ thermometer: 'usb:room', channel: '', role: 'room', bowls: [] });
    const lines = { 'usb:a': wavy(28), 'usb:room': wavy(22) };
    goOn(8, lines);
    const probe = { source: 'usb:room', channel: null };
    expect(two.check({ probe, standard: null, points: [] })).toMatchObject({ steadiness: { state: 'waiting' } });
    const run = begin(one);
    goOn(2, lines);
    expect(two.check({ probe, standard: null, points: [] })).toMatchObject({
      detail: 'A run in another bowl is going with this probe. Check it after that run.',
    });
    two.command({ name: 'set-correction', offsetC: -0.4, gain: 1, check, source: 'usb:room' });
    goOn(1, lines);
    expect(commandsOf(await inputsOf(run), 'bowlside')).toContainEqual({
      name: 'set-correction',
      offsetC: -0.4,
      gain: 1,
      check,
      source: 'usb:room',
    });
  });

  test('a spare thermometer in the first one’s place works with its own lag, and the first with its own once it is back', async () => {
    const { router, plug, goOn, begin, one, bowl, inputsOf } = twoBowls();
    bowl.probes.setLag({ id: 'usb:a', simulated: false }, 9);
    bowl.probes.setLag({ id: 'usb:spare', simulated: false }, 3);
    plug('usb:a', 'first');
    goOn(3, { 'usb:a': wavy(28) });
    const run = begin(one);
    goOn(3, { 'usb:a': wavy(28) });
    router.add({ id: 'usb:spare', simulated: false }, 'first', 'usb:a');
    goOn(3, { 'usb:spare': wavy(28) });
    router.add({ id: 'usb:a', simulated: false }, 'first', 'usb:spare');
    goOn(3, { 'usb:a': wavy(28) });
    expect(one.now(0).reading?.valueC).toBeCloseTo(28, 0);
    expect(one.now(0).reading?.atMs).toBe(bowl.clock.nowMs());
    const said = commandsOf(await inputsOf(run), 'bowlside').filter((command) => command.name === 'assign-role');
    expect(said).toEqual([
      { name: 'assign-role', channel: '', role: 'chocolate', source: 'usb:spare', lagS: 3 },
      { name: 'assign-role', channel: '', role: 'chocolate', lagS: 9 },
    ]);
    const { header } = bowl.store.openRun(run)!;
    expect(header.probeLagS).toBe(9);
  });

  test('a check holds while the same channel is the chocolate, in whichever bowl, and not for another channel', () => {
    const { plug, goOn, placing, one, two } = twoBowls();
    plug('usb:two', 'first');
    goOn(8, { 'usb:two': (s) => `${wavy(28)(s)},${wavy(45)(s)}` });
    one.command({ name: 'set-correction', offsetC: -0.4, gain: 1, check });
    const put = (channel: string, bowls: readonly string[]) =>
      placing.place({ thermometer: 'usb:two', channel, role: 'chocolate', bowls });
    expect(put('1', ['bowl-2'])).toBeNull();
    expect(two.probe().probes[0]!.check).toEqual(check);
    expect(put('2', ['bowl-1'])).toBeNull();
    expect(one.probe().probes[0]!.check).toBeNull();
  });
});

describe('bowls', () => {
  test('are taken away only when empty, and the last one never', () => {
    const { bowls, plug, goOn, begin, one } = twoBowls();
    plug('usb:a', 'first');
    goOn(3, { 'usb:a': wavy(28) });
    begin(one);
    expect(bowls.remove('bowl-1')).toBe('going');
    expect(bowls.isAnyGoing).toBe(true);
    expect(bowls.remove('bowl-2')).toBeNull();
    one.command({ name: 'end' });
    expect(bowls.remove('bowl-1')).toBe('last');
    expect(bowls.remove('bowl-2')).toBe('unknown');
  });

  test('a bowl that is taken away hands what nobody has placed to the one that is first then', () => {
    const { bowls, plug, goOn, two } = twoBowls();
    plug('usb:a', 'first');
    goOn(2, { 'usb:a': wavy(28) });
    bowls.remove('bowl-1');
    goOn(2, { 'usb:a': wavy(28) });
    expect(two.now(0).reading?.valueC).toBeCloseTo(28, 0);
  });
});
