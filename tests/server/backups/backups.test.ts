/** Backups hold what was on disk, and count only when they are whole. */
import { mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { type BackupsOptions, NIGHTS_KEPT } from '../../../server/backups/backups.ts';
import { copy } from '../../../server/store/copying.ts';
import { MIGRATIONS } from '../../../server/store/migrations.ts';
import { Reader } from '../../../server/store/reader.ts';
import { backupsOf, keptRun, madeByHand } from '../../support/backups.ts';
import { BUILT_WRITER, freshFolder, madeTurns, newRun, openedStore } from '../../support/store.ts';

const COPY_PROCESS = new URL('copy-process.js', BUILT_WRITER);

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
    const made = await madeByHand(backups);
    const whole = readFileSync(backups.fileOf(made.name)!);
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
