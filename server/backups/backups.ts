/**
 * Backups of all runs, in a folder of the data folder: made by hand or at night, checked before they count, put back on request. One thing at
 * a time. Knows files and dates; how a data file is copied and exchanged is the store's.
 */
import {
  existsSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statfsSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, join } from 'node:path';
import { datedName, remove } from '../store/datafile.ts';
import { makeFolder } from '../store/folder.ts';
import { dataFileIn, type Store } from '../store/store.ts';

/** `before-restore`: what was in use until a backup took its place. */
export const BACKUP_KINDS = ['nightly', 'by-hand', 'before-restore'] as const;
export type BackupKind = (typeof BACKUP_KINDS)[number];

export interface Backup {
  /** Of its file. */
  readonly name: string;
  readonly kind: BackupKind;
  /** ISO 8601. */
  readonly madeAtWall: string;
  readonly bytes: number;
  /** What the check found wrong with it; null: nothing. Then it lies apart, and is never put back. */
  readonly damage: string | null;
}

export type BackupAnswer =
  | { readonly ok: true; readonly backup: Backup }
  /** `damaged`: it was made, and is no good. `disk`: nothing was made. `given-up`: Bowlside is stopping. */
  | {
      readonly ok: false;
      readonly because: 'busy' | 'damaged' | 'no-room' | 'disk' | 'given-up';
      readonly detail: string;
    };

export type RestoreAnswer =
  /** `keptAs`: the backup that what was in use has become. */
  | { readonly ok: true; readonly keptAs: string }
  | { readonly ok: false; readonly because: 'unknown' | 'busy' | 'going' | 'unfit' | 'disk'; readonly detail: string };

/** As many nights are kept (the job asks for seven). */
export const NIGHTS_KEPT = 7;
/** As many of what was in use before a backup was put back are kept (ours: as many as of nights). */
export const BEFORE_RESTORE_KEPT = 7;
/** What must be left on the disk once a backup is made or put back, bytes (ours: hours of recording). */
const LEFT_FREE_BYTES = 64 * 1024 * 1024;

const FOLDER = 'backups';
const BAD = 'bad';
const UNFINISHED = '.unfinished';
const NAME = new RegExp(
  `^(${BACKUP_KINDS.join('|')})-(\\d{4}-\\d\\d-\\d\\d)T(\\d\\d)-(\\d\\d)-(\\d\\d)Z(?:-\\d+)?\\.sqlite$`,
);

export interface BackupsOptions {
  readonly store: Pick<Store, 'folder' | 'backUp' | 'restore'>;
  readonly wallNowMs: () => number;
  /** Why the file in use cannot be exchanged now, a sentence for the person; null: it can. */
  readonly inUseBy: () => string | null;
  /** All that was read from the store before is of another file. */
  readonly onRestored: () => void;
}

export class Backups {
  readonly folder: string;
  readonly #options: BackupsOptions;
  readonly #stopping = new AbortController();
  #busyWith: 'backup' | 'restore' | null = null;
  #trouble: { readonly atWall: string; readonly words: string } | null = null;
  #underWay: Promise<unknown> = Promise.resolve();

  constructor(options: BackupsOptions) {
    this.#options = options;
    this.folder = join(options.store.folder, FOLDER);
    for (const name of namesIn(this.folder).filter((each) => each.includes(UNFINISHED)))
      remove(join(this.folder, name), ['']);
  }

  get busyWith(): 'backup' | 'restore' | null {
    return this.#busyWith;
  }

  /** Why the newest attempt gave no good backup; null: it did, or none was made yet. */
  get trouble(): { readonly atWall: string; readonly words: string } | null {
    return this.#trouble;
  }

  /** Newest first, bad ones among them. */
  list(): Backup[] {
    const good = backupsIn(this.folder, () => null);
    const bad = backupsIn(join(this.folder, BAD), reasonBeside);
    return [...good, ...bad].toSorted((a, b) => (orderOf(a) < orderOf(b) ? 1 : -1));
  }

