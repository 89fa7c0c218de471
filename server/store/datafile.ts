/**
 * Makes the data file fit for use before anyone else opens it: new where there is none, brought up to date where it is old, kept aside
 * and replaced by what can be saved where it is damaged. A new file is finished under another name first, so a crash leaves no half of one.
 */
import {
  closeSync,
  constants,
  copyFileSync,
  existsSync,
  fsyncSync,
  linkSync,
  openSync,
  renameSync,
  rmSync,
} from 'node:fs';
import { basename } from 'node:path';
import {
  closeFinished,
  damageIn,
  damageOf,
  openForReading,
  openForWriting,
  openUnfinished,
  problemOf,
} from './database.ts';
import { MIGRATIONS, migrate, versionOf } from './migrations.ts';
import { isPutOff, settled } from './put-off.ts';
import { headerOf, salvage } from './salvage.ts';
import type { Salvaged } from './salvage.ts';
import { alteredIn, sumUp } from './sums.ts';

export type DataFile =
  /** `notices`: what had to be done, in words for the person. */
  | { readonly ok: true; readonly notices: readonly string[] }
  | { readonly ok: false; readonly reason: 'newer-data' | 'unusable-folder'; readonly message: string };

/** `nowWallMs` dates the names of files kept aside. */
export function readyDataFile(
  file: string,
  nowWallMs: number,
  migrations: readonly string[] = MIGRATIONS,
  longBytes?: number,
): DataFile {
  try {
    return ready(file, nowWallMs, migrations, longBytes);
  } catch (error) {
    return { ok: false, reason: 'unusable-folder', message: `${file} cannot be used: ${problemOf(error)}.` };
  }
}

function ready(file: string, nowWallMs: number, migrations: readonly string[], longBytes?: number): DataFile {
  if (!existsSync(file)) {
    build(file, migrations);
    return { ok: true, notices: [] };
  }
  const found = look(file, migrations.length, nowWallMs, longBytes);
  if (found.isPutOff) return { ok: true, notices: [] };
  const successor = found.damage === null ? null : replaced(file, found.damage, nowWallMs, migrations);
  settled(file);
  if (successor !== null) return { ok: true, notices: [successor] };
  if (found.version > migrations.length) return tooNew(file, found.version, migrations.length);
  if (found.version === migrations.length) return { ok: true, notices: [] };
  return { ok: true, notices: [broughtUpToDate(file, found.version, nowWallMs, migrations)] };
}

function tooNew(file: string, version: number, known: number): DataFile {
  const message = `${file} was written by a newer Bowlside (data version ${version}; this one knows ${known}). Use that one, or another data folder.`;
  return { ok: false, reason: 'newer-data', message };
}

interface Found {
  readonly version: number;
  readonly damage: string | null;
  readonly isPutOff: boolean;
}

/** A newer file is not searched for damage: it is not ours to judge. An empty one was never left so by us. */
function look(file: string, known: number, nowWallMs: number, longBytes?: number): Found {
  try {
    const db = openForReading(file);
    try {
      const version = versionOf(db);
      if (version === 0) return { version, damage: 'it is empty', isPutOff: false };
      if (version === known && isPutOff(db, file, nowWallMs, longBytes))
        return { version, damage: null, isPutOff: true };
      return { version, damage: version > known ? null : (damageOf(db) ?? alteredIn(db)), isPutOff: false };
    } finally {
      db.close();
    }
  } catch (error) {
    const damage = damageIn(error);
    if (damage === null) throw error;
    return { version: 0, damage, isPutOff: false };
  }
}

/** Makes a finished, empty file of this name; whatever a crash left of an earlier attempt is cleared away. */
function build(file: string, migrations: readonly string[]): void {
  const unfinished = `${file}.new`;
  remove(unfinished);
  const db = openUnfinished(unfinished);
  migrate(db, migrations);
  closeFinished(db);
  sync(unfinished);
  renameSync(unfinished, file);
}

function replaced(file: string, damage: string, nowWallMs: number, migrations: readonly string[]): string {
  const successor = `${file}.successor`;
  remove(successor);
  build(successor, migrations);
  const freshHeader = headerOf(successor);
  const db = openForWriting(successor, false);
  const salvaged = salvage(file, db, freshHeader);
  sumUp(db);
  db.close();
  const aside = asideName(file, 'damaged', nowWallMs);
  succeed(file, successor, aside);
  return `The data file was damaged (${damage}). It has been kept as ${basename(aside)}; ${inWords(salvaged)}`;
}

/** Puts one file in the place of another, which is kept as `aside`: at no moment is there none. Nobody has either of them open. */
export function succeed(file: string, successor: string, aside: string): void {
  keepCopy(file, aside);
  remove(file, ['-wal', '-shm']);
  renameSync(successor, file);
}

/** All of it is in the one file, with no log beside it. Throws where somebody else has it open. */
export function withoutLog(file: string): void {
  const db = openForWriting(file, false);
  try {
    if (db.pragma('journal_mode = DELETE', { simple: true }) !== 'delete') throw new Error(`${file} is in use`);
  } finally {
    db.close();
  }
}

function inWords({ saved, leftBehind }: Salvaged): string {
  const runs =
    saved === 0 ? 'no run could be saved from it' : `${saved} ${saved === 1 ? 'run was' : 'runs were'} saved from it`;
  if (leftBehind === 0) return `${runs}.`;
  return leftBehind === null
    ? `${runs}; there may have been more.`
    : `${runs}; ${leftBehind} could not be read in full.`;
}

function broughtUpToDate(file: string, version: number, nowWallMs: number, migrations: readonly string[]): string {
  const copy = asideName(file, `version-${version}`, nowWallMs);
  const unfinished = `${file}.kept`;
  remove(unfinished);
  const db = openForWriting(file, false);
  try {
    db.prepare('VACUUM INTO ?').run(unfinished);
    sync(unfinished);
    // Cut off before this, it never has the name of a whole one.
    renameSync(unfinished, copy);
    migrate(db, migrations);
    sumUp(db);
  } finally {
    db.close();
  }
  return `The data file was brought up to date; a copy of it as it was is kept as ${basename(copy)}.`;
}

/** `bowlside.sqlite` → `bowlside-damaged-2026-11-25T09-00-00Z.sqlite`, with a number where that is taken. */
function asideName(file: string, why: string, nowWallMs: number): string {
  return datedName(`${file.replace(/\.sqlite$/, '')}-${why}`, nowWallMs);
}

/** `stem-2026-11-25T09-00-00Z.sqlite`, with a number where that is taken. */
export function datedName(beginning: string, nowWallMs: number): string {
  const date = new Date(nowWallMs).toISOString().slice(0, 19).replaceAll(':', '-');
  const stem = `${beginning}-${date}Z`;
  let name = `${stem}.sqlite`;
  for (let number = 2; existsSync(name); number++) name = `${stem}-${number}.sqlite`;
  return name;
}

/** The damaged file and its log under another name. A second name for the same bytes where the file system knows such a thing. */
function keepCopy(file: string, aside: string): void {
  for (const end of ['', '-wal']) {
    if (!existsSync(file + end)) continue;
    try {
      linkSync(file + end, aside + end);
    } catch {
      copyFileSync(file + end, aside + end, constants.COPYFILE_FICLONE);
      sync(aside + end);
    }
  }
}

export function sync(file: string): void {
  const handle = openSync(file, 'r+');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

export function remove(file: string, ends: readonly string[] = ['', '-wal', '-shm']): void {
  for (const end of ends) rmSync(file + end, { force: true });
}
