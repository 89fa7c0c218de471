/** Opening a data folder: one server at a time, no newer data, nothing damaged replaced in silence, nothing old lost on the way up. */
import type { RunEvent } from '../../../server/core/record/event.ts';
import {
  mkdirSync,
  openSync,
  closeSync,
  readFileSync,
  readdirSync,
  rmdirSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { encodeTiles } from '../../../server/store/columns.ts';
import { openForReading, openForWriting, unfitSqlite } from '../../../server/store/database.ts';
import { readyDataFile } from '../../../server/store/datafile.ts';
import { MIGRATIONS, versionOf } from '../../../server/store/migrations.ts';
import { Reader } from '../../../server/store/reader.ts';
import { openStore } from '../../../server/store/store.ts';
import {
  BUILT_WRITER,
  allRuns,
  folderWithRuns,
  freshFolder,
  madeTurns,
  newRun,
  openedStore,
} from '../../support/store.ts';

const NOW_MS = Date.UTC(2026, 10, 25, 9, 30, 0);

function overwrite(file: string, atByte: number, bytes: Uint8Array): void {
  const handle = openSync(file, 'r+');
  writeSync(handle, bytes, 0, bytes.length, atByte);
  closeSync(handle);
}

function noise(length: number): Uint8Array {
  return Uint8Array.from({ length }, (_, i) => (i * 167 + 13) % 256);
}

test('[S7] a folder that another server uses is refused by name and process, and free again once that one has closed', async () => {
  const folder = freshFolder();
  const first = openedStore(folder);
  const second = openStore(folder, { writerScript: BUILT_WRITER });
  expect(second).toMatchObject({ ok: false, reason: 'in-use' });
  if (!second.ok) {
    expect(second.message).toContain(folder);
    expect(second.message).toContain(`process ${process.pid}`);
  }
  await first.close();
  expect(openedStore(folder).notices).toEqual([]);
});

test('[S8] the file of a newer version is refused and left untouched', async () => {
  const folder = await folderWithRuns(['r1'], 10);
  const file = join(folder, 'bowlside.sqlite');
  const db = openForWriting(file, false);
  db.pragma(`user_version = ${MIGRATIONS.length + 1}`);
  db.close();
  const before = readFileSync(file);
  expect(openStore(folder, { writerScript: BUILT_WRITER })).toMatchObject({ ok: false, reason: 'newer-data' });
  expect(readFileSync(file).equals(before)).toBe(true);
});

test('a stop comes to its end whatever the disk refuses, and lets go of the folder', async () => {
  const folder = freshFolder();
  const store = openedStore(folder);
  const pidFile = join(folder, 'server.pid');
  rmSync(pidFile);
  mkdirSync(pidFile);
  await store.close();
  rmdirSync(pidFile);
  openedStore(folder);
});

test('a folder that cannot be one is refused in a sentence', () => {
  const folder = join(freshFolder(), 'taken');
  writeFileSync(folder, 'a file');
  expect(openStore(folder, { writerScript: BUILT_WRITER })).toMatchObject({ ok: false, reason: 'unusable-folder' });
  const inner = freshFolder();
  mkdirSync(join(inner, 'bowlside.sqlite'));
  expect(openStore(inner, { writerScript: BUILT_WRITER })).toMatchObject({ ok: false, reason: 'unusable-folder' });
});

test('[S9] a file whose first bytes are destroyed is kept aside, and its runs are saved', async () => {
  const folder = await folderWithRuns(['r1', 'r2'], 700);
  const file = join(folder, 'bowlside.sqlite');
  overwrite(file, 0, noise(100));
  const damaged = readFileSync(file);

  const store = openedStore(folder);
  const aside = readdirSync(folder).find((name) => name.startsWith('bowlside-damaged-')) ?? 'none';
  expect(store.notices).toEqual([
    `The data file was damaged (file is not a database). It has been kept as ${aside}; 2 runs were saved from it.`,
  ]);
  expect(readFileSync(join(folder, aside)).equals(damaged)).toBe(true);
  expect(store.readingsOf('r1')).toEqual(madeTurns(700).flatMap((turn) => turn.readings));
  expect(store.inputsOf('r2')).toHaveLength(700);
});

test('a file with nothing left to read is kept aside and said to be', () => {
  for (const bytes of [noise(50_000), new Uint8Array(0)]) {
    const folder = freshFolder();
    writeFileSync(join(folder, 'bowlside.sqlite'), bytes);
    const store = openedStore(folder);
    expect(store.notices).toHaveLength(1);
    expect(store.notices[0]).toContain('no run could be saved from it');
    expect(allRuns(store)).toEqual([]);
    expect(readdirSync(folder).some((name) => name.startsWith('bowlside-damaged-'))).toBe(true);
  }
});

test('[S9] wherever a page is destroyed, the start goes on, says so, and each run that is kept is kept whole', async () => {
  const names = ['r1', 'r2', 'r3', 'r4'];
  const source = readFileSync(join(await folderWithRuns(names, 900), 'bowlside.sqlite'));
  const pages = Math.floor(source.length / 4096);
  let kept = 0;
  for (let page = 1; page < pages; page += Math.ceil(pages / 16)) {
    const file = join(freshFolder(), 'bowlside.sqlite');
    writeFileSync(file, source);
    overwrite(file, page * 4096, noise(4096));
    const opened = readyDataFile(file, NOW_MS);
    const reader = new Reader(file);
    const runs = allRuns(reader).map(({ run }) => run);
    for (const run of runs) expect(reader.inputs(run, 0)).toEqual(madeTurns(900).map((turn) => turn.input));
    expect(opened.ok && (opened.notices.length === 1 || runs.length === names.length)).toBe(true);
    kept += runs.length;
    reader.close();
  }
  expect(kept).toBeGreaterThan(names.length * 8);
});

test('[S9] a run that is not as it was recorded is found out though every page is sound, and the others are saved', async () => {
  const folder = await folderWithRuns(['r1', 'r2', 'r3'], 50);
  const file = join(folder, 'bowlside.sqlite');
  const db = openForWriting(file, false);
  db.exec(`UPDATE inputs SET input = replace(input, 'T=31', 'T=32') WHERE run_id = 2 AND turn = 7`);
  db.close();
  const store = openedStore(folder);
  expect(store.notices).toEqual([
    expect.stringMatching(
      /^The data file was damaged \(a run is not as it was recorded\)\..* 2 runs were saved from it; 1 /,
    ),
  ]);
  expect(allRuns(store).map(({ run }) => run)).toEqual(expect.arrayContaining(['r1', 'r3']));
  expect(store.has('r2')).toBe(false);
});

test.each(['tags', 'visits', 'title'])(
  '[S9] a list of runs of which one has a garbled %s is no empty one',
  async (column) => {
    const folder = await folderWithRuns(['r1', 'r2'], 20);
    const db = openForWriting(join(folder, 'bowlside.sqlite'), false);
    db.exec(`UPDATE runs SET ${column} = '[' WHERE id = 2`);
    db.close();
    const store = openedStore(folder);
    expect(store.notices).toEqual([expect.stringContaining('2 runs were saved from it.')]);
    expect(allRuns(store).map(({ run }) => run)).toEqual(['r2', 'r1']);
  },
);

test('[S9] what was recorded before sums were kept has its sum from the first start on', async () => {
  const folder = await folderWithRuns(['r1', 'r2'], 50);
  const file = join(folder, 'bowlside.sqlite');
  const db = openForWriting(file, false);
  db.exec(
    'DROP TRIGGER runs_labelled; DROP TRIGGER runs_relabelled; DROP TRIGGER runs_added_summed; DROP TRIGGER runs_summed',
  );
  db.exec('DROP TABLE record_sums');
  for (const column of ['sum', 'record_sum', 'label_sum', 'bowl_name'])
    db.exec(`ALTER TABLE runs DROP COLUMN ${column}`);
  db.pragma(`user_version = ${MIGRATIONS.findIndex((step) => step.includes('COLUMN sum '))}`);
  db.close();
  expect(readyDataFile(file, NOW_MS)).toMatchObject({ ok: true });
  const later = openForWriting(file, false);
  later.exec(`DELETE FROM events WHERE run_id = 1 AND seq = 7`);
  later.close();
  expect(readyDataFile(file, NOW_MS)).toMatchObject({
    notices: [expect.stringContaining('1 run was saved from it; 1 could not be read in full')],
  });
});

test('[S8] an older file is brought up to date step by step, and a copy of it as it was is kept', () => {
  const file = join(freshFolder(), 'bowlside.sqlite');
  const older = ['CREATE TABLE bowls (name TEXT) STRICT'];
  const newer = [...older, 'ALTER TABLE bowls ADD COLUMN size_l REAL', `UPDATE bowls SET size_l = 2`];
  expect(readyDataFile(file, NOW_MS, older)).toEqual({ ok: true, notices: [] });
  const db = openForWriting(file, false);
  db.exec(`INSERT INTO bowls VALUES ('steel')`);
  db.close();

  const copy = 'bowlside-version-1-2026-11-25T09-30-00Z.sqlite';
  expect(readyDataFile(file, NOW_MS, newer)).toEqual({
    ok: true,
    notices: [`The data file was brought up to date; a copy of it as it was is kept as ${copy}.`],
  });
  expect(contents(file)).toEqual({ version: 3, rows: [{ name: 'steel', size_l: 2 }] });
  expect(contents(join(file, '..', copy))).toEqual({ version: 1, rows: [{ name: 'steel' }] });
});

const ENTERED: readonly RunEvent[] = [
  { seq: 1, atMs: 0, kind: 'phase-entered', phase: 'melt', from: null, by: 'reached' },
  { seq: 2, atMs: 4000, kind: 'act', act: 'stirred' },
  { seq: 3, atMs: 5000, kind: 'phase-entered', phase: 'cool', from: 'melt', by: 'reached' },
];

test('[S8] a file of before it was kept what runs taught has its runs, and keeps it from now on', async () => {
  const folder = freshFolder();
  const file = join(folder, 'bowlside.sqlite');
  readyDataFile(file, NOW_MS, MIGRATIONS.slice(0, 1));
  const { header } = newRun('old');
  const db = openForWriting(file, false);
  db.prepare(
    `INSERT INTO runs (id, run, bowl, profile, title, coating, header, source, simulated, started_at_ms, started_at_wall, ended_at_ms,
       last_at_ms, last_wall_ms, span_ms, tiles)
     VALUES (7, 'old', 'bowl-1', 'dark', 'Dark', 'dark', ?, 'serial', 0, 0, '2026-11-25T09:00:00.000Z', 9000, 9000, 0, 1000, ?)`,
  ).run(JSON.stringify(header), Buffer.from(encodeTiles([])));
  const addEvent = db.prepare('INSERT INTO events VALUES (7, ?, ?)');
  for (const event of ENTERED) addEvent.run(event.seq, JSON.stringify(event));
  db.close();

  const store = openedStore(folder);
  expect(store.notices).toEqual([
    expect.stringContaining('brought up to date; a copy of it as it was is kept as bowlside-version-1-'),
  ]);
  expect(store.openRun('old')).toMatchObject({ ...newRun('old'), endedAtMs: 9000, card: [], binnedAtWall: null });
  expect(allRuns(store)[0]?.visits).toEqual([
    { phase: 'melt', atMs: 0 },
    { phase: 'cool', atMs: 5000 },
  ]);
  expect(store.runs({ most: 9, after: 0, words: 'DARK' }).total).toBe(1);
  expect(store.learnedBefore('bowl-1', false, 5)).toEqual([]);
  const learned = { runs: 1, heatCourseS: 400, coldCourseS: null };
  store.beginRun(newRun('new'));
  store.append('new', madeTurns(1)[0]!);
  store.endRun('new', 100, learned);
  await store.flush();
  expect(store.learnedBefore('bowl-1', false, 5)).toEqual([learned]);
});

test('[S8] a step that fails leaves the file as it was before that step', () => {
  const file = join(freshFolder(), 'bowlside.sqlite');
  const older = ['CREATE TABLE bowls (name TEXT) STRICT'];
  readyDataFile(file, NOW_MS, older);
  const broken = [...older, `INSERT INTO bowls VALUES ('copper'); INSERT INTO nowhere VALUES (1)`];
  expect(readyDataFile(file, NOW_MS, broken)).toMatchObject({ ok: false, reason: 'unusable-folder' });
  expect(contents(file)).toEqual({ version: 1, rows: [] });
});

function contents(file: string): { version: number; rows: unknown[] } {
  const db = openForReading(file);
  const found = { version: versionOf(db), rows: db.prepare('SELECT * FROM bowls').all() };
  db.close();
  return found;
}

test('a file left half made by a crash is made anew', () => {
  const folder = freshFolder();
  writeFileSync(join(folder, 'bowlside.sqlite.new'), noise(3000));
  expect(openedStore(folder).notices).toEqual([]);
  expect(statSync(join(folder, 'bowlside.sqlite')).size).toBeGreaterThan(0);
});

test('versions of SQLite that can damage their own log are refused', () => {
  expect(['3.51.2', '3.50.9', '2.99.99'].map((version) => unfitSqlite(version) === null)).toEqual([
    false,
    false,
    false,
  ]);
  expect(['3.51.3', '3.52.0', '4.0.0'].map((version) => unfitSqlite(version))).toEqual([null, null, null]);
  expect(unfitSqlite()).toBeNull();
});

test('the file is set to sync every commit', () => {
  const db = openForWriting(join(freshFolder(), 'any.sqlite'), true);
  expect(db.pragma('journal_mode', { simple: true })).toBe('wal');
  expect(db.pragma('synchronous', { simple: true })).toBe(2);
  db.close();
});