  /** Bytes free where the data lie; null where the system does not say. */
  freeBytes(): number | null {
    try {
      const { bavail, bsize } = statfsSync(this.#options.store.folder);
      return bavail * bsize;
    } catch {
      return null;
    }
  }

  /** Of the file in use with its log, bytes. */
  dataBytes(): number {
    const file = dataFileIn(this.#options.store.folder);
    return (sizeOf(file) ?? 0) + (sizeOf(`${file}-wal`) ?? 0);
  }

  /** Where the file of this name lies; null: there is none. */
  fileOf(name: string): string | null {
    const backup = this.list().find((each) => each.name === name);
    if (backup === undefined) return null;
    return backup.damage === null ? join(this.folder, name) : join(this.folder, BAD, name);
  }

  /** When the nightly ones that count were made, ms of the wall clock. */
  nightsAtMs(): number[] {
    return this.#good('nightly').map(({ madeAtWall }) => Date.parse(madeAtWall));
  }

  make(kind: Exclude<BackupKind, 'before-restore'>): Promise<BackupAnswer> {
    return this.#alone('backup', BUSY, async () => {
      const answer = await this.#made(kind);
      this.#trouble = answer.ok ? null : { atWall: this.#nowWall(), words: answer.detail };
      if (answer.ok) this.#forget(this.#good('nightly').slice(NIGHTS_KEPT));
      return answer;
    });
  }

  async #made(kind: BackupKind): Promise<BackupAnswer> {
    const free = this.freeBytes();
    if (free !== null && free < this.dataBytes() + LEFT_FREE_BYTES)
      return { ok: false, because: 'no-room', detail: `There is not enough room for a backup in ${this.folder}.` };
    try {
      makeFolder(this.folder);
      const file = datedName(join(this.folder, kind), this.#options.wallNowMs());
      return await this.#copiedTo(file);
    } catch (error) {
      return { ok: false, because: 'disk', detail: `No backup could be made in ${this.folder}: ${wordsOf(error)}.` };
    }
  }

  async #copiedTo(file: string): Promise<BackupAnswer> {
    const unfinished = `${file}${UNFINISHED}`;
    const copied = await this.#options.store.backUp(unfinished, this.#stopping.signal);
    if (copied.ok) {
      renameSync(unfinished, file);
      return { ok: true, backup: this.list().find(({ name }) => name === basename(file))! };
    }
    if (copied.because === 'failed') {
      remove(unfinished);
      if (this.#stopping.signal.aborted) return { ok: false, because: 'given-up', detail: 'Bowlside is stopping.' };
      return { ok: false, because: 'disk', detail: `No backup could be made: ${copied.reason}.` };
    }
    if (!existsSync(unfinished))
      return {
        ok: false,
        because: 'damaged',
        detail: `No backup could be made: the data file is damaged (${copied.reason}).`,
      };
    const apart = join(this.folder, BAD, basename(file));
    makeFolder(join(this.folder, BAD));
    writeFileSync(reasonFile(apart), `${copied.reason}\n`);
    renameSync(unfinished, apart);
    const detail = `The backup ${basename(file)} is damaged (${copied.reason}) and does not count. It lies apart in ${join(this.folder, BAD)}.`;
    return { ok: false, because: 'damaged', detail };
  }

  restore(name: string): Promise<RestoreAnswer> {
    return this.#alone('restore', BUSY, () => this.#restored(name));
  }

