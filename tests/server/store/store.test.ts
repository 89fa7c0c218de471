/** The store on real files: what is handed over is on disk, comes back as it was, and is never said to be recorded before it is. */
import { expect, test } from 'vitest';
import type { Learned } from '../../../server/core/record/run.ts';
import type { NoteInfo } from '../../../server/core/show/wire.ts';
import { HEADER_BYTES } from '../../../server/store/columns.ts';
import { openForReading, openForWriting } from '../../../server/store/database.ts';
import type { NewRun, StoreHealth } from '../../../server/store/records.ts';
import { dataFileIn, type Store } from '../../../server/store/store.ts';
import { allRuns, freshFolder, madeTurn, madeTurns, newRun, openedStore } from '../../support/store.ts';

const NOTE: NoteInfo = {
  id: 'n1',
  atMs: 4_000,
  text: 'Ana: second tray of ginger',
  by: 'Ana',
  writtenAtWall: '2026-11-25T09:10:00.000Z',
};

const LEARNED: Learned = { runs: 1, heatCourseS: null, coldCourseS: 600 };

/** Each turn with its own commit, so that blocks and tallies are carried on from one transaction to the next. */
async function recordInPieces(store: Store, run: string, fromTurn: number, toTurn: number): Promise<void> {
  for (let turn = fromTurn; turn <= toTurn; turn++) {
    store.append(run, madeTurn(turn));
    if (turn % 97 === 0) await store.flush();
  }
  await store.flush();
}

test('a run comes back as it was recorded, across a restart in the middle of it', async () => {
  const folder = freshFolder();
  const before = openedStore(folder);
  before.beginRun(newRun('r1'));
  await recordInPieces(before, 'r1', 1, 900);
  await before.close();

  const after = openedStore(folder);
  await recordInPieces(after, 'r1', 901, 1500);
  after.annotate('r1', NOTE);
  after.endRun('r1', 150_000);
  await after.flush();

  const turns = madeTurns(1500);
  expect(after.inputsOf('r1')).toEqual(turns.map((turn) => turn.input));
  expect(after.openRun('r1')).toEqual({
    ...newRun('r1'),
    turns: 1500,
    endedAtMs: 150_000,
    binnedAtWall: null,
    importedAtWall: null,
    card: [],
    lost: [],
    events: turns.flatMap((turn) => turn.events),
    notes: [NOTE],
  });
  expect(after.readingsOf('r1')).toEqual(turns.flatMap((turn) => turn.readings));
});

test('the list knows each run without opening it, newest first', async () => {
  const store = openedStore(freshFolder());
  store.beginRun(newRun('r1'));
  store.beginRun(newRun('r2', { simulated: true, bowl: 'bowl-2' }));
  for (const turn of madeTurns(3000)) store.append('r1', turn);
  store.endRun('r1', 300_000);
  await store.flush();

  const [newest, older] = allRuns(store);
  expect(newest).toMatchObject({
    run: 'r2',
    bowl: 'bowl-2',
    simulated: true,
    endedAtMs: null,
    durationMs: 0,
    tiles: [],
  });
  expect(older).toMatchObject({ run: 'r1', title: 'Dark for candied ginger', endedAtMs: 300_000, durationMs: 300_000 });
  expect(older?.tiles.length).toBeLessThanOrEqual(120);
  expect(Math.max(...(older?.tiles ?? []).map(([, , highC]) => highC ?? 0))).toBe(35);
});

test('[S6] the curve of a run can be had in as few columns as wanted, its peak included', async () => {
  const store = openedStore(freshFolder());
  store.beginRun(newRun('r1'));
  for (const turn of madeTurns(3000)) store.append('r1', turn);
  await store.flush();
  for (const columns of [1, 7, 200]) {
    const tiles = store.tilesOf('r1', columns);
    expect(tiles.length).toBeLessThanOrEqual(columns);
    expect(Math.max(...tiles.map(([, , highC]) => highC ?? 0))).toBe(35);
  }
  expect(store.tilesOf('r1', 1000)).toHaveLength(301);
});

test('of a stretch just what was read in it, out of the minutes it touches alone', async () => {
  const folder = freshFolder();
  const store = openedStore(folder);
  store.beginRun(newRun('r1'));
  for (const turn of madeTurns(3000)) store.append('r1', turn);
  await store.flush();
  const read = (fromMs: number, toMs: number): number[] =>
    store.readingsOf('r1', { fromMs, toMs }).map(({ atMs }) => atMs);
  expect(read(60_000, 60_300)).toEqual([60_000, 60_100, 60_200, 60_300]);
  expect(read(119_900, 120_000)).toEqual([119_900, 120_000]);
  expect(read(299_950, Infinity)).toEqual([300_000]);
  expect(read(-Infinity, 150)).toEqual([100]);
  expect(read(300_001, 400_000)).toEqual([]);
  expect(store.readingsOf('nowhere')).toEqual([]);
  expect(store.tilesOf('r1', 100, { fromMs: 60_000, toMs: 69_999 }).map(([atMs]) => atMs)).toEqual(
    Array.from({ length: 10 }, (_, i) => 60_000 + i * 1_000),
  );
  const other = openForWriting(`${folder}/bowlside.sqlite`, false);
  other.exec(`UPDATE blocks SET tiles = x'07', readings = substr(readings, 1, ${HEADER_BYTES}) WHERE block <> 2`);
  other.close();
  expect(read(130_000, 130_100)).toEqual([130_000, 130_100]);
  expect(store.tilesOf('r1', 100, { fromMs: 130_000, toMs: 139_999 })).toHaveLength(10);
  expect(() => store.readingsOf('r1')).toThrow(RangeError);
});

