/**
 * The check of a long history, put off so that a run can go on at once: it is made up for beside the run, in a process of its own. That it is owed stands beside
 * the file until then, so that no start puts it off a second time.
 */
import { existsSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { copy, type CopyResult } from './copying.ts';
import type { Database } from './database.ts';
import { RESUME_WITHIN_MS } from './records.ts';
import { isAllThere } from './salvage.ts';

/** A smaller file is checked at once, bytes (ours: in less than half a second). */
const LONG_BYTES = 64 * 1024 * 1024;
/** A run has gone on by then, ms (ours). */
const MADE_UP_FOR_AFTER_MS = 5_000;

function noteBeside(file: string): string {
  return `${file}.unchecked`;
}

/**
 * True: it is noted that the check is owed. Only where a run that goes on can be read from end to end, and nothing is free in the file: what is
 * written meanwhile then lands behind all that is there. Throws what SQLite throws. `longBytes`: a file from which on it takes too long.
 */
export function isPutOff(db: Database, file: string, nowWallMs: number, longBytes = LONG_BYTES): boolean {
  if (existsSync(noteBeside(file)) || statSync(file).size < longBytes) return false;
  if (db.pragma('freelist_count', { simple: true }) !== 0) return false;
  const going = db
    .prepare('SELECT id FROM runs WHERE ended_at_ms IS NULL AND last_wall_ms > ?')
    .pluck()
    .all(nowWallMs - RESUME_WITHIN_MS) as number[];
  return going.length > 0 && going.every((id) => isAllThere(db, id)) && isNoted(file);
}

/** False where nothing can be written beside it. */
function isNoted(file: string): boolean {
  try {
    writeFileSync(noteBeside(file), '');
    return true;
  } catch {
    return false;
  }
}

/** Nothing is owed any more. Never throws: where the note cannot be taken away, the next start looks once more than it need. */
export function settled(file: string): void {
  try {
    rmSync(noteBeside(file), { force: true });
  } catch {
    // It only says that a check is owed.
  }
}

export interface MakingUp {
  /** The outcome, once there is one. Never rejects. */
  readonly done: Promise<void>;
  /** Gives it up; it stays owed. */
  stop(): void;
}

/** `script`: of the process. `say`: to the person, where the file is not found sound; the note stays, and the next start sets it right. */
export function madeUpFor(
  file: string,
  script: URL,
  say: (words: string) => void,
  afterMs = MADE_UP_FOR_AFTER_MS,
): MakingUp {
  if (!existsSync(noteBeside(file))) return { done: Promise.resolve(), stop: () => {} };
  const stopping = new AbortController();
  const look = async (): Promise<void> => {
    const found = await copy(script, { kind: 'look-through', from: file }, stopping.signal);
    if (found.ok) settled(file);
    else if (!stopping.signal.aborted) say(`${foundWords(found)} when it starts next.`);
  };
  return {
    done: waited(afterMs, stopping.signal).then((isOver) => (isOver ? look() : undefined)),
    stop: () => stopping.abort(),
  };
}

/** What is said, but for when. That nobody could look says nothing of the file. */
function foundWords({ because, reason }: Extract<CopyResult, { ok: false }>): string {
  return because === 'failed'
    ? `The data file could not be looked through (${reason}). The run goes on; Bowlside looks through it`
    : `The data file could not be found sound (${reason}). The run goes on; Bowlside checks it again, and saves what can be saved,`;
}

/** False: it was given up before. */
function waited(ms: number, signal: AbortSignal): Promise<boolean> {
  return new Promise((resolve) => {
    const timer = setTimeout(() => resolve(true), ms);
    signal.addEventListener('abort', () => {
      clearTimeout(timer);
      resolve(false);
    });
  });
}
