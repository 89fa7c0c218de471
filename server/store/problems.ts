/** What can be wrong with the disk, or the file on it: by the database's code, in a few words, and what to do about it. Knows neither. */

/** A disk that takes longer than a write should. */
export const STALLED = 'the disk does not answer';
const DAMAGED = 'the data file is damaged';
const HELD = 'another program holds the data file';

/** By how a code of SQLite begins. */
const PROBLEMS: readonly (readonly [code: string, words: string])[] = [
  ['SQLITE_FULL', 'the disk is full'],
  ['SQLITE_READONLY', 'the data folder cannot be written to'],
  ['SQLITE_IOERR', 'the disk reports an error'],
  ['SQLITE_BUSY', HELD],
  ['SQLITE_LOCKED', HELD],
  ['SQLITE_CORRUPT', DAMAGED],
  ['SQLITE_NOTADB', DAMAGED],
  ['SQLITE_CANTOPEN', 'the data file cannot be opened'],
];

/** A sentence each, while what is read waits in memory: starting anew would lose it. */
const ACTS: Readonly<Record<string, string>> = {
  'the disk is full': 'Make room on it.',
  'the data folder cannot be written to': 'Take the write protection off the folder, or off its disk.',
  'the disk reports an error': 'Look at its plug and its cable.',
  [HELD]: 'Close that program.',
  [DAMAGED]: 'Leave Bowlside on until the work is done, then start it again.',
  'the data file cannot be opened': 'Look whether its disk is plugged in.',
  [STALLED]: 'Give it a moment.',
};

/** In words; null where the code says nothing that is known here. */
export function problemBehind(code: string): string | null {
  return PROBLEMS.find(([start]) => code.startsWith(start))?.[1] ?? null;
}

/** What a person can do about a problem told in words; null: nothing but wait, and it is tried again. */
export function actAgainst(problem: string): string | null {
  return ACTS[problem] ?? null;
}
