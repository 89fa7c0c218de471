/** One batch, one transaction: a disk that runs full takes all of it or nothing, and a batch sent twice is written once. */
import { join } from 'node:path';
import { onTestFinished, expect, test } from 'vitest';
import type { Entry } from '../../../server/store/batch.ts';
import { openForWriting, problemOf } from '../../../server/store/database.ts';
import type { Database } from '../../../server/store/database.ts';
import { readyDataFile } from '../../../server/store/datafile.ts';
import { Recorder } from '../../../server/store/recorder.ts';
import { freshFolder, madeTurn, newRun } from '../../support/store.ts';

function freshFile(): Database {
  const file = join(freshFolder(), 'bowlside.sqlite');
  readyDataFile(file, 0);
  const db = openForWriting(file, false);
  onTestFinished(() => void db.close());
  return db;
}

const BEGIN: Entry = { kind: 'begin', run: newRun('r1'), wallMs: 0 };

function turns(from: number, to: number): Entry[] {
  return Array.from({ length: to - from + 1 }, (_, i) => {
    return { kind: 'turn', run: 'r1', turn: from + i, wallMs: 0, content: madeTurn(from + i), checkpoint: null };
  });
}

function counts(db: Database): unknown {
  return db
    .prepare(
      `SELECT (SELECT count(*) FROM inputs) AS inputs, (SELECT count(*) FROM events) AS events,
        (SELECT count(*) FROM blocks) AS blocks, (SELECT turns FROM runs) AS turns`,
    )
    .get();
}

test('[S4] a batch that does not fit on the disk leaves nothing behind, and fits once there is room', () => {
  const db = freshFile();
  new Recorder(db).commit([BEGIN, ...turns(1, 10)]);
  const before = counts(db);
  db.pragma(`max_page_count = ${Number(db.pragma('page_count', { simple: true })) + 2}`);
  expect(reasonOf(() => new Recorder(db).commit(turns(11, 2000)))).toBe('the disk is full');
  expect(counts(db)).toEqual(before);

  db.pragma('max_page_count = 1000000');
  expect(new Recorder(db).commit(turns(11, 2000))).toEqual([{ run: 'r1', seq: 2000, turns: 2000 }]);
  expect(counts(db)).toEqual({ inputs: 2000, events: 2000, blocks: 4, turns: 2000 });
});

function reasonOf(attempt: () => unknown): string {
  try {
    attempt();
    return 'it went well';
  } catch (error) {
    return problemOf(error);
  }
}

test('[S4] a batch whose answer got lost can be sent again', () => {
  const db = freshFile();
  new Recorder(db).commit([BEGIN, ...turns(1, 100)]);
  const progress = new Recorder(db).commit([BEGIN, ...turns(1, 120)]);
  expect(progress).toEqual([{ run: 'r1', seq: 120, turns: 120 }]);
  expect(counts(db)).toEqual({ inputs: 120, events: 120, blocks: 1, turns: 120 });
});

test('a mark for lost turns stands for those that are not on disk already', () => {
  const db = freshFile();
  new Recorder(db).commit([BEGIN, ...turns(1, 100)]);
  const span = { fromTurn: 90, toTurn: 300, fromMs: 9_000, toMs: 30_000 };
  new Recorder(db).commit([
    { kind: 'lost', run: 'r1', span, wallMs: 0, events: madeTurn(200).events, checkpoint: null },
    ...turns(301, 301),
  ]);
  expect(db.prepare('SELECT from_turn, to_turn FROM lost').get()).toEqual({ from_turn: 101, to_turn: 300 });
  expect(counts(db)).toMatchObject({ inputs: 101, events: 102, turns: 301 });
});
