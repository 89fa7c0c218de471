/**
 * The one door to the database library: opens files the way this store needs them and puts what can go wrong into words.
 * Knows no table; lends the file its words for what is searched, and its sums.
 */
import { createRequire } from 'node:module';
import { crc32 } from 'node:zlib';
import Sqlite from 'better-sqlite3';
import { isUndecodable } from './damage.ts';
import { problemBehind } from './problems.ts';
import { searchText } from './searched.ts';

export type Database = Sqlite.Database;

/** The library's native half, in the library's own folder wherever its other half was built into. */
const nativeBinding = createRequire(import.meta.url).resolve('better-sqlite3/build/Release/better_sqlite3.node');

/** The first version without the race between two connections that can corrupt a write-ahead log (its own change log). */
const OLDEST_SQLITE: readonly number[] = [3, 51, 3];

/** How long a connection waits for another program that holds the file, ms (ours: longer than a backup copy's grip). */
const BUSY_MS = 5_000;

/** The write-ahead log is cut back to this after a checkpoint, bytes (ours). */
const LOG_LIMIT_BYTES = 16 * 1024 * 1024;

/** null, or why the built-in SQLite must not be used. */
export function unfitSqlite(version: string = sqliteVersion()): string | null {
  const parts = version.split('.').map(Number);
  const differing = OLDEST_SQLITE.findIndex((least, i) => parts[i] !== least);
  if (differing === -1 || (parts[differing] ?? 0) > OLDEST_SQLITE[differing]!) return null;
  return `SQLite ${version} can damage its own log; ${OLDEST_SQLITE.join('.')} or newer is needed. Reinstall the packages.`;
}

function sqliteVersion(): string {
  const memory = new Sqlite(':memory:', { nativeBinding });
  const version = memory.prepare('SELECT sqlite_version()').pluck().get();
  memory.close();
  return String(version);
}

/** Opens for writing, creating the file where `create` says so. Throws what the library throws: see `problemOf`. */
export function openForWriting(file: string, create: boolean): Database {
  return configured(new Sqlite(file, { nativeBinding, fileMustExist: !create, timeout: BUSY_MS }), (db) => {
    db.pragma('journal_mode = WAL');
    db.pragma('synchronous = FULL');
    db.pragma('fullfsync = ON');
    db.pragma('checkpoint_fullfsync = ON');
    db.pragma(`journal_size_limit = ${LOG_LIMIT_BYTES}`);
    db.pragma('foreign_keys = ON');
    lendFunctions(db);
  });
}

/** A new file under a name that nobody looks for. Nothing of it is on disk for sure before it is finished: a crash leaves what is cleared away. */
export function openUnfinished(file: string): Database {
  return configured(new Sqlite(file, { nativeBinding }), (db) => {
    db.pragma('journal_mode = MEMORY');
    db.pragma('synchronous = OFF');
    lendFunctions(db);
  });
}

/** Closes it, as a file that can be opened for writing at once; the caller brings it to disk and names it. */
export function closeFinished(db: Database): void {
  db.pragma('journal_mode = WAL');
  db.close();
}

/** What the file itself calls when a run is changed (`migrations.ts`). */
function lendFunctions(db: Database): void {
  db.function('search_text', { deterministic: true }, searchText);
  db.function('crc32', { deterministic: true }, (bytes: Uint8Array) => crc32(bytes));
}

/** Opens for reading only. */
export function openForReading(file: string): Database {
  return new Sqlite(file, { nativeBinding, readonly: true, fileMustExist: true, timeout: BUSY_MS });
}

/**
 * Opens a small file of its own and holds it until closed or until the process is gone, however it went.
 * null: another process, or another part of this one, holds it.
 */
export function openExclusively(file: string): Database | null {
  try {
    return configured(new Sqlite(file, { nativeBinding, timeout: 0 }), (db) => db.exec('BEGIN EXCLUSIVE'));
  } catch (error) {
    if (codeOf(error).startsWith('SQLITE_BUSY')) return null;
    throw error;
  }
}

function configured(db: Database, configure: (db: Database) => void): Database {
  try {
    configure(db);
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

/** null, or the first thing SQLite finds wrong with the file. Reads all of it; `thorough` also holds every index against its table. */
export function damageOf(db: Database, thorough = false): string | null {
  try {
    const verdict = String(db.pragma(thorough ? 'integrity_check(1)' : 'quick_check(1)', { simple: true }));
    return verdict === 'ok' ? null : verdict;
  } catch (error) {
    const damage = damageIn(error);
    if (damage === null) throw error;
    return damage;
  }
}

/** What is wrong with the file itself, or null where it is the disk, the permissions or another program. */
export function damageIn(error: unknown): string | null {
  const code = codeOf(error);
  const isDamage = code === 'SQLITE_NOTADB' || code === 'SQLITE_IOERR_SHORT_READ' || code.startsWith('SQLITE_CORRUPT');
  return isDamage ? messageOf(error) : null;
}

/** Why a read or a write failed, in a few words for the person; never none. */
export function problemOf(error: unknown): string {
  if (isUndecodable(error)) return 'the data file is damaged';
  return (problemBehind(codeOf(error)) ?? messageOf(error)) || 'the system does not say why';
}

function codeOf(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? error.code : '';
  return typeof code === 'string' ? code : '';
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