  async #restored(name: string): Promise<RestoreAnswer> {
    const backup = this.list().find((each) => each.name === name);
    if (backup === undefined) return { ok: false, because: 'unknown', detail: `There is no backup ${name}.` };
    if (backup.damage !== null) return unfit(`${name} is damaged (${backup.damage}) and cannot be put back.`);
    const { store, inUseBy, wallNowMs, onRestored } = this.#options;
    const inUse = inUseBy();
    if (inUse !== null) return { ok: false, because: 'going', detail: inUse };
    const free = this.freeBytes();
    if (free !== null && free < backup.bytes + LEFT_FREE_BYTES)
      return {
        ok: false,
        because: 'disk',
        detail: `There is not enough room to put ${name} back. Nothing was changed.`,
      };
    const aside = datedName(join(this.folder, 'before-restore'), wallNowMs());
    const isFree = (): boolean => inUseBy() === null;
    const answer = await store.restore(join(this.folder, name), aside, isFree, this.#stopping.signal);
    if (answer.ok) {
      this.#forget(this.#good('before-restore').slice(BEFORE_RESTORE_KEPT));
      onRestored();
      return { ok: true, keptAs: basename(aside) };
    }
    switch (answer.because) {
      case 'in-use':
        return { ok: false, because: 'going', detail: inUseBy() ?? 'Something was just being written. Try again.' };
      case 'damaged':
        return unfit(`${name} is damaged (${answer.reason}) and was not put back. Nothing was changed.`);
      case 'newer':
        return unfit(`${name} was made by a newer Bowlside (${answer.reason}). Nothing was changed.`);
      case 'failed':
        return {
          ok: false,
          because: 'disk',
          detail: `${name} could not be put back: ${answer.reason}. Nothing was changed.`,
        };
    }
  }

  /** False: there is none of that name, or the disk keeps it. */
  remove(name: string): boolean {
    const file = this.fileOf(name);
    if (file === null) return false;
    try {
      rmSync(file);
      rmSync(reasonFile(file), { force: true });
      return true;
    } catch {
      return false;
    }
  }

  /** Gives up what is under way; afterwards nothing of it runs. */
  async close(): Promise<void> {
    this.#stopping.abort();
    await this.#underWay;
  }

  async #alone<A>(what: 'backup' | 'restore', busy: A, work: () => Promise<A>): Promise<A> {
    if (this.#busyWith !== null) return busy;
    this.#busyWith = what;
    const done = work().finally(() => (this.#busyWith = null));
    this.#underWay = done.catch(() => {});
    return done;
  }

  #forget(old: readonly Backup[]): void {
    for (const { name } of old) this.remove(name);
  }

  /** Newest first. */
  #good(wanted: BackupKind): Backup[] {
    return this.list().filter(({ kind, damage }) => kind === wanted && damage === null);
  }

  #nowWall(): string {
    return new Date(this.#options.wallNowMs()).toISOString();
  }
}

const BUSY = {
  ok: false,
  because: 'busy',
  detail: 'A backup is being made or put back. Ask again when it is done.',
} as const;

function unfit(detail: string): RestoreAnswer {
  return { ok: false, because: 'unfit', detail };
}

/** Within a second, by name. */
function orderOf({ madeAtWall, name }: Backup): string {
  return `${madeAtWall} ${name}`;
}

function backupsIn(folder: string, damageOf: (file: string) => string | null): Backup[] {
  return namesIn(folder).flatMap((name) => {
    const [, kind, day, hour, minute, second] = NAME.exec(name) ?? [];
    const file = join(folder, name);
    const bytes = sizeOf(file);
    if (kind === undefined || bytes === null) return [];
    const madeAtWall = `${day}T${hour}:${minute}:${second}.000Z`;
    return { name, kind: kind as BackupKind, madeAtWall, bytes, damage: damageOf(file) };
  });
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch {
    return [];
  }
}

function reasonFile(file: string): string {
  return `${file}.txt`;
}

function reasonBeside(file: string): string {
  try {
    return readFileSync(reasonFile(file), 'utf8').trim();
  } catch {
    return 'nobody knows why any more';
  }
}

/** null: it is not there, or the disk does not say. */
function sizeOf(file: string): number | null {
  try {
    return statSync(file).size;
  } catch {
    return null;
  }
}

function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

/** Whatever reads or writes the file by itself has to be done first. */
export function userOf(isRunGoing: boolean, isJudging: boolean): string | null {
  if (isRunGoing) return 'A run is going. End it, and put the backup back then.';
  return isJudging ? 'A run is being judged again. Wait for it, and put the backup back then.' : null;
}
