/** Backups hold what was on disk, count only when they are whole, and can be put back without a restart and without losing what was there. */
import { existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test, vi } from 'vitest';
import {
  Backups,
  BEFORE_RESTORE_KEPT,
  type BackupsOptions,
  NIGHTS_KEPT,
  userOf,
} from '../../../server/backups/backups.ts';
import { copy } from '../../../server/store/copying.ts';
import { readyDataFile } from '../../../server/store/datafile.ts';
import { MIGRATIONS } from '../../../server/store/migrations.ts';
import { Reader } from '../../../server/store/reader.ts';
import { dataFileIn, type Store } from '../../../server/store/store.ts';
import { Bowl, openBowl } from '../../support/server.ts';
import { allRuns, BUILT_WRITER, freshFolder, madeTurns, newRun, openedStore } from '../../support/store.ts';

const NOW_MS = Date.parse('2026-11-26T10:00:00.000Z');
const COPY_PROCESS = new URL('copy-process.js', BUILT_WRITER);

function backupsOf(store: BackupsOptions['store'], more: Partial<BackupsOptions> = {}): Backups {
  const backups = new Backups({
    store,
    wallNowMs: () => NOW_MS,
    inUseBy: () => null,
    onRestored: () => {},
    ...more,
  });
  onTestFinished(() => backups.close());
  return backups;
}

/** An ended run of so many turns, on disk. */
async function keptRun(store: Store, name: string, turns: number): Promise<void> {
  store.beginRun(newRun(name));
  for (const turn of madeTurns(turns)) store.append(name, turn);
  store.endRun(name, turns * 100);
  await store.flush();
}

const namesOf = (store: Store): string[] => allRuns(store).map(({ run }) => run);

/** What a file of ours holds, read on its own. */
function readFrom<T>(file: string, read: (reader: Reader) => T): T {
  const reader = new Reader(file);
  try {
    return read(reader);
  } finally {
    reader.close();
  }
}

describe('making one', () => {
  test('while a run is recorded copies one moment of it, however often is committed meanwhile, and the run goes on whole', async () => {
    const store = openedStore(freshFolder());
    for (let n = 0; n < 8; n++) await keptRun(store, `before-${n}`, 2_000);
    store.beginRun(newRun('going'));
    const turns = madeTurns(20_000);
    let appended = 0;
    let commits = 0;
    store.onCommitted(() => (commits += 1));
    const feeding = setInterval(() => {
      store.append('going', turns[appended++]!);
      void store.flush();
    }, 1);
    onTestFinished(() => clearInterval(feeding));
    await expect.poll(() => commits).toBeGreaterThan(2);
    const backups = backupsOf(store);
    const answer = await backups.make('by-hand');
    clearInterval(feeding);
    await store.flush();
    if (!answer.ok) throw new Error(answer.detail);
    expect(answer.backup).toMatchObject({ kind: 'by-hand', damage: null, madeAtWall: '2026-11-26T10:00:00.000Z' });
    expect(backups.list()).toEqual([answer.backup]);
    expect(readdirSync(backups.folder)).toEqual([answer.backup.name]);
    readFrom(backups.fileOf(answer.backup.name)!, (reader) => {
      expect(reader.runs({ most: 100, after: 0 }).total).toBe(9);
      const inputs = reader.inputs('going', 0);
      expect(inputs.length).toBeGreaterThan(0);
      expect(inputs).toEqual(turns.slice(0, inputs.length).map(({ input }) => input));
      expect(reader.standstillOf('going')!.turns).toBe(inputs.length);
    });
    expect(store.inputsOf('going')).toHaveLength(appended);
  });

  test('one at a time: who asks meanwhile is told to wait', async () => {
    const store = openedStore(freshFolder());
    await keptRun(store, 'a', 100);
    const backups = backupsOf(store);
    const first = backups.make('by-hand');
    expect(backups.busyWith).toBe('backup');
    expect(await backups.make('nightly')).toMatchObject({ ok: false, because: 'busy' });
    expect(await backups.restore('whatever')).toMatchObject({ ok: false, because: 'busy' });
    expect(await first).toMatchObject({ ok: true });
    expect(backups.busyWith).toBeNull();
    expect(backups.list()).toHaveLength(1);
  });

  test('a stop gives it up and leaves nothing half made; what a kill left is cleared away', async () => {
    const store = openedStore(freshFolder());
    await keptRun(store, 'a', 5_000);
    const backups = backupsOf(store);
    const given = backups.make('by-hand');
    await backups.close();
    expect(await given).toMatchObject({ ok: false, because: 'given-up' });
    expect(readdirSync(backups.folder)).toEqual([]);
    writeFileSync(join(backups.folder, 'by-hand-2026-11-26T10-00-00Z.sqlite.unfinished'), 'half');
    backupsOf(store);
    expect(readdirSync(backups.folder)).toEqual([]);
  });

  test('a folder that cannot be written to is a reason, not a crash', async () => {
    const store = openedStore(freshFolder());
    writeFileSync(join(store.folder, 'backups'), 'a file where the folder should be');
    const backups = backupsOf(store);
    expect(await backups.make('by-hand')).toMatchObject({ ok: false, because: 'disk' });
    expect(backups.trouble?.atWall).toBe('2026-11-26T10:00:00.000Z');
    expect(backups.list()).toEqual([]);
  });
});

