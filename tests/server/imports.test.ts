/** Runs handed over and brought in again: the same to the byte, all of it or nothing. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CardEntry } from '../../server/core/record/card.ts';
import type { RunEvent } from '../../server/core/record/event.ts';
import { decodeRunFile, encodeRunFile } from '../../server/core/record/trace.ts';
import { drained } from '../../server/core/record/drained.ts';
import { checkedRunFile, type Taken, takenIn } from '../../server/intake/intake.ts';
import { openForWriting } from '../../server/store/database.ts';
import { replay } from '../../server/commands/replay.ts';
import type { NoteInfo } from '../../server/core/show/wire.ts';
import { logOf, logPath, readTrace, storyNames, tracePath } from '../support/fixtures.ts';
import { exported, kitchenWithRun, sent, WALL } from '../support/handed.ts';
import { BOWL, openKitchen } from '../support/server.ts';
import { allRuns, freshFolder, madeTurn, newRun, openedStore } from '../support/store.ts';

describe('a run that is handed over and brought in', () => {
  it.each(['ended', 'going'])('[F10] is the same to the byte when it is handed over again: %s', async (state) => {
    const { kitchen, run } = await kitchenWithRun();
    if (state === 'ended') kitchen.bowl.says({ name: 'end' });
    const first = await exported(kitchen, run);
    const other = await openKitchen();
    expect(await sent(other, first)).toEqual({ status: 201, body: { run } });
    expect(other.bowl.told).toContainEqual({ kind: 'run-changed', bowl: BOWL, run });
    expect(await exported(other, run)).toBe(first);
    const [here, there] = [kitchen, other].map(({ bowl }) => bowl.store.openRun(run)!);
    expect(other.bowl.store.readingsOf(run)).toEqual(kitchen.bowl.store.readingsOf(run));
    expect(there!.importedAtWall).not.toBeNull();
    expect(here!.importedAtWall).toBeNull();
    expect(there!.endedAtMs).not.toBeNull();
    const listed = ([one]: ReturnType<typeof allRuns>) => [
      one!.title,
      one!.visits,
      one!.standing,
      one!.tiles,
      one!.lot,
      one!.tags,
    ];
    expect(listed(allRuns(other.bowl.store))).toEqual(listed(allRuns(kitchen.bowl.store)));
  });

  it('is a run like any other: it can be noted on, and is there after a restart', async () => {
    const { kitchen, run } = await kitchenWithRun();
    const file = await exported(kitchen, run);
    const other = await openKitchen();
    await sent(other, file);
    other.bowl.session.annotate(run, { id: 'later', atMs: 5, text: 'read again', by: null, writtenAtWall: WALL });
    const again = await exported(other, run);
    expect(again.split('\n').length).toBe(file.split('\n').length + 1);
    expect(other.bowl.store.runToResume('bowl-1', Date.now(), Infinity)).toBeNull();
  });

  it('[F9] replays with its notes and card in it, and gives the log that stands there', async () => {
    const { kitchen, run } = await kitchenWithRun();
    kitchen.bowl.says({ name: 'end' });
    const path = join(freshFolder(), 'run.jsonl');
    writeFileSync(path, await exported(kitchen, run));
    const said: string[] = [];
    const io = { out: () => undefined, err: (line: string) => void said.push(line), profilesFolder: 'none' };
    expect(await replay([path, '--check'], io)).toBe(0);
    expect(said).toEqual([]);
  });

  it('[F10] of more inputs than are read at once is whole', async () => {
    const kitchen = await openKitchen();
    const run = kitchen.bowl.begin();
    kitchen.bowl.ramp(30, 46, 2_200);
    const file = await exported(kitchen, run);
    const decoded = decodeRunFile(file);
    expect(decoded.ok && decoded.value.inputs).toEqual(kitchen.bowl.store.inputsOf(run));
    const rows = (await exported(kitchen, run, 'table.csv')).trimEnd().split('\r\n');
    expect(rows).toHaveLength(1 + kitchen.bowl.store.readingsOf(run).length);
  });

  it('[F11] is refused where it is already, and nothing is changed', async () => {
    const { kitchen, run } = await kitchenWithRun();
    const file = await exported(kitchen, run);
    const answer = await sent(kitchen, file);
    expect(answer).toMatchObject({
      status: 409,
      body: { detail: 'This run is here already, perhaps in the bin. Nothing was changed.' },
    });
    expect(await exported(kitchen, run)).toBe(file);
  });

  it('is refused where nobody could have set its correction, which is named as it stands in the file', () => {
    const trace = readTrace('clean-dark');
    const far = { correction: { offsetC: 99, gain: 1 } };
    const beside = { ...far, roles: {}, decimalComma: null };
    const refusal = (wrong: object): string => {
      const text = encodeRunFile({ ...trace, header: { ...trace.header, ...wrong } });
      const read = drained(checkedRunFile(text));
      return read.ok ? '' : `${read.line}: ${read.reason}`;
    };
    expect(refusal(far)).toMatch(/^1: correction\.offsetC is 99/);
    expect(refusal({ corrections: { T1: far } })).toMatch(/^1: corrections\.T1\.correction\.offsetC is 99/);
    expect(refusal({ companions: { spare: beside } })).toMatch(/^1: companions\.spare\.correction\.offsetC is 99/);
  });

  it('says what it would become without keeping anything', async () => {
    const { kitchen, run } = await kitchenWithRun();
    const file = await exported(kitchen, run);
    const other = await openKitchen();
    const { status, body } = await sent(other, file, {}, 'imports/preview');
    expect(status).toBe(200);
    expect(body).toMatchObject({ kind: 'run', run, isHere: false, title: 'Dark chocolate', notes: 3 });
    expect((await sent(kitchen, file, {}, 'imports/preview')).body['isHere']).toBe(true);
    expect(allRuns(other.bowl.store)).toEqual([]);
  });

  it('[F10] whatever was noted and written on its card, over every story', async () => {
    const kitchen = await openKitchen();
    const words = fc.string({ unit: 'grapheme', maxLength: 80 });
    const names = words.filter((text) => text.trim() !== '' && text.length <= 40);
    const note = fc.record({
      id: fc.uuid(),
      atMs: fc.nat(3_600_000),
      text: words.filter((text) => text.trim() !== ''),
      by: fc.option(names),
      writtenAtWall: fc.constant(WALL),
    });
    const entry = fc.record({
      writtenAtWall: fc
        .date({ min: new Date(0), max: new Date('2100-01-01'), noInvalidDate: true })
        .map((at) => at.toISOString()),
      by: fc.option(names),
      change: fc.record({ lot: fc.option(names), tags: fc.array(names, { maxLength: 3 }) }, { requiredKeys: [] }),
    });
    const said = fc.sample(
      fc.record({
        notes: fc.uniqueArray(note, { selector: ({ id }) => id, maxLength: 6 }),
        card: fc.uniqueArray(entry, { selector: ({ writtenAtWall }) => writtenAtWall, maxLength: 4 }),
      }),
      { seed: 4330, numRuns: storyNames().length },
    ) as { readonly notes: NoteInfo[]; readonly card: CardEntry[] }[];
    for (const [at, story] of storyNames().entries()) {
      const trace = readTrace(story);
      const log = decodeRunFile(readFileSync(logPath(story), 'utf8'));
      if (!log.ok) throw new Error(log.reason);
      const labels = {
        run: story,
        bowl: 'bowl-1',
        source: 'story',
        simulated: false,
        startedAtMs: trace.inputs[0]!.atMs,
        startedAtWall: WALL,
      };
      const file = encodeRunFile({ ...trace, what: 'run', labels, events: log.value.events, ...said[at]! });
      expect(await sent(kitchen, file), story).toEqual({ status: 201, body: { run: story } });
      expect(await exported(kitchen, story), story).toBe(file);
    }
  }, 120_000);
});

describe('while it is brought in', () => {
  /** A run of some thousand lines, taken in: made by whoever asks first, for all. */
  let long: Promise<{ readonly run: string; readonly taken: Taken }> | null = null;

  async function longRun() {
    const { kitchen, run } = await kitchenWithRun();
    kitchen.bowl.ramp(30, 46, 4_000);
    const decoded = decodeRunFile(await exported(kitchen, run));
    if (!decoded.ok) throw new Error(decoded.reason);
    const unsaid = { newId: () => 'x', name: null, startedAtWall: WALL, importedAtWall: WALL };
    const taken = drained(takenIn(decoded.value, unsaid));
    if (!taken.ok) throw new Error(taken.reason);
    return { run, taken: taken.value };
  }

  /** A store, and that run to bring in. */
  async function storeAndRun() {
    const known = await (long ??= longRun());
    const folder = freshFolder();
    return { store: openedStore(folder), folder, ...known };
  }

  it('it is taken in with many stops, however many events one of its inputs brings', async () => {
    const { run, kitchen } = await kitchenWithRun();
    const decoded = decodeRunFile(await exported(kitchen, run));
    if (!decoded.ok) throw new Error(decoded.reason);
    const { inputs, events, ...file } = decoded.value;
    const last = events.at(-1)!;
    const more = Array.from({ length: 10_000 }, (_, at): RunEvent => {
      return {
        seq: events.length + 1 + at,
        atMs: last.atMs,
        kind: 'phase-entered',
        phase: 'x',
        from: null,
        by: 'hand',
      };
    });
    const unsaid = { newId: () => 'x', name: null, startedAtWall: WALL, importedAtWall: WALL };
    const work = takenIn({ ...file, inputs, events: [...events, ...more] }, unsaid);
    let stops = 0;
    let step = work.next();
    for (; step.done !== true; step = work.next()) stops += 1;
    expect(stops).toBeGreaterThan(inputs.length + 8);
    if (!step.value.ok) throw new Error(step.value.reason);
    const { content } = step.value.value;
    expect(content.events).toEqual([...events, ...more].map((event) => JSON.stringify(event)));
    expect(content.tally.visits.filter(({ phase }) => phase === 'x')).toHaveLength(more.length);
  });

  it('[S2] [F11] what is recorded meanwhile is on disk long before it, and nothing of it is seen until all is there', async () => {
    const { store, run, taken } = await storeAndRun();
    let isIn = false;
    const coming = store.bringIn(taken.run, taken.content).then(() => (isIn = true));
    store.beginRun(newRun('live'));
    store.append('live', madeTurn(1));
    await store.flush();
    expect(store.inputsOf('live')).toHaveLength(1);
    expect(isIn).toBe(false);
    expect(store.openRun(run)).toBeNull();
    expect(allRuns(store).map((one) => one.run)).toEqual(['live']);
    await expect(store.bringIn(taken.run, taken.content)).rejects.toThrow(/already/);
    await store.emptyBin('2999-01-01T00:00:00.000Z');
    await coming;
    expect(store.inputsOf(run)).toHaveLength(taken.content.inputs.length);
    expect(store.openRun(run)).toMatchObject({ binnedAtWall: null, importedAtWall: WALL });
    expect(allRuns(store).find((listed) => listed.run === run)).toMatchObject({ importedAtWall: WALL });
  });

  it.each(['inputs', 'blocks', 'notes', 'card_entries'])(
    '[F11] a disk that refuses refuses it for good, at once and with nothing left over: %s',
    async (table) => {
      const { store, folder, run, taken } = await storeAndRun();
      const other = openForWriting(join(folder, 'bowlside.sqlite'), false);
      other.exec(`CREATE TRIGGER no_room BEFORE INSERT ON ${table} BEGIN SELECT raise(ABORT, 'no room'); END`);
      await expect(store.bringIn(taken.run, taken.content)).rejects.toThrow('no room');
      other.exec('DROP TRIGGER no_room');
      await expect.poll(() => store.health().recording).toBe(true);
      expect(store.has(run)).toBe(false);
      await store.emptyBin('2999-01-01T00:00:00.000Z');
      expect(other.prepare('SELECT count(*) FROM runs').pluck().get()).toBe(0);
      other.close();
      await store.bringIn(taken.run, taken.content);
      expect(store.openRun(run)?.turns).toBe(taken.content.inputs.length);
    },
    30_000,
  );

  it('[F11] one that refuses at the very last keeps it hidden', async () => {
    const { store, folder, run, taken } = await storeAndRun();
    const other = openForWriting(join(folder, 'bowlside.sqlite'), false);
    other.exec(`CREATE TRIGGER no_room BEFORE UPDATE OF run ON runs BEGIN SELECT raise(ABORT, 'no room'); END`);
    await expect(store.bringIn(taken.run, taken.content)).rejects.toThrow('no room');
    other.exec('DROP TRIGGER no_room');
    other.close();
    await expect.poll(() => store.health().recording).toBe(true);
    expect(store.openRun(run)).toBeNull();
    expect(allRuns(store)).toEqual([]);
    await store.bringIn(taken.run, taken.content);
    expect(allRuns(store)).toHaveLength(1);
  }, 30_000);

  it('it is refused up front where the disk takes nothing, and is not there later', async () => {
    const { kitchen, run } = await kitchenWithRun();
    const file = await exported(kitchen, run);
    const other = await openKitchen();
    const { store } = other.bowl;
    const db = openForWriting(join(store.folder, 'bowlside.sqlite'), false);
    db.exec(`CREATE TRIGGER no_room BEFORE INSERT ON inputs BEGIN SELECT raise(ABORT, 'no room'); END`);
    other.bowl.begin();
    await expect.poll(() => store.health().recording).toBe(false);
    expect(await sent(other, file)).toMatchObject({
      status: 503,
      body: { detail: expect.stringContaining('Nothing was brought in') as unknown },
    });
    db.exec('DROP TRIGGER no_room');
    db.close();
    await expect.poll(() => store.health().recording).toBe(true);
    expect(store.has(run)).toBe(false);
  });
});

