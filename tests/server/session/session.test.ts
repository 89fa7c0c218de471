/** A bowl live: what it waits for, what it refuses, what it tells and when. */
import { describe, expect, test } from 'vitest';
import type { RunEvent } from '../../../server/core/record/event.ts';
import { type Bowl, openBowl } from '../../support/server.ts';
import { shipped } from '../../support/shipped.ts';
import { allRuns } from '../../support/store.ts';

function toldEvents(bowl: Bowl): RunEvent[] {
  return bowl.told.flatMap((message) => (message.kind === 'news' ? message.events : []));
}

describe('waiting', () => {
  test('with no choice made there is a live number, and no run however warm it gets', () => {
    const bowl = openBowl();
    bowl.ramp(20, 45, 60);
    expect(bowl.session.status()).toMatchObject({ state: 'waiting', chosen: { profile: null, condition: null } });
    const now = bowl.session.now(1);
    expect(now).toMatchObject({ kind: 'now', run: null, standing: null, stale: false, reading: { valueC: 45 } });
    expect(now.estimate?.tempC).toBeGreaterThan(40);
    expect(bowl.told).toEqual([]);
  });

  test('with a choice made it waits for the chocolate to warm', () => {
    const bowl = openBowl();
    bowl.choose('solid');
    bowl.ramp(20, 20.2, 60);
    expect(bowl.session.status()).toMatchObject({ state: 'waiting', chosen: { profile: 'dark', condition: 'solid' } });
    bowl.ramp(20.2, 22, 30);
    expect(bowl.session.status()).toMatchObject({ state: 'going', info: { condition: 'solid', simulated: false } });
  });

  test('chocolate that is warm when the choice is made begins at once, with the minute before it', async () => {
    const bowl = openBowl();
    bowl.ramp(31, 31.5, 90);
    bowl.choose('tempered');
    const { info } = bowl.session.status();
    if (info === null) throw new Error('no run began');
    await bowl.store.flush();
    const inputs = bowl.store.inputsOf(info.run);
    expect(inputs.at(-1)).toMatchObject({ kind: 'command', command: { name: 'start', phase: 'work' } });
    expect(inputs.filter(({ kind }) => kind === 'reading')).toHaveLength(61);
    expect(info.startedAtMs).toBe(inputs[0]!.atMs);
  });

  test('a phase named by a flag is where it begins', () => {
    const bowl = openBowl();
    bowl.session.use(
      { id: 'test', simulated: false },
      { profile: shipped('dark'), answer: { startAt: 'rewarm' }, atOnce: false },
    );
    bowl.ramp(28, 28.5, 10);
    expect(bowl.session.status().info).toMatchObject({ condition: 'solid' });
    expect(bowl.session.now(0).estimate?.phase).toBe('rewarm');
  });

  test('a simulated bowl begins anew for a run with solid chocolate, and nothing of the bowl before is in it', async () => {
    const bowl = openBowl();
    const begun: string[] = [];
    bowl.session.use(
      { id: 'simulated', simulated: true, beginAnew: ({ id }) => begun.push(id) },
      { profile: null, answer: null, atOnce: false },
    );
    bowl.ramp(31, 31.5, 30);
    bowl.choose('tempered');
    expect(bowl.session.status().state).toBe('going');
    bowl.session.command({ name: 'end' });
    expect(begun).toEqual([]);
    bowl.choose('solid');
    expect(begun).toEqual(['dark']);
    bowl.ramp(26, 29, 60);
    const { info } = bowl.session.status();
    await bowl.store.flush();
    const values = bowl.store
      .inputsOf(info!.run)
      .flatMap((input) => (input.kind === 'reading' ? [input.valuesC.chocolate ?? NaN] : []));
    expect(Math.max(...values)).toBeLessThan(29.5);
    expect(values.length).toBeGreaterThan(30);
  });

  test('a simulated bowl keeps nobody waiting', () => {
    const bowl = openBowl();
    const choice = { profile: shipped('dark'), answer: { condition: 'solid' }, atOnce: true } as const;
    bowl.session.use({ id: 'simulated', simulated: true }, choice);
    bowl.reads(20);
    expect(bowl.session.status()).toMatchObject({ state: 'going', simulated: true, info: { simulated: true } });
  });
});