/** A run that taught a course of so many seconds, told with a checkpoint and, where it ended, with its end. */
function taughtRun(store: Store, run: string, heatCourseS: number, ends: boolean, more: Partial<NewRun> = {}): void {
  store.beginRun(newRun(run, more));
  const learned = { ...LEARNED, heatCourseS: heatCourseS - 1 };
  store.append(run, madeTurn(1), { atMs: 100, state: '{}', learned: ends ? learned : { ...LEARNED, heatCourseS } });
  if (ends) store.endRun(run, 200, { ...LEARNED, heatCourseS });
}

test('what runs taught of a bowl is kept, newest first, of that bowl and that kind alone, of runs that broke off too', async () => {
  const folder = freshFolder();
  const before = openedStore(folder);
  taughtRun(before, 'r1', 301, true);
  taughtRun(before, 'other bowl', 900, true, { bowl: 'bowl-2' });
  taughtRun(before, 'simulated', 800, true, { simulated: true });
  taughtRun(before, 'r2', 302, false);
  before.beginRun(newRun('nothing taught'));
  before.append('nothing taught', madeTurn(1), { atMs: 100, state: '{}', learned: null });
  before.endRun('nothing taught', 200, null);
  taughtRun(before, 'r3', 303, true);
  await before.flush();
  await before.close();

  const after = openedStore(folder);
  const courses = (bowl: string, simulated: boolean, most: number): (number | null)[] =>
    after.learnedBefore(bowl, simulated, most).map(({ heatCourseS }) => heatCourseS);
  expect(courses('bowl-1', false, 5)).toEqual([303, 302, 301]);
  expect(courses('bowl-1', false, 2)).toEqual([303, 302]);
  expect(courses('bowl-1', true, 5)).toEqual([800]);
  expect(courses('bowl-2', false, 5)).toEqual([900]);
  expect(courses('bowl-3', false, 5)).toEqual([]);
});

test('a run that is ended by one who does not know what it taught keeps what its checkpoint said', async () => {
  const store = openedStore(freshFolder());
  taughtRun(store, 'r1', 301, false);
  store.endRun('r1', 200);
  await store.flush();
  expect(store.learnedBefore('bowl-1', false, 5)).toEqual([{ ...LEARNED, heatCourseS: 301 }]);
});

test('what cannot be read of what runs taught is left out, and keeps no run from beginning', async () => {
  const folder = freshFolder();
  const store = openedStore(folder);
  taughtRun(store, 'r1', 301, true);
  taughtRun(store, 'r2', 302, true);
  await store.flush();
  const other = openForWriting(`${folder}/bowlside.sqlite`, false);
  other.exec(`UPDATE runs SET learned = '{"runs":' WHERE run = 'r2'`);
  expect(store.learnedBefore('bowl-1', false, 5)).toEqual([{ ...LEARNED, heatCourseS: 301 }]);
  other.exec('ALTER TABLE runs RENAME COLUMN learned TO unlearned');
  expect(store.learnedBefore('bowl-1', false, 5)).toEqual([]);
  other.exec('ALTER TABLE runs RENAME COLUMN unlearned TO learned');
  other.close();
});

test('[S9] a file that nobody can read any more keeps no run from beginning, nor one from going on', async () => {
  const folder = freshFolder();
  const store = openedStore(folder);
  store.beginRun(newRun('before'));
  store.append('before', madeTurn(1));
  await store.flush();
  await store.close();
  const again = openedStore(folder);
  expect(again.runToResume('bowl-1', Date.now(), 60_000)).toMatchObject({ run: { run: 'before' } });
  const other = openForWriting(dataFileIn(folder), false);
  other.exec('ALTER TABLE runs RENAME TO lost_runs');
  again.append('before', madeTurn(2));
  again.endRun('before', 200);
  again.beginRun(newRun('after'));
  again.append('after', madeTurn(1));
  await expect(again.flush()).rejects.toThrow();
  expect(again.health()).toMatchObject({ recording: false, waiting: 4 });
  other.exec('ALTER TABLE lost_runs RENAME TO runs');
  other.close();
  await expect.poll(() => again.health()).toEqual({ recording: true });
  expect(allRuns(again).map(({ run }) => run)).toEqual(expect.arrayContaining(['before', 'after']));
});