describe('a trace that is brought in', () => {
  it('is judged by today’s engine', async () => {
    const kitchen = await openKitchen();
    const story = 'temper-lost-and-recovered';
    const { status, body } = await sent(kitchen, readFileSync(tracePath(story), 'utf8'), { name: 'An old one' });
    expect(status).toBe(201);
    const run = kitchen.bowl.store.openRun(String(body['run']))!;
    const log = logOf(readTrace(story)).trimEnd().split('\n').slice(1);
    expect(run.events.map((event) => JSON.stringify(event))).toEqual(log);
    expect(allRuns(kitchen.bowl.store)[0]).toMatchObject({ name: 'An old one', worstAlarm: 'temper-lost' });
  });

  it('has its own times where it says them, and otherwise ends now, not later', () => {
    const trace = readTrace('clean-dark');
    const unsaid = { newId: () => 'x', name: null, startedAtWall: null, importedAtWall: WALL };
    const began = (more: object): string => {
      const taken = drained(takenIn({ ...trace, what: 'trace', labels: {}, events: [], ...more }, unsaid));
      if (!taken.ok) throw new Error(taken.reason);
      return taken.value.run.startedAtWall;
    };
    const lastedMs = trace.inputs.at(-1)!.atMs - trace.inputs[0]!.atMs;
    expect(began({})).toBe(new Date(Date.parse(WALL) - lastedMs).toISOString());
    expect(began({ labels: { startedAtWall: '2025-03-04T10:00:00.000Z' } })).toBe('2025-03-04T10:00:00.000Z');
  });
});
