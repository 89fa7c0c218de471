/**
 * One server per data folder. The lock is an exclusive transaction on a small file of its own: the operating system lets go of it
 * with the process, so a crash leaves nothing stale behind. The process number lies beside it, for the message only.
 */
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { openExclusively } from './database.ts';

export type Lock =
  | { readonly ok: true; readonly release: () => void }
  /** `pid`: the process that holds it; null where it cannot be told. */
  | { readonly ok: false; readonly pid: number | null };

/** Takes the folder for this process. Throws where the folder cannot be written to. */
export function lockFolder(folder: string): Lock {
  const held = openExclusively(join(folder, 'lock.sqlite'));
  const pidFile = join(folder, 'server.pid');
  if (held === null) return { ok: false, pid: readPid(pidFile) };
  writeFileSync(pidFile, `${process.pid}\n`);
  return { ok: true, release };

  function release(): void {
    try {
      rmSync(pidFile, { force: true });
    } catch {
      // The disk refuses: it is for a message only.
    }
    held?.close();
  }
}

function readPid(pidFile: string): number | null {
  try {
    const pid = Number.parseInt(readFileSync(pidFile, 'utf8'), 10);
    return Number.isNaN(pid) ? null : pid;
  } catch {
    return null;
  }
}

/** Why the folder cannot be had, and what to do, for the person. */
export function inUseBy(folder: string, pid: number | null): string {
  const who = pid === null ? 'another Bowlside' : `another Bowlside (process ${pid})`;
  return `${folder} is in use by ${who}. Stop that one, or give this one a folder of its own with --data.`;
}
