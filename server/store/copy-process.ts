/**
 * The process that copies and checks whole data files, so that neither a large file nor a slow disk holds up a reading or a page. Does one
 * job, answers, and is gone. Never touches the file that is in use but to read it.
 */
import { copyFileSync } from 'node:fs';
import type { CopyJob, CopyResult } from './copying.ts';
import { damageIn, damageOf, openForReading, openForWriting, problemOf } from './database.ts';
import { remove, sync, withoutLog } from './datafile.ts';
import { MIGRATIONS, migrate, versionOf } from './migrations.ts';
import { alteredIn } from './sums.ts';

/** Pages copied at a time: 256 kB, after which other users of the disk have their turn (ours). */
const PAGES_PER_STEP = 64;

// A Ctrl-C, or a service that is stopped, reaches it too; whether it goes on is for the server to say, and without one there is nobody to answer.
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => {});
process.once('disconnect', () => process.exit());

void done(JSON.parse(process.argv[2]!) as CopyJob)
  .catch(failed)
  .then((result) => process.send?.(result, () => process.exit()));

function failed(error: unknown): CopyResult {
  const damage = damageIn(error);
  return damage === null
    ? { ok: false, because: 'failed', reason: problemOf(error) }
    : { ok: false, because: 'damaged', reason: damage };
}

async function done(job: CopyJob): Promise<CopyResult> {
  if (job.kind === 'look-through') return foundIn(job.from);
  const { kind, from, to } = job;
  remove(to);
  if (kind === 'back-up') {
    await copyLive(from, to);
    return checked(to);
  }
  copyFileSync(from, to);
  const found = checked(to);
  return found.ok ? broughtUpToDate(to) : found;
}

/**
 * Reads one moment of the file from beginning to end. Without that the copy would begin anew at every commit made meanwhile, and with a
 * run going it would never be done.
 */
async function copyLive(from: string, to: string): Promise<void> {
  const db = openForReading(from);
  try {
    db.exec('BEGIN');
    versionOf(db);
    db.prepare('SELECT count(*) FROM runs').get();
    await db.backup(to, { progress: () => PAGES_PER_STEP });
  } finally {
    db.close();
  }
}

/** Opened as if it were to be used, and every page and index of it looked at. */
function checked(file: string): CopyResult {
  withoutLog(file);
  sync(file);
  return foundIn(file);
}

/** As of one moment: a run may go on being written to it. */
function foundIn(file: string): CopyResult {
  const db = openForReading(file);
  try {
    db.exec('BEGIN');
    const version = versionOf(db);
    if (version === 0) return { ok: false, because: 'damaged', reason: 'it is no data file of ours' };
    if (version > MIGRATIONS.length)
      return {
        ok: false,
        because: 'newer',
        reason: `data version ${version}; this Bowlside knows ${MIGRATIONS.length}`,
      };
    const damage = damageOf(db, true) ?? alteredIn(db);
    return damage === null ? { ok: true } : { ok: false, because: 'damaged', reason: damage };
  } finally {
    db.close();
  }
}

function broughtUpToDate(file: string): CopyResult {
  const db = openForWriting(file, false);
  try {
    migrate(db, MIGRATIONS);
    return { ok: true };
  } finally {
    db.close();
  }
}
