import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { initialState, step } from '../../server/core/engine.ts';
import type { RunEvent } from '../../server/core/record/event.ts';
import { NO_CORRECTION, type RunHeader } from '../../server/core/record/run.ts';
import { NO_CHOICE } from '../../server/session/idle.ts';
import { type Bowl, BOWL, openBowl } from '../support/server.ts';
import { shipped } from '../support/shipped.ts';
import { freshFolder } from '../support/store.ts';

function toldEvents(bowl: Bowl): RunEvent[] {
  return bowl.told.flatMap((message) => (message.kind === 'news' ? message.events : []));
}

/** The log that a stored trace gives today. */
function replayed(bowl: Bowl, run: string): RunEvent[] {
  const stored = bowl.store.openRun(run);
  if (stored === null) throw new Error('not stored');
  let state = initialState(stored.header);
  const events: RunEvent[] = [];
  for (const input of bowl.store.inputsOf(run)) {
    const output = step(state, input);
    state = output.state;
    events.push(...output.events);
  }
  return events;
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

  test('a simulated bowl keeps nobody waiting', () => {
    const bowl = openBowl();
    const choice = { profile: shipped('dark'), answer: { condition: 'solid' }, atOnce: true } as const;
    bowl.session.use({ id: 'simulated', simulated: true }, choice);
    bowl.reads(20);
    expect(bowl.session.status()).toMatchObject({ state: 'going', simulated: true, info: { simulated: true } });
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

describe('the record', () => {
  test('replaying a run that was judged live gives the same log, ticks or no ticks', async () => {
    const bowl = openBowl();
    const run = bowl.begin();
    bowl.ramp(30, 48, 120);
    bowl.waits(200);
    bowl.ramp(48, 27.5, 300);
    bowl.says({ name: 'act', act: 'off-cold' });
    bowl.waits(20);
    bowl.ramp(27.5, 27.6, 200);
    bowl.says({ name: 'end' });
    await bowl.store.flush();
    const stored = bowl.store.openRun(run)!;
    expect(stored.events.length).toBeGreaterThan(8);
    expect(replayed(bowl, run)).toEqual(stored.events);
  });

  test('a run that was ended is ended in the store too, and the bowl waits for another choice', async () => {
    const bowl = openBowl();
    const run = bowl.begin();
    bowl.says({ name: 'end' });
    expect(bowl.session.status()).toMatchObject({ state: 'waiting', info: null, chosen: { profile: null } });
    bowl.ramp(30, 40, 30);
    expect(bowl.session.status().state).toBe('waiting');
    await bowl.store.flush();
    expect(bowl.store.openRun(run)!.endedAtMs).not.toBeNull();
    expect(toldEvents(bowl).at(-1)!.kind).toBe('run-ended');
  });

  test('a real thermometer does not go on with a simulated run', async () => {
    const bowl = openBowl();
    const choice = { profile: shipped('dark'), answer: { condition: 'solid' }, atOnce: true } as const;
    bowl.session.use({ id: 'simulated', simulated: true }, choice);
    bowl.ramp(20, 30, 20);
    const { run } = bowl.session.status().info!;
    bowl.session.use({ id: 'usb', simulated: false }, { profile: null, answer: null, atOnce: false });
    expect(bowl.session.status()).toMatchObject({ state: 'waiting', simulated: false });
    await bowl.store.flush();
    expect(bowl.store.openRun(run)!.endedAtMs).not.toBeNull();
  });
});

describe('a server that comes back', () => {
  test.each([
    ['before its first checkpoint', 20],
    ['from a checkpoint', 200],
  ])('goes on with the run, %s: same name, same phase, the gap marked', async (_, seconds) => {
    const folder = freshFolder();
    const before = openBowl(folder);
    const run = before.begin();
    before.ramp(30, 47, 100);
    before.ramp(47, 46, seconds);
    await before.store.flush();
    const phase = before.session.now(0).estimate?.phase;
    const events = before.store.openRun(run)!.events;
    const lastAtMs = before.clock.nowMs();
    await before.store.close();

    const gapMs = 600_000;
    const after = openBowl(folder, lastAtMs + gapMs);
    const found = after.store.runToResume(BOWL, Date.now() + gapMs, 2 * 3_600_000)!;
    expect(after.session.resume(found)).toBe(true);
    after.ramp(46, 46, 3);
    expect(after.session.now(0)).toMatchObject({ run, estimate: { phase } });
    expect(after.session.status().info).toMatchObject({ run, resumed: true });
    await after.store.flush();
    const stored = after.store.openRun(run)!;
    expect(stored.events.slice(0, events.length)).toEqual(events);
    expect(stored.events.slice(events.length)).toContainEqual(
      expect.objectContaining({ kind: 'link', up: false, atMs: lastAtMs }),
    );
    expect(stored.events.map(({ seq }) => seq)).toEqual(stored.events.map((_event, i) => i + 1));
    expect(replayed(after, run)).toEqual(stored.events);
  });

  test('gives a page all that the server before it had recorded', async () => {
    const folder = freshFolder();
    const before = openBowl(folder);
    const run = before.begin();
    await before.store.flush();
    const { events } = before.store.openRun(run)!;
    const readings = before.store.readingsOf(run);
    const lastAtMs = before.clock.nowMs();
    await before.store.close();
    const after = openBowl(folder, lastAtMs);
    after.session.resume(after.store.runToResume(BOWL, Date.now(), 1000)!);
    const [snapshot] = after.session.catchUp(null);
    expect(snapshot).toMatchObject({
      kind: 'snapshot',
      events,
      readingCount: readings.length,
      recordedTo: events.length,
    });
  });

  test('does not go on with a run of another engine that it would see otherwise', async () => {
    const folder = freshFolder();
    const before = openBowl(folder);
    const run = before.begin();
    await before.store.flush();
    await before.store.close();
    const after = openBowl(folder, before.clock.nowMs());
    const found = after.store.runToResume(BOWL, Date.now(), 1000)!;
    expect(after.session.resume({ ...found, checkpoint: null, events: found.events.slice(1) })).toBe(false);
    expect(after.session.status().state).toBe('waiting');
    await after.store.flush();
    expect(after.store.openRun(run)!.endedAtMs).toBe(found.lastAtMs);
  });
});

describe('what is known from before', () => {
  /** The header of the run that begins now. */
  async function nextHeader(bowl: Bowl): Promise<RunHeader> {
    const run = bowl.begin();
    await bowl.store.flush();
    return bowl.store.openRun(run)!.header;
  }

  test('of the thermometer: what was said in a run and its lag are what the next run begins with, after a restart too', async () => {
    const folder = freshFolder();
    const before = openBowl(folder);
    expect(await nextHeader(before)).toMatchObject({ probeLagS: null, correction: NO_CORRECTION, roles: {} });
    before.says({ name: 'set-correction', offsetC: -0.5, gain: 1 });
    before.says({ name: 'assign-role', channel: 'T2', role: 'bath' });
    expect(before.session.setProbeLag(6)).toEqual({ ok: true });
    expect(before.session.status()).toMatchObject({ info: { probeLagS: null }, probeLag: { lagS: 6, from: 'said' } });
    before.says({ name: 'end' });
    const known = { probeLagS: 6, correction: { offsetC: -0.5, gain: 1 }, roles: { T2: 'bath' } };
    expect(await nextHeader(before)).toMatchObject(known);
    before.says({ name: 'end' });
    await before.store.flush();
    await before.store.close();
    expect(await nextHeader(openBowl(folder, 3_600_000))).toMatchObject(known);
  });

  test('of one thermometer is not said of another, nor of the simulated bowl', async () => {
    const bowl = openBowl();
    bowl.says({ name: 'set-correction', offsetC: 1, gain: 1 });
    bowl.session.use({ id: 'other', simulated: false }, NO_CHOICE);
    expect(await nextHeader(bowl)).toMatchObject({ correction: NO_CORRECTION });
    bowl.session.use({ id: 'simulated', simulated: true }, NO_CHOICE);
    expect(bowl.session.setProbeLag(6)).toMatchObject({ ok: false, because: 'unfit' });
    bowl.session.use({ id: 'test', simulated: false }, NO_CHOICE);
    expect(await nextHeader(bowl)).toMatchObject({ correction: { offsetC: 1, gain: 1 } });
  });

  test('of the thermometer of a run that goes on is what its commands said', async () => {
    const folder = freshFolder();
    const before = openBowl(folder);
    before.begin();
    before.says({ name: 'set-correction', offsetC: 1, gain: 1 });
    await before.store.flush();
    const lastAtMs = before.clock.nowMs();
    await before.store.close();
    rmSync(join(folder, 'settings.json'));
    const after = openBowl(folder, lastAtMs);
    after.session.resume(after.store.runToResume(BOWL, Date.now(), 1000)!);
    after.says({ name: 'end' });
    expect(await nextHeader(after)).toMatchObject({ correction: { offsetC: 1, gain: 1 } });
  });

  test('of the thermometer of a run that goes on is what is said before it is found again', async () => {
    const folder = freshFolder();
    const before = openBowl(folder);
    before.begin();
    await before.store.flush();
    const lastAtMs = before.clock.nowMs();
    await before.store.close();
    const after = openBowl(folder, lastAtMs);
    after.session.use({ id: 'other', simulated: false }, NO_CHOICE);
    after.session.resume(after.store.runToResume(BOWL, Date.now(), 1000)!);
    after.says({ name: 'set-correction', offsetC: 2, gain: 1 });
    after.session.use({ id: 'test', simulated: false }, NO_CHOICE);
    after.says({ name: 'end' });
    expect(await nextHeader(after)).toMatchObject({ correction: { offsetC: 2, gain: 1 } });
  });

  const taught = (heatCourseS: number) => ({ runs: 1, heatCourseS, coldCourseS: null });

  test('of the bowl: the median of its last five runs stands in the header, and is gone on with after a restart', async () => {
    let heatCourseS = 9_000;
    const bowl = openBowl(freshFolder(), 0, () => taught(heatCourseS));
    expect(await nextHeader(bowl)).not.toHaveProperty('learned');
    for (const nextS of [400, 500, 600, 700, 800]) {
      bowl.says({ name: 'end' });
      await bowl.store.flush();
      heatCourseS = nextS;
      await nextHeader(bowl);
    }
    bowl.says({ name: 'end' });
    await bowl.store.flush();
    const run = bowl.begin();
    expect(bowl.store.learnedBefore(BOWL, false, 10)).toHaveLength(6);
    bowl.ramp(30, 35, 30);
    await bowl.store.flush();
    const learned = { runs: 5, heatCourseS: 600, coldCourseS: null };
    const stored = bowl.store.openRun(run)!;
    expect(stored.header.learned).toEqual(learned);
    expect(bowl.store.runToResume(BOWL, Date.now(), 1000)?.run.header.learned).toEqual(learned);
    expect(replayed(bowl, run)).toEqual(stored.events);
  });

  test('of the bowl is what a run had taught by its last checkpoint, where it was broken off', async () => {
    const folder = freshFolder();
    const before = openBowl(folder, 0, () => taught(400));
    before.begin();
    before.ramp(30, 35, 70);
    await before.store.flush();
    const lastAtMs = before.clock.nowMs();
    await before.store.close();
    const after = openBowl(folder, lastAtMs + 3 * 3_600_000);
    expect(after.store.runToResume(BOWL, Date.now() + 3 * 3_600_000, 2 * 3_600_000)).toBeNull();
    expect((await nextHeader(after)).learned).toEqual(taught(400));
  });

  test('of a simulated bowl is not said of a real one', async () => {
    const bowl = openBowl(freshFolder(), 0, () => taught(400));
    const choice = { profile: shipped('dark'), answer: { condition: 'solid' }, atOnce: true } as const;
    bowl.session.use({ id: 'simulated', simulated: true }, choice);
    bowl.ramp(20, 30, 20);
    bowl.says({ name: 'end' });
    await bowl.store.flush();
    expect(bowl.store.learnedBefore(BOWL, true, 5)).toEqual([taught(400)]);
    bowl.session.use({ id: 'test', simulated: false }, NO_CHOICE);
    expect(await nextHeader(bowl)).not.toHaveProperty('learned');
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
