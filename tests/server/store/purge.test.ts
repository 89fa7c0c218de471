/** Deleted for good: nothing of the run is left, nothing of the others is touched, and no piece is large. */
import { closeSync, openSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { BLOCKS_AT_ONCE, ROWS_AT_ONCE } from '../../../server/store/purge.ts';
import { openForReading, openForWriting } from '../../../server/store/database.ts';
import type { Database } from '../../../server/store/database.ts';
import { readyDataFile } from '../../../server/store/datafile.ts';
import { Recorder } from '../../../server/store/recorder.ts';
import type { Entry } from '../../../server/store/batch.ts';
import { allRuns, folderWithRuns, freshFolder, madeTurn, madeTurns, newRun, openedStore } from '../../support/store.ts';

const AT = '2026-11-25T15:00:00.000Z';
const LATER = '2026-12-26T15:00:00.000Z';

/** A file with two ended runs, each with a row in every table there is. */
function filled(turns: number): Database {
  const file = join(freshFolder(), 'bowlside.sqlite');
  readyDataFile(file, 0);
  const db = openForWriting(file, false);
  onTestFinished(() => void db.close());
  for (const run of ['r1', 'r2']) new Recorder(db).commit(entriesOf(run, turns));
  for (const table of tablesOf(db).filter((name) => rowsOf(db, name, 'r1') === 0)) fillByHand(db, table);
  return db;
}

function entriesOf(run: string, turns: number): Entry[] {
  const span = { fromTurn: turns + 1, toTurn: turns + 5, fromMs: turns * 100, toMs: turns * 100 + 500 };
  const note = { id: 'n1', atMs: 100, text: 'lumps', by: null, writtenAtWall: AT };
  return [
    { kind: 'begin', run: newRun(run), wallMs: 0 },
    ...madeTurns(turns).map((content, i): Entry => {
      return { kind: 'turn', run, turn: i + 1, wallMs: 0, content, checkpoint: null };
    }),
    { kind: 'lost', run, span, wallMs: 0, events: [], checkpoint: null },
    { kind: 'note', run, note },
    { kind: 'card', run, entry: { writtenAtWall: AT, by: null, change: { lot: 'G-1' } } },
    { kind: 'end', run, endedAtMs: turns * 100, learned: null },
  ];
}

function tablesOf(db: Database): string[] {
  return db
    .prepare(`SELECT name FROM sqlite_schema WHERE type = 'table' AND sql LIKE '%REFERENCES runs%' ORDER BY name`)
    .pluck()
    .all() as string[];
}

/** Rows of tables that no entry of the recorder fills here: something fitting in every column. */
function fillByHand(db: Database, table: string): void {
  const columns = db.prepare(`SELECT name, type FROM pragma_table_info('${table}')`).all() as {
    name: string;
    type: string;
  }[];
  const fitting = { INTEGER: '1', REAL: '1.0', TEXT: `'x'`, BLOB: `x'00'` } as Readonly<Record<string, string>>;
  const values = columns.map(({ name, type }) => (name === 'run_id' ? 'id' : fitting[type]!));
  db.exec(`INSERT INTO ${table} SELECT ${values.join(', ')} FROM runs`);
}

function rowsOf(db: Database, table: string, run: string): number {
  return Number(
    db.prepare(`SELECT count(*) FROM ${table} WHERE run_id = (SELECT id FROM runs WHERE run = ?)`).pluck().get(run),
  );
}

function allRows(db: Database): number {
  return tablesOf(db).reduce(
    (sum, table) => sum + Number(db.prepare(`SELECT count(*) FROM ${table}`).pluck().get()),
    0,
  );
}

test('[S11] a run is deleted out of every table in small pieces, and the other stays as it was', () => {
  const db = filled(4_500);
  const recorder = new Recorder(db);
  const ofOther = tablesOf(db).map((table) => rowsOf(db, table, 'r2'));
  expect(ofOther.every((count) => count > 0)).toBe(true);
  recorder.commit([{ kind: 'bin', run: 'r1', binnedAtWall: AT }]);
  let pieces = 0;
  for (; db.prepare(`SELECT 1 FROM runs WHERE run = 'r1'`).get() !== undefined; pieces++) {
    const before = allRows(db);
    recorder.commit([{ kind: 'purge', run: 'r1', before: null }]);
    expect(before - allRows(db)).toBeLessThanOrEqual(ROWS_AT_ONCE);
    expect(pieces).toBeLessThan(50);
  }
  expect(pieces).toBeGreaterThan(6);
  expect(BLOCKS_AT_ONCE).toBeLessThan(ROWS_AT_ONCE);
  expect(tablesOf(db).map((table) => rowsOf(db, table, 'r2'))).toEqual(ofOther);
  expect(allRows(db)).toBe(ofOther.reduce((sum, count) => sum + count, 0));
});

test('what is going, and what does not lie in the bin, is not deleted', () => {
  const db = filled(10);
  const recorder = new Recorder(db);
  recorder.commit([{ kind: 'purge', run: 'r1', before: null }]);
  recorder.commit([{ kind: 'begin', run: newRun('going'), wallMs: 0 }]);
  recorder.commit([{ kind: 'turn', run: 'going', turn: 1, wallMs: 0, content: madeTurn(1), checkpoint: null }]);
  recorder.commit([{ kind: 'bin', run: 'going', binnedAtWall: AT }]);
  recorder.commit([{ kind: 'purge', run: 'going', before: null }]);
  expect(rowsOf(db, 'inputs', 'r1')).toBe(10);
  expect(rowsOf(db, 'inputs', 'going')).toBe(1);
  expect(db.prepare(`SELECT binned_at_wall FROM runs WHERE run = 'going'`).pluck().get()).toBeNull();
});

test('[S11] it cannot be opened, listed or taken out again once its deletion has begun, and cut off there it is gone on with', async () => {
  const folder = await folderWithRuns(['r1', 'r2'], 2_500);
  const before = openedStore(folder);
  before.bin('r1', AT);
  await before.flush();
  const cut = openForWriting(join(folder, 'bowlside.sqlite'), false);
  new Recorder(cut).commit([{ kind: 'purge', run: 'r1', before: null }]);
  expect(before.openRun('r1')).toBeNull();
  expect(before.runs({ most: 9, after: 0, bin: 'yes' })).toEqual({ total: 0, runs: [] });
  before.bin('r1', null);
  await before.flush();
  expect(before.openRun('r1')).toBeNull();
  expect(rowsOf(cut, 'inputs', 'r1') + rowsOf(cut, 'events', 'r1')).toBeGreaterThan(0);
  cut.close();
  await before.close();

  const after = openedStore(folder);
  await after.emptyBin('2000-01-01T00:00:00.000Z');
  expect(after.inputsOf('r1')).toEqual([]);
  expect(allRuns(after).map(({ run }) => run)).toEqual(['r2']);
  const db = openForReading(join(folder, 'bowlside.sqlite'));
  expect(db.prepare('SELECT count(*) FROM runs').pluck().get()).toBe(1);
  expect(allRows(db)).toBe(2 * 2_500 + 6);
  db.close();
});

test('the bin is emptied of what has lain there long enough, while another run is recorded', async () => {
  const folder = await folderWithRuns(['r1', 'r2', 'r3'], 300);
  const store = openedStore(folder);
  store.bin('r1', AT);
  store.bin('r2', LATER);
  store.beginRun(newRun('going'));
  await store.flush();
  const emptying = store.emptyBin('2026-12-25T00:00:00.000Z');
  for (const turn of madeTurns(500)) store.append('going', turn);
  await emptying;
  await store.flush();
  expect(store.openRun('r1')).toBeNull();
  expect(store.openRun('r2')).toMatchObject({ binnedAtWall: LATER });
  expect(store.inputsOf('going')).toHaveLength(500);
  expect(() => store.bin('r1', null)).toThrow('there is no run r1');
  expect(await store.purge('r3')).toBe(false);
  expect(store.openRun('r3')?.binnedAtWall).toBeNull();
});

test('what came out of the bin in time, and went back into it, has its time there anew', async () => {
  const folder = await folderWithRuns(['r1', 'r2'], 10);
  const store = openedStore(folder);
  for (const run of ['r1', 'r2']) store.bin(run, AT);
  await store.flush();
  const emptying = store.emptyBin('2026-12-25T00:00:00.000Z');
  store.bin('r2', null);
  store.bin('r2', LATER);
  await emptying;
  expect(store.openRun('r1')).toBeNull();
  expect(store.openRun('r2')).toMatchObject({ binnedAtWall: LATER });
  const deleting = store.purge('r2');
  store.bin('r2', LATER);
  expect(await deleting).toBe(true);
});

test('deleting that finds the run out of the bin is over: it is not deleted when it goes there again', async () => {
  const folder = await folderWithRuns(['r1'], 2_500);
  const store = openedStore(folder);
  store.bin('r1', AT);
  await store.flush();
  store.bin('r1', null);
  expect(await store.purge('r1')).toBe(false);
  store.bin('r1', LATER);
  await store.flush();
  expect(store.openRun('r1')).toMatchObject({ binnedAtWall: LATER });
  expect(store.inputsOf('r1')).toHaveLength(2_500);
});

test('a damaged run is left where it is, and recording goes on', async () => {
  const folder = await folderWithRuns(['r1'], 3_000);
  const store = openedStore(folder);
  store.bin('r1', AT);
  store.beginRun(newRun('going'));
  await store.flush();
  await store.close();
  const db = openForReading(join(folder, 'bowlside.sqlite'));
  const root = Number(db.prepare(`SELECT rootpage FROM sqlite_schema WHERE name = 'events'`).pluck().get());
  const pageSize = Number(db.pragma('page_size', { simple: true }));
  db.close();
  const handle = openSync(join(folder, 'bowlside.sqlite'), 'r+');
  writeSync(handle, Buffer.alloc(pageSize, 0xff), 0, pageSize, (root - 1) * pageSize);
  closeSync(handle);
  const damaged = openForWriting(join(folder, 'bowlside.sqlite'), false);
  const recorder = new Recorder(damaged);
  for (let i = 0; i < 10; i++) recorder.commit([{ kind: 'purge', run: 'r1', before: null }]);
  recorder.commit([
    { kind: 'turn', run: 'going', turn: 1, wallMs: 0, content: { ...madeTurn(1), events: [] }, checkpoint: null },
    { kind: 'purge', run: 'r1', before: null },
    { kind: 'turn', run: 'going', turn: 2, wallMs: 0, content: { ...madeTurn(2), events: [] }, checkpoint: null },
    { kind: 'card', run: 'going', entry: { writtenAtWall: AT, by: null, change: { lot: 'G-2' } } },
  ]);
  expect(damaged.prepare('SELECT run, lot, turns FROM runs ORDER BY id').all()).toEqual([
    { run: 'r1', lot: null, turns: 3_000 },
    { run: 'going', lot: 'G-2', turns: 2 },
  ]);
  expect(rowsOf(damaged, 'inputs', 'going')).toBe(2);
  damaged.close();
});
