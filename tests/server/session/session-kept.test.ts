/** What a bowl keeps: the record of a run, a run that goes on after a restart, and what earlier ones taught. */
import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { initialState, step } from '../../../server/core/engine.ts';
import type { RunEvent } from '../../../server/core/record/event.ts';
import { NO_CORRECTION, type RunHeader } from '../../../server/core/record/run.ts';
import { NAMED_MOST } from '../../../server/session/answer.ts';
import { NO_CHOICE } from '../../../server/session/idle.ts';
import { CHECKPOINT_EVERY } from '../../../server/session/live-run.ts';
import { type Bowl, BOWL, openBowl } from '../../support/server.ts';
import { shipped } from '../../support/shipped.ts';
import { freshFolder } from '../../support/store.ts';

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

test('another thermometer in the bowl, in the middle of a run too: what the one before it said is no line of it', () => {
  const bowl = openBowl();
  const up = (label: string, sample: string) => bowl.session.link({ state: 'up', label, sample });
  const said = () => {
    const { link, lastLine } = bowl.session.now(0);
    return { lastLine, samples: [link, bowl.session.status().link].map((each) => 'sample' in each && each.sample) };
  };
  bowl.begin();
  up('old', 'T=24.0');
  bowl.hears('T=30.1');
  expect(said()).toEqual({ lastLine: 'T=30.1', samples: ['T=30.1', 'T=30.1'] });
  bowl.session.use({ id: 'other', simulated: false }, NO_CHOICE);
  up('new', '29.95 C');
  expect(bowl.session.status().state).toBe('going');
  expect(said()).toEqual({ lastLine: null, samples: ['29.95 C', '29.95 C'] });
  bowl.passes(1);
  bowl.session.feed({ atMs: bowl.clock.nowMs(), source: 'other', kind: 'line', text: '30.05 C' });
  expect(said()).toEqual({ lastLine: '30.05 C', samples: ['30.05 C', '30.05 C'] });
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

  test('steps no more inputs again than a start has time for, however fast they came', async () => {
    const folder = freshFolder();
    const before = openBowl(folder);
    before.begin();
    before.says({ name: 'act', act: 'stirred' });
    for (let n = 0; n < 3 * CHECKPOINT_EVERY; n++) before.hears(`30.${n % 10}`, 10);
    await before.store.flush();
    const { estimate } = before.session.now(0);
    const lastAtMs = before.clock.nowMs();
    await before.store.close();
    const after = openBowl(folder, lastAtMs);
    const found = after.store.runToResume(BOWL, Date.now(), 60_000)!;
    expect(found.inputsSince.length).toBeLessThan(CHECKPOINT_EVERY);
    expect(found.said).toContainEqual(
      expect.objectContaining({ kind: 'command', command: { name: 'act', act: 'stirred' } }),
    );
    expect(found.said.every(({ kind }) => kind !== 'line' && kind !== 'reading')).toBe(true);
    after.session.resume(found);
    expect(after.session.now(0).estimate).toEqual(estimate);
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
    after.session.resume(after.store.runToResume(BOWL, Date.now(), 60_000)!);
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
    const found = after.store.runToResume(BOWL, Date.now(), 60_000)!;
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

  test('is said of as many channels as a line may have, and of no more; of those it can be said anew', () => {
    const bowl = openBowl();
    const settings = () => readFileSync(join(bowl.store.folder, 'settings.json'), 'utf8');
    const role = (channel: string) => bowl.says({ name: 'assign-role', channel, role: 'ignored' });
    for (let n = 0; n < NAMED_MOST; n++) expect(role(`T${n}`)).toEqual({ ok: true });
    const kept = settings();
    const refused = { ok: false, because: 'unfit', detail: expect.stringContaining(`of ${NAMED_MOST} channels`) };
    expect(role('one more')).toEqual(refused);
    expect(bowl.says({ name: 'set-correction', offsetC: 1, gain: 1, channel: 'one more' })).toEqual(refused);
    expect(settings()).toBe(kept);
    expect(bowl.says({ name: 'assign-role', channel: 'T7', role: 'bath' })).toEqual({ ok: true });
    expect(bowl.says({ name: 'set-correction', offsetC: 1, gain: 1 })).toEqual({ ok: true });
    bowl.begin();
    expect(role('one more')).toEqual(refused);
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
    after.session.resume(after.store.runToResume(BOWL, Date.now(), 60_000)!);
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
    after.session.resume(after.store.runToResume(BOWL, Date.now(), 60_000)!);
    after.says({ name: 'set-correction', offsetC: 2, gain: 1 });
    after.session.use({ id: 'test', simulated: false }, NO_CHOICE);
    after.says({ name: 'end' });
    expect(await nextHeader(after)).toMatchObject({ correction: { offsetC: 2, gain: 1 } });
  });

  const taught = (heatCourseS: number) => ({ runs: 1, heatCourseS, coldCourseS: null, coastS: null });

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
    const learned = { runs: 5, heatCourseS: 600, coldCourseS: null, coastS: null };
    const stored = bowl.store.openRun(run)!;
    expect(stored.header.learned).toEqual(learned);
    expect(bowl.store.runToResume(BOWL, Date.now(), 60_000)?.run.header.learned).toEqual(learned);
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
