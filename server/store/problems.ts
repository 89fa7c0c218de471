/** What can be wrong with the disk, or the file on it: in a few words, and what to do about it while what is read waits in memory. */

interface Problem {
  readonly words: string;
  /** A sentence. None starts Bowlside anew at once: what waits would be lost. */
  readonly act: string;
}

const HELD: Problem = { words: 'another program holds the data file', act: 'Close that program.' };
const DAMAGED: Problem = {
  words: 'the data file is damaged',
  act: 'Leave Bowlside on until the work is done, then start it again.',
};

/** By how a code of SQLite begins. */
const BY_CODE: readonly (readonly [code: string, problem: Problem])[] = [
  ['SQLITE_FULL', { words: 'the disk is full', act: 'Make room on it.' }],
  [
    'SQLITE_READONLY',
    {
      words: 'the data folder cannot be written to',
      act: 'Take the write protection off the folder, or off its disk.',
    },
  ],
  ['SQLITE_IOERR', { words: 'the disk reports an error', act: 'Look at its plug and its cable.' }],
  ['SQLITE_BUSY', HELD],
  ['SQLITE_LOCKED', HELD],
  ['SQLITE_CORRUPT', DAMAGED],
  ['SQLITE_NOTADB', DAMAGED],
  ['SQLITE_CANTOPEN', { words: 'the data file cannot be opened', act: 'Look whether its disk is plugged in.' }],
];

/** A write takes longer than it should. */
const SLOW: Problem = { words: 'the disk does not answer', act: 'Give it a moment.' };
export const STALLED = SLOW.words;

const ALL = [...BY_CODE.map(([, problem]) => problem), SLOW];

/** In words; null where the code says nothing that is known here. */
export function problemBehind(code: string): string | null {
  return BY_CODE.find(([start]) => code.startsWith(start))?.[1].words ?? null;
}

/** What a person can do about a problem told in words; null: nothing but wait. */
export function actAgainst(problem: string): string | null {
  return ALL.find(({ words }) => words === problem)?.act ?? null;
}