describe('what a person says at the start', () => {
  test('T4 is not believed of temper where no seed can be left: asked again, with both figures', () => {
    const bowl = openBowl();
    bowl.ramp(47, 47, 20);
    const answer = bowl.choose('tempered');
    expect(answer).toMatchObject({ ok: false, because: 'unfit' });
    expect(answer.ok ? '' : answer.detail).toBe(
      'It is at 47.0 °C, and over 34 °C no seed is left: it cannot be in temper. Is it melted, or still solid?',
    );
    expect(bowl.session.status()).toMatchObject({ state: 'waiting', chosen: { profile: null } });
    expect(bowl.choose('melted')).toEqual({ ok: true });
    expect(bowl.session.status().state).toBe('going');
  });

  test('T4 is believed below that, and where nothing is read yet', () => {
    const warm = openBowl();
    warm.ramp(31.5, 31.5, 20);
    expect(warm.choose('tempered')).toEqual({ ok: true });
    expect(openBowl().choose('tempered')).toEqual({ ok: true });
  });

  test('is told to every screen while the chocolate has not warmed yet', () => {
    const bowl = openBowl();
    bowl.ramp(20, 20, 5);
    expect(bowl.session.now(1)).not.toHaveProperty('waitingFor');
    bowl.choose('solid');
    expect(bowl.session.now(1).waitingFor).toEqual({ title: shipped('dark').title, condition: 'solid' });
    bowl.ramp(20, 28, 20);
    expect(bowl.session.now(1)).not.toHaveProperty('waitingFor');
  });

  test('comes beside the room, where a probe measures it: the newest of the last minute', () => {
    const bowl = openBowl();
    bowl.reads(21);
    expect(bowl.session.now(1)).not.toHaveProperty('roomC');
    const atMs = bowl.clock.nowMs();
    bowl.session.feed({ atMs, source: 'test', kind: 'reading', valuesC: { chocolate: 21, room: 23.4 } });
    expect(bowl.session.now(1).roomC).toBe(23.4);
    bowl.waits(61);
    expect(bowl.session.now(1)).not.toHaveProperty('roomC');
  });
});

describe('commands that do not fit the moment are refused with a reason', () => {
  test.each(['next', 'back', 'end'] as const)('%s, while no run is going', (name) => {
    expect(openBowl().says({ name })).toMatchObject({ ok: false, because: 'unfit' });
  });

  test('a start before anything is chosen, at an unknown phase, or over a run that is going', () => {
    const bowl = openBowl();
    expect(bowl.says({ name: 'start', phase: 'melt' })).toMatchObject({ ok: false, because: 'unfit' });
    bowl.choose('solid');
    expect(bowl.says({ name: 'start', phase: 'anneal' })).toMatchObject({ ok: false, because: 'wrong' });
    expect(bowl.says({ name: 'start', phase: 'melt' })).toEqual({ ok: true });
    expect(bowl.says({ name: 'start', phase: 'melt' })).toMatchObject({ ok: false, because: 'unfit' });
  });

  test('what is said of a thermometer that is not in this bowl, in a run too: nothing of it is kept', async () => {
    const bowl = openBowl();
    bowl.begin();
    const said = { name: 'set-correction', offsetC: 1.5, gain: 1, source: 'usb:gone' } as const;
    expect(bowl.says(said)).toMatchObject({ ok: false, because: 'unfit' });
    const { run } = bowl.session.status().info!;
    bowl.says({ name: 'end' });
    await bowl.store.flush();
    expect(bowl.store.openRun(run)!.header.companions).toBeUndefined();
  });

  test('a correction set before the run is what the run is judged with', () => {
    const bowl = openBowl();
    bowl.reads(30);
    bowl.says({ name: 'set-correction', offsetC: 1.5, gain: 1 });
    expect(bowl.session.now(0).reading?.valueC).toBe(31.5);
    bowl.choose('tempered');
    const { info } = bowl.session.status();
    expect(info).not.toBeNull();
    expect(bowl.session.now(0).reading?.valueC).toBe(31.5);
  });
});