test('one of which the disk tells nothing is none, and breaks no list', () => {
  const store = openedStore(freshFolder());
  const name = 'nightly-2026-11-26T09-00-00Z.sqlite';
  mkdirSync(join(store.folder, 'backups'));
  symlinkSync(name, join(store.folder, 'backups', name));
  expect([backupsOf(store).list(), backupsOf(store).nightsAtMs()]).toEqual([[], []]);
});

describe('a damaged one', () => {
  /** A store whose copies come out damaged, or not. */
  const spoiling = (folder: string, isSpoilt: () => boolean): BackupsOptions['store'] => ({
    folder,
    backUp: (to) => {
      writeFileSync(to, isSpoilt() ? 'spoilt' : 'whole');
      return Promise.resolve(isSpoilt() ? { ok: false, because: 'damaged', reason: 'page 7 is torn' } : { ok: true });
    },
    restore: () => Promise.reject(new Error('a damaged backup was put back')),
  });

  test('is named with its damage, kept apart, counts for no night and is never put back', async () => {
    const folder = freshFolder();
    let isSpoilt = true;
    const backups = backupsOf(spoiling(folder, () => isSpoilt));
    const answer = await backups.make('nightly');
    expect(answer).toMatchObject({ ok: false, because: 'damaged', detail: expect.stringContaining('page 7 is torn') });
    const [bad] = backups.list();
    expect(bad).toMatchObject({ kind: 'nightly', damage: 'page 7 is torn' });
    expect(readdirSync(backups.folder)).toEqual(['bad']);
    expect(backups.nightsAtMs()).toEqual([]);
    expect(backups.trouble?.words).toContain(bad!.name);
    expect(await backups.restore(bad!.name)).toMatchObject({ ok: false, because: 'unfit' });
    isSpoilt = false;
    expect(await backups.make('nightly')).toMatchObject({ ok: true });
    expect(backups.trouble).toBeNull();
    expect(backups.remove(bad!.name)).toBe(true);
    expect(readdirSync(join(backups.folder, 'bad'))).toEqual([]);
  });

  test('is found by the check: a torn page, a file that is none, one that is empty, one of a newer Bowlside', async () => {
    const store = openedStore(freshFolder());
    await keptRun(store, 'a', 3_000);
    const backups = backupsOf(store);
    const made = await backups.make('by-hand');
    if (!made.ok) throw new Error(made.detail);
    const whole = readFileSync(backups.fileOf(made.backup.name)!);
    const torn = Buffer.from(whole);
    torn.fill(0x5a, torn.length - 3 * 4096 - 2000, torn.length - 3 * 4096 + 2000);
    const newer = Buffer.from(whole);
    // The file format's own place for the number of a version (SQLite, "Database File Format", 1.3.12: user version at offset 60).
    newer.writeUInt32BE(MIGRATIONS.length + 1, 60);
    for (const [name, content, because] of [
      ['whole', whole, null],
      ['torn', torn, 'damaged'],
      ['none', Buffer.from('no database at all, but longer than a header has to be'.repeat(10)), 'damaged'],
      ['empty', Buffer.alloc(0), 'damaged'],
      ['newer', newer, 'newer'],
    ] as const) {
      const from = join(store.folder, `${name}.sqlite`);
      writeFileSync(from, content);
      const answer = await copy(COPY_PROCESS, { kind: 'make-ready', from, to: `${from}.copy` });
      expect(answer, name).toMatchObject(because === null ? { ok: true } : { ok: false, because });
    }
  });
});

