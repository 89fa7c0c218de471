/** A backup that is put back: without a restart, and without losing what was there. */
import { existsSync, mkdirSync, readdirSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test, vi } from 'vitest';
import { Backups, BEFORE_RESTORE_KEPT, userOf } from '../../../server/backups/backups.ts';
import { readyDataFile } from '../../../server/store/datafile.ts';
import { MIGRATIONS } from '../../../server/store/migrations.ts';
import { Reader } from '../../../server/store/reader.ts';
import { dataFileIn } from '../../../server/store/store.ts';
import { backupsOf, keptRun, madeByHand, namesOf, NOW_MS } from '../../support/backups.ts';
import { Bowl, openBowl } from '../../support/server.ts';
import { freshFolder, madeTurns, newRun, openedStore } from '../../support/store.ts';

describe('putting one back', () => {
  test('gives the runs it holds, keeps what was there as a backup, and recording goes on without a restart', async () => {
    const folder = freshFolder();
    const store = openedStore(folder);
    await keptRun(store, 'first', 500);
    let restored = 0;
    const backups = backupsOf(store, { onRestored: () => (restored += 1) });
    const made = await madeByHand(backups);
    await keptRun(store, 'second', 300);
    const answer = await backups.restore(made.name);
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
    const made = await madeByHand(backups);
    await keptRun(store, 'second', 10);
    const answer = backups.restore(made.name);
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
    const made = await madeByHand(backups);
    expect(await backups.restore(made.name)).toMatchObject({ ok: false, because: 'going' });
    bowl.ramp(30, 31, 10);
    await bowl.store.flush();
    expect(namesOf(bowl.store)).toEqual([run]);
  });

  test('is refused where a run begins while it is being made ready, and that run is recorded', async () => {
    const store = openedStore(freshFolder());
    await keptRun(store, 'first', 100);
    const backups = backupsOf(store);
    const made = await madeByHand(backups);
    let isGoing = false;
    const late = backupsOf(store, { inUseBy: () => userOf(isGoing, false) });
    const answer = late.restore(made.name);
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
    const made = await madeByHand(backups);
    store.endRun('going', 9_000);
    await store.flush();
    await backups.restore(made.name);
    await store.flush();
    expect(store.openRun('going')).toMatchObject({ endedAtMs: madeTurns(50).at(-1)!.input.atMs });
  });

  test('one that cannot be read any more when it is about to take its place changes nothing', async () => {
    const store = openedStore(freshFolder());
    await keptRun(store, 'first', 10);
    const backups = backupsOf(store);
    const made = await madeByHand(backups);
    await keptRun(store, 'second', 10);
    const reading = vi.spyOn(Reader.prototype, 'goingRuns').mockImplementation(() => {
      throw new Error('the disk is out');
    });
    onTestFinished(() => reading.mockRestore());
    expect(await backups.restore(made.name)).toMatchObject({
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
    const made = await madeByHand(backups);
    store.endRun('going', 9_000);
    await store.flush();
    const reading = vi.spyOn(Reader.prototype, 'standstillOf').mockImplementation(() => {
      throw new Error('the disk is out');
    });
    onTestFinished(() => reading.mockRestore());
    expect([await backups.restore(made.name), restored]).toMatchObject([{ ok: true }, 1]);
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
    const made = await madeByHand(backups);
    const emptying = store.emptyBin('2026-10-27T10:00:00.000Z');
    const putBack = async (): Promise<boolean> => (await backups.restore(made.name)).ok;
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
    const made = await madeByHand(backups);
    const before = bowl.begin();
    bowl.says({ name: 'end' });
    await store.flush();
    expect(await backups.restore(made.name)).toMatchObject({ ok: true });
    expect(bowl.told.at(-1)).toMatchObject({ kind: 'snapshot', info: null });
    const run = bowl.begin();
    expect(run).not.toBe(before);
    await store.flush();
    expect(namesOf(store)).toEqual([run]);
  });
});