describe('write, then tell', () => {
  test('what a run brings is told once it is on disk, and says so', async () => {
    const bowl = openBowl();
    bowl.ramp(31, 31, 70);
    bowl.choose('tempered');
    const { run } = bowl.session.status().info!;
    expect(bowl.told.map(({ kind }) => kind)).toEqual(['snapshot']);
    await bowl.store.flush();
    const stored = bowl.store.openRun(run)!;
    expect(toldEvents(bowl)).toEqual(stored.events);
    const readingCount = bowl.store.readingsOf(run).length;
    expect(bowl.told.at(-1)).toMatchObject({ recordedTo: stored.events.length, readingCount });
  });

  test('the list is told of a run that begins and of one that ends, each when it stands so on disk', async () => {
    const bowl = openBowl();
    const found: (readonly [string, boolean | undefined])[] = [];
    bowl.session.onTell((message) => {
      if (message.kind !== 'run-changed') return;
      const line = allRuns(bowl.store).find(({ run }) => run === message.run);
      found.push([message.run, line === undefined ? undefined : line.endedAtMs === null]);
    });
    const run = bowl.begin();
    expect(found).toEqual([]);
    await bowl.store.flush();
    bowl.ramp(30, 31, 20);
    await bowl.store.flush();
    expect(found).toEqual([[run, true]]);
    bowl.says({ name: 'end' });
    await bowl.store.flush();
    expect(found).toEqual([
      [run, true],
      [run, false],
    ]);
  });

  test('an alarm does not wait: it is told in the same breath, with everything before it, and marked as not yet recorded', () => {
    const bowl = openBowl();
    bowl.choose('tempered');
    bowl.ramp(31.5, 31.5, 5);
    const before = bowl.told.length;
    for (let i = 0; i < 120 && !toldEvents(bowl).some(({ kind }) => kind === 'alarm-raised'); i++)
      bowl.reads(31.5 + i * 0.05);
    const news = bowl.told.slice(before);
    const events = toldEvents(bowl);
    expect(events.at(-1)!.kind).toBe('alarm-raised');
    expect(events.map(({ seq }) => seq)).toEqual(events.map((_, i) => i + 1));
    expect(news.at(-1)).toMatchObject({ kind: 'news', recordedTo: 0, events: expect.arrayContaining([events.at(-1)]) });
  });

  test('what quiets an alarm on the other screens does not wait either', () => {
    const bowl = openBowl();
    bowl.choose('tempered');
    bowl.ramp(31.5, 31.5, 5);
    for (let i = 0; i < 120 && !toldEvents(bowl).some(({ kind }) => kind === 'alarm-raised'); i++)
      bowl.reads(31.5 + i * 0.05);
    const alarm = toldEvents(bowl).flatMap((event) => (event.kind === 'alarm-raised' ? [event.alarm] : []))[0]!;
    for (const name of ['quieten', 'acknowledge'] as const) {
      bowl.session.command({ name, alarm });
      expect(toldEvents(bowl).at(-1)!.kind).toBe(name === 'quieten' ? 'alarm-quietened' : 'alarm-acknowledged');
    }
  });

  test('a disk that takes nothing for a second silences nothing', () => {
    const bowl = openBowl();
    bowl.begin();
    // The disk's answer comes through the event loop, which never turns here: to the session the disk stands still.
    bowl.waits(2);
    expect(toldEvents(bowl).map(({ kind }) => kind)).toContain('phase-entered');
    expect(bowl.told.at(-1)).toMatchObject({ kind: 'news', recordedTo: 0 });
  });

  test('everything is told exactly once and in order, whatever the disk does meanwhile', async () => {
    const bowl = openBowl();
    const run = bowl.begin();
    for (let i = 0; i < 12; i++) {
      bowl.ramp(30 + i, 31 + i, 20);
      if (i % 3 === 0) await bowl.store.flush();
      if (i % 4 === 0) bowl.waits(2);
    }
    await bowl.store.flush();
    const stored = bowl.store.openRun(run)!;
    expect(toldEvents(bowl)).toEqual(stored.events);
    const readings = bowl.told.flatMap((message) => (message.kind === 'news' ? message.readings : []));
    expect(readings.map(([atMs]) => atMs)).toEqual(bowl.store.readingsOf(run).map(({ atMs }) => atMs));
  });
});

describe('chocolate that nobody has named', () => {
  test('goes by the most careful ceiling: over 46 it is told as white’s, until it has cooled', () => {
    const bowl = openBowl();
    bowl.ramp(40, 45.5, 60);
    expect(bowl.session.now(1).careful).toBeNull();
    bowl.ramp(45.5, 47, 30);
    expect(bowl.session.now(1)).toMatchObject({ run: null, careful: { limitC: 46, coating: 'white' } });
    bowl.ramp(47, 44, 60);
    expect(bowl.session.now(1).careful).toBeNull();
  });

  test('is named by the choice: the warning is over and the run’s own ceiling begins', () => {
    const bowl = openBowl();
    bowl.ramp(45, 48, 60);
    expect(bowl.session.now(1).careful).not.toBeNull();
    bowl.choose('solid');
    expect(bowl.session.status().state).toBe('going');
    expect(bowl.session.now(1).careful).toBeNull();
  });

  test('has its own ceiling where only how it stands is not said', () => {
    const bowl = openBowl();
    bowl.session.use({ id: 'test', simulated: false }, { profile: shipped('dark'), answer: null, atOnce: false });
    bowl.ramp(46, 50, 60);
    expect(bowl.session.now(1).careful).toBeNull();
    bowl.ramp(50, 53, 60);
    expect(bowl.session.now(1).careful).toEqual({ limitC: 52, coating: 'dark' });
  });
});
