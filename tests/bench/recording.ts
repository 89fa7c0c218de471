/** What keeping a reading costs: the store's own transactions against bare prepared inserts of the same texts, as many to a transaction, into a file opened the same way. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Entry } from '../../server/store/batch.ts';
import { type Database, openForWriting } from '../../server/store/database.ts';
import { MIGRATIONS, migrate } from '../../server/store/migrations.ts';
import { Recorder } from '../../server/store/recorder.ts';
import { shipped } from '../support/shipped.ts';
import { against } from './against.ts';
import type { Figure } from './figures.ts';
import { longRun } from './made-runs.ts';

const TURNS = 4_000;
/** As many turns in one transaction as ten and a hundred readings a second bring in the tenth of a second that the store gathers, and as many as it ever takes (`store/backlog.ts`). */
const BATCHES = [1, 10, 2_000];

/** Each waits for the disk (ours: so that a round stays within seconds). */
const MOST_TRANSACTIONS = 200;

export async function measureRecording(rounds: number): Promise<readonly Figure[]> {
  const folder = mkdtempSync(join(tmpdir(), 'bowlside-recording-'));
  const entries = longRun(0, TURNS, shipped('dark'));
  const figures: Figure[] = [];
  const file = new FreshFile(folder);
  try {
    for (const batch of BATCHES) {
      const turns = Math.min(TURNS, batch * MOST_TRANSACTIONS);
      const [begin, ...all] = entries.slice(0, turns + 1);
      const batches = inBatches(all, batch);
      const works = { floor: () => insertBare(file.db, batches), ours: () => record(file.db, begin!, batches) };
      const name = `recording, lines of four channels, ${batch} to a transaction`;
      figures.push(
        ...(await against({ name, count: turns, each: 'line', ready: () => file.renew(), ...works }, rounds)),
      );
    }
    return figures;
  } finally {
    file.db.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** As the store makes it, and with a bare table beside the store's own. */
class FreshFile {
  db: Database;
  readonly #path: string;

  constructor(folder: string) {
    this.#path = join(folder, 'measured.sqlite');
    this.db = this.#made();
  }

  renew(): void {
    this.db.close();
    for (const end of ['', '-wal', '-shm']) rmSync(`${this.#path}${end}`, { force: true });
    this.db = this.#made();
  }

  #made(): Database {
    const db = openForWriting(this.#path, true);
    migrate(db, MIGRATIONS);
    db.exec('CREATE TABLE bare (turn INTEGER PRIMARY KEY, input TEXT NOT NULL) STRICT');
    return db;
  }
}

function inBatches(entries: readonly Entry[], size: number): Entry[][] {
  return Array.from({ length: Math.ceil(entries.length / size) }, (_, n) => entries.slice(n * size, (n + 1) * size));
}

function insertBare(db: Database, batches: readonly (readonly Entry[])[]): number {
  const insert = db.prepare('INSERT INTO bare VALUES (?, ?)');
  const commit = db.transaction((entries: readonly Entry[]) => {
    for (const entry of entries) if (entry.kind === 'turn') insert.run(entry.turn, JSON.stringify(entry.content.input));
  });
  for (const batch of batches) commit.immediate(batch);
  return sumOf(db, 'bare');
}

function record(db: Database, begin: Entry, batches: readonly (readonly Entry[])[]): number {
  const recorder = new Recorder(db);
  recorder.commit([begin]);
  for (const batch of batches) recorder.commit(batch);
  return sumOf(db, 'inputs');
}

/** Of what is in the file in the end. */
function sumOf(db: Database, table: string): number {
  return db.prepare(`SELECT sum(turn * length(input)) FROM ${table}`).pluck().get() as number;
}