test('an unknown run is nothing, and nothing can be appended to it', () => {
  const store = openedStore(freshFolder());
  expect(store.openRun('nowhere')).toBeNull();
  expect(store.inputsOf('nowhere')).toEqual([]);
  expect(() => store.append('nowhere', madeTurn(1))).toThrow('there is no run nowhere');
  store.beginRun(newRun('r1'));
  expect(() => store.beginRun(newRun('r1'))).toThrow('there is a run r1 already');
});

test('[S1] what is said to be on disk is on disk, seen through another connection', async () => {
  const folder = freshFolder();
  const store = openedStore(folder);
  const other = openForReading(`${folder}/bowlside.sqlite`);
  const onDisk = other.prepare('SELECT count(*) FROM inputs').pluck();
  const told: { turns: number; seen: number }[] = [];
  store.onCommitted((_run, _seq, turns) => told.push({ turns, seen: Number(onDisk.get()) }));
  store.beginRun(newRun('r1'));
  await recordInPieces(store, 'r1', 1, 500);
  other.close();
  expect(told.length).toBeGreaterThan(4);
  for (const { turns, seen } of told) expect(seen).toBeGreaterThanOrEqual(turns);
  expect(told.at(-1)?.turns).toBe(500);
});

test('a single turn is committed without anyone asking', async () => {
  const store = openedStore(freshFolder());
  store.beginRun(newRun('r1'));
  store.append('r1', madeTurn(1));
  await expect(nextCommit(store)).resolves.toEqual(['r1', 1, 1]);
});

function nextCommit(store: Store): Promise<[run: string, seq: number, turns: number]> {
  return new Promise((resolve) => store.onCommitted((...told) => resolve(told)));
}

test('[S3] while another program holds the file nothing is lost, the trouble is told, and all is written afterwards', async () => {
  const folder = freshFolder();
  const store = openedStore(folder);
  store.beginRun(newRun('r1'));
  await store.flush();

  const other = openForWriting(`${folder}/bowlside.sqlite`, false);
  other.exec('BEGIN IMMEDIATE');
  const trouble = nextHealth(store);
  for (const turn of madeTurns(300)) store.append('r1', turn);
  expect(await trouble).toMatchObject({ recording: false, reason: 'the disk does not answer', waiting: 300 });
  store.append('r1', madeTurn(301));

  const recovery = nextHealth(store);
  other.exec('ROLLBACK');
  other.close();
  expect(await recovery).toEqual({ recording: true });
  expect(store.inputsOf('r1')).toHaveLength(301);
});

test('[S3] while the disk refuses to write nothing is lost, and it is tried again until it takes it', async () => {
  const folder = freshFolder();
  const store = openedStore(folder);
  store.beginRun(newRun('r1'));
  await store.flush();

  const other = openForWriting(`${folder}/bowlside.sqlite`, false);
  other.exec(`CREATE TRIGGER no_room BEFORE INSERT ON inputs BEGIN SELECT raise(ABORT, 'no room'); END`);
  const trouble = nextHealth(store);
  const handedOverMs = Date.now();
  for (const turn of madeTurns(50)) store.append('r1', turn);
  const told = await trouble;
  expect(told).toMatchObject({ recording: false, reason: 'no room', waiting: 50 });
  if (!told.recording) expect(told.sinceWallMs).toBeGreaterThanOrEqual(handedOverMs);
  await expect(store.flush()).rejects.toThrow('no room');
  expect(store.inputsOf('r1')).toEqual([]);

  const recovery = nextHealth(store);
  other.exec('DROP TRIGGER no_room');
  other.close();
  expect(await recovery).toEqual({ recording: true });
  expect(store.readingsOf('r1')).toEqual(madeTurns(50).flatMap((turn) => turn.readings));
});

function nextHealth(store: Store): Promise<StoreHealth> {
  return new Promise((resolve) => store.onHealth(resolve));
}

test('[F10] what is read piece by piece ends where it was opened, and is whole or breaks off', async () => {
  const store = openedStore(freshFolder());
  store.beginRun(newRun('r1'));
  await recordInPieces(store, 'r1', 1, 4_500);
  const { turns } = store.openRun('r1')!;
  const [inputs, readings] = [store.eachInputOf('r1', turns), store.eachReadingOf('r1')];
  await recordInPieces(store, 'r1', 4_501, 4_600);
  expect([...inputs]).toEqual(madeTurns(4_500).map(({ input }) => input));
  expect([...readings]).toEqual(madeTurns(4_600).flatMap((turn) => turn.readings));

  store.endRun('r1', 460_000);
  await store.flush();
  store.bin('r1', '2026-11-25T15:00:00.000Z');
  await store.flush();
  const cutOff = [store.eachInputOf('r1', 4_600), store.eachReadingOf('r1')].map((each) => each[Symbol.iterator]());
  for (const each of cutOff) each.next();
  expect(await store.purge('r1')).toBe(true);
  for (const each of cutOff) expect(() => Array.from({ length: 4_600 }, () => each.next())).toThrow(/deleted/);
  expect(() => [...store.eachReadingOf('nowhere')]).toThrow();
}, 30_000);