test('of nights the seven newest are kept; those made by hand all are', async () => {
  const store = openedStore(freshFolder());
  await keptRun(store, 'a', 10);
  let day = 1;
  const backups = backupsOf(store, { wallNowMs: () => Date.UTC(2026, 10, day, 3, 30) });
  await backups.make('by-hand');
  for (; day <= NIGHTS_KEPT + 2; day++) await backups.make('nightly');
  const kept = backups.list().map(({ kind, madeAtWall }) => `${kind} ${madeAtWall.slice(0, 10)}`);
  const nights = Array.from({ length: NIGHTS_KEPT }, (_, i) => `nightly 2026-11-0${NIGHTS_KEPT + 2 - i}`);
  expect(kept).toEqual([...nights, 'by-hand 2026-11-01']);
});

describe('putting one back', () => {
  test('gives the runs it holds, keeps what was there as a backup, and recording goes on without a restart', async () => {
    const folder = freshFolder();
    const store = openedStore(folder);
    await keptRun(store, 'first', 500);
    let restored = 0;
    const backups = backupsOf(store, { onRestored: () => (restored += 1) });
    const made = await backups.make('by-hand');
    if (!made.ok) throw new Error(made.detail);
    await keptRun(store, 'second', 300);
    const answer = await backups.restore(made.backup.name);
    if (!answer.ok) throw new Error(answer.detail);
    expect([restored, namesOf(store)]).toEqual([1, ['first']]);
    expect(store.inputsOf('first')).toHaveLength(500);
    expect(store.openRun('second')).toBeNull();
    expect(backups.list().find(({ name }) => name === answer.keptAs)).toMatchObject({
      kind: 'before-restore',
      damage: null,
    });
    await keptRun(store, 'third', 200);
    expect(namesOf(store).toSorted()).toEqual(['first', 'third']);
    expect(await backups.restore(answer.keptAs)).toMatchObject({ ok: true });
    expect(namesOf(store).toSorted()).toEqual(['first', 'second']);
    await keptRun(store, 'fourth', 50);
    await store.close();
    const later = openedStore(folder);
    expect([later.notices, namesOf(later).toSorted()]).toEqual([[], ['first', 'fourth', 'second']]);
    expect(later.inputsOf('fourth')).toHaveLength(50);
  });

  test('is given up by a stop while it is made ready, and nothing is changed', async () => {
    const store = openedStore(freshFolder());
    await keptRun(store, 'first', 3_000);
    const backups = backupsOf(store);
    const made = await backups.make('by-hand');
    if (!made.ok) throw new Error(made.detail);
    await keptRun(store, 'second', 10);
    const answer = backups.restore(made.backup.name);
    await backups.close();
    expect(await answer).toMatchObject({ ok: false, because: 'disk' });
    expect(namesOf(store).toSorted()).toEqual(['first', 'second']);
    expect(readdirSync(store.folder).filter((name) => name.includes('restored'))).toEqual([]);
  });

  test('is refused where there is no room for it, before anything is copied', async () => {
    const folder = freshFolder();
    const unused = {
      backUp: () => Promise.reject(new Error('copied')),
      restore: () => Promise.reject(new Error('put back')),
    };
    const backups = backupsOf({ folder, ...unused });
    mkdirSync(backups.folder);
    const name = 'by-hand-2026-11-01T09-00-00Z.sqlite';
    // Longer than any disk is free, without a byte on it.
    writeFileSync(join(backups.folder, name), '');
    truncateSync(join(backups.folder, name), 2 ** 43);
    expect(backups.freeBytes()).toBeLessThan(2 ** 43);
    expect(await backups.restore(name)).toMatchObject({
      ok: false,
      detail: expect.stringContaining('not enough room'),
    });
  });

  test('keeps the newest of what was in use before', async () => {
    const folder = freshFolder();
    let day = 10;
    const backups = new Backups({
      store: {
        folder,
        backUp: () => Promise.reject(new Error('copied')),
        restore: (_, aside) => {
          writeFileSync(aside, '');
          return Promise.resolve({ ok: true });
        },
      },
      wallNowMs: () => Date.parse(`2026-11-${day++}T10:00:00.000Z`),
      inUseBy: () => null,
      onRestored: () => {},
    });
    mkdirSync(backups.folder);
    const name = 'by-hand-2026-11-01T09-00-00Z.sqlite';
    writeFileSync(join(backups.folder, name), '');
    for (let i = 0; i < BEFORE_RESTORE_KEPT + 2; i++) await backups.restore(name);
    const kept = backups.list().map((each) => each.madeAtWall.slice(8, 10));
    expect(kept).toEqual(['18', '17', '16', '15', '14', '13', '12', '01']);
  });

  test('is refused while a run is going, and the run loses nothing', async () => {
    const bowl = openBowl();
    const backups = backupsOf(bowl.store, { inUseBy: () => userOf(bowl.session.status().state === 'going', false) });
    const run = bowl.begin();
    await bowl.store.flush();
    const made = await backups.make('by-hand');
    if (!made.ok) throw new Error(made.detail);
    expect(await backups.restore(made.backup.name)).toMatchObject({ ok: false, because: 'going' });
    bowl.ramp(30, 31, 10);
    await bowl.store.flush();
    expect(namesOf(bowl.store)).toEqual([run]);
  });

  test('is refused where a run begins while it is being made ready, and that run is recorded', async () => {
    const store = openedStore(freshFolder());
    await keptRun(store, 'first', 100);
    const backups = backupsOf(store);
    const made = await backups.make('by-hand');
    if (!made.ok) throw new Error(made.detail);
    let isGoing = false;
    const late = backupsOf(store, { inUseBy: () => userOf(isGoing, false) });
    const answer = late.restore(made.backup.name);
    isGoing = true;
    store.beginRun(newRun('meanwhile'));
    for (const turn of madeTurns(20)) store.append('meanwhile', turn);
    expect(await answer).toMatchObject({ ok: false, because: 'going' });
    await store.flush();
    expect(namesOf(store).toSorted()).toEqual(['first', 'meanwhile']);
    expect(store.inputsOf('meanwhile')).toHaveLength(20);
    expect(existsSync(`${dataFileIn(store.folder)}.restored`)).toBe(false);
  });

  test('a run that was going when it was made is over where the backup ends', async () => {
    const store = openedStore(freshFolder());
    store.beginRun(newRun('going'));
    for (const turn of madeTurns(50)) store.append('going', turn);
    await store.flush();
    const backups = backupsOf(store);
    const made = await backups.make('by-hand');
    if (!made.ok) throw new Error(made.detail);
    store.endRun('going', 9_000);
    await store.flush();
    await backups.restore(made.backup.name);
    await store.flush();
    expect(store.openRun('going')).toMatchObject({ endedAtMs: madeTurns(50).at(-1)!.input.atMs });
  });

  test('one that cannot be read any more when it is about to take its place changes nothing', async () => {
    const store = openedStore(freshFolder());
    await keptRun(store, 'first', 10);
    const backups = backupsOf(store);
    const made = await backups.make('by-hand');
    if (!made.ok) throw new Error(made.detail);
    await keptRun(store, 'second', 10);
    const reading = vi.spyOn(Reader.prototype, 'goingRuns').mockImplementation(() => {
      throw new Error('the disk is out');
    });
    onTestFinished(() => reading.mockRestore());
    expect(await backups.restore(made.backup.name)).toMatchObject({
      ok: false,
      because: 'disk',
      detail: expect.stringContaining('the disk is out. Nothing was changed.'),
    });
    expect(namesOf(store).toSorted()).toEqual(['first', 'second']);
    await keptRun(store, 'third', 10);
  });

  test('where nothing can be read once it is in its place, it was put back all the same, and its run is ended', async () => {
    const store = openedStore(freshFolder());
    store.beginRun(newRun('going'));
    for (const turn of madeTurns(50)) store.append('going', turn);
    await store.flush();
    let restored = 0;
    const backups = backupsOf(store, { onRestored: () => (restored += 1) });
    const made = await backups.make('by-hand');
    if (!made.ok) throw new Error(made.detail);
    store.endRun('going', 9_000);
    await store.flush();
    const reading = vi.spyOn(Reader.prototype, 'standstillOf').mockImplementation(() => {
      throw new Error('the disk is out');
    });
    onTestFinished(() => reading.mockRestore());
    expect([await backups.restore(made.backup.name), restored]).toMatchObject([{ ok: true }, 1]);
    await store.flush();
    expect(store.openRun('going')).toMatchObject({ endedAtMs: madeTurns(50).at(-1)!.input.atMs });
  });

  test('an older one is brought up to date; one that is damaged or newer changes nothing', async () => {
    const store = openedStore(freshFolder());
    await keptRun(store, 'present', 10);
    const backups = backupsOf(store);
    mkdirSync(backups.folder);
    const place = (name: string): string => join(backups.folder, `by-hand-2026-11-${name}T09-00-00Z.sqlite`);
    expect(readyDataFile(place('01'), NOW_MS, MIGRATIONS.slice(0, 1))).toMatchObject({ ok: true });
    expect(readyDataFile(place('02'), NOW_MS, [...MIGRATIONS, 'SELECT 1'])).toMatchObject({ ok: true });
    writeFileSync(place('03'), 'no database at all, but longer than a header has to be'.repeat(10));
    for (const day of ['02', '03']) {
      const answer = await backups.restore(`by-hand-2026-11-${day}T09-00-00Z.sqlite`);
      expect(answer, day).toMatchObject({
        ok: false,
        because: 'unfit',
        detail: expect.stringContaining('Nothing was changed'),
      });
      expect(namesOf(store)).toEqual(['present']);
    }
    expect(await backups.restore('by-hand-2026-11-01T09-00-00Z.sqlite')).toMatchObject({ ok: true });
    expect(namesOf(store)).toEqual([]);
    await keptRun(store, 'later', 10);
    expect(namesOf(store)).toEqual(['later']);
  });

  test('ends the emptying of the bin: what comes back in the bin is not deleted by what was asked of the file before', async () => {
    const store = openedStore(freshFolder());
    const names = ['a', 'b', 'c', 'd', 'e', 'f'];
    for (const name of names) await keptRun(store, name, 10);
    for (const name of names) store.bin(name, '2026-10-01T10:00:00.000Z');
    await store.flush();
    const backups = backupsOf(store);
    const made = await backups.make('by-hand');
    if (!made.ok) throw new Error(made.detail);
    const emptying = store.emptyBin('2026-10-27T10:00:00.000Z');
    const putBack = async (): Promise<boolean> => (await backups.restore(made.backup.name)).ok;
    // Whatever is just being written is in its way.
    await expect.poll(putBack).toBe(true);
    await emptying;
    await store.flush();
    expect(store.runs({ most: 9, after: 0, bin: 'yes' }).total).toBe(names.length);
    for (const name of names) expect(store.inputsOf(name), name).toHaveLength(10);
  });

  test('the bowl has no run any more afterwards, and the next one begins as ever', async () => {
    const store = openedStore(freshFolder());
    const bowl = new Bowl(store);
    const backups = backupsOf(store, { onRestored: () => bowl.session.forget() });
    const made = await backups.make('by-hand');
    if (!made.ok) throw new Error(made.detail);
    const before = bowl.begin();
    bowl.says({ name: 'end' });
    await store.flush();
    expect(await backups.restore(made.backup.name)).toMatchObject({ ok: true });
    expect(bowl.told.at(-1)).toMatchObject({ kind: 'snapshot', info: null });
    const run = bowl.begin();
    expect(run).not.toBe(before);
    await store.flush();
    expect(namesOf(store)).toEqual([run]);
  });
});
