/** Why nothing is recorded, as it is told beside the bowl: each cause in its own words, with what to do about it. */
import { expect, test } from 'vitest';
import { Unrecorded } from '../../../server/session/unrecorded.ts';
import { problemOf } from '../../../server/store/database.ts';
import { STALLED } from '../../../server/store/problems.ts';
import type { StoreHealth } from '../../../server/store/records.ts';
import { openBowl } from '../../support/server.ts';
import { heldDisk } from '../../support/store.ts';

function troubled(reason: string): StoreHealth {
  return { recording: false, sinceWallMs: 60_000, reason, waiting: 3 };
}

function whyOf(reason: string): string | undefined {
  const unrecorded = new Unrecorded();
  unrecorded.note(troubled(reason), 5_000, 60_000);
  return unrecorded.told.unrecordedWhy;
}

/** As the database throws it. */
function refusal(code: string): string {
  return problemOf(Object.assign(new Error('as it says'), { code }));
}

// The codes: SQLite, “Result and Extended Result Codes”.
test.each([
  ['SQLITE_FULL', 'The disk is full. Make room on it.'],
  [
    'SQLITE_READONLY_DIRECTORY',
    'The data folder cannot be written to. Take the write protection off the folder, or off its disk.',
  ],
  ['SQLITE_IOERR_WRITE', 'The disk reports an error. Look at its plug and its cable.'],
  ['SQLITE_BUSY', 'Another program holds the data file. Close that program.'],
  ['SQLITE_CANTOPEN', 'The data file cannot be opened. Look whether its disk is plugged in.'],
  ['SQLITE_CORRUPT_INDEX', 'The data file is damaged. Leave Bowlside on until the work is done, then start it again.'],
  ['SQLITE_NEW', 'As it says. It is tried again by itself.'],
])('a disk that answers %s', (code, why) => {
  expect(whyOf(refusal(code))).toBe(why);
});

test('a disk that gives no reason is said to give none', () => {
  expect(whyOf(problemOf(new Error('')))).toBe('The system does not say why. It is tried again by itself.');
});

test('a disk that is only slow is given time, and nobody is sent to make room', () => {
  expect(whyOf(STALLED)).toBe('The disk does not answer. Give it a moment.');
});

test('a trouble that becomes another one is told as that, since when it began; and nothing once all is recorded', () => {
  const unrecorded = new Unrecorded();
  expect(unrecorded.told).toEqual({ unrecordedSinceMs: null });
  unrecorded.note(troubled(STALLED), 5_000, 61_000);
  unrecorded.note(troubled('the disk is full'), 9_000, 65_000);
  expect(unrecorded.told).toEqual({
    unrecordedSinceMs: 4_000,
    unrecordedWhy: 'The disk is full. Make room on it.',
  });
  unrecorded.note({ recording: true }, 10_000, 66_000);
  expect(unrecorded.told).toEqual({ unrecordedSinceMs: null });
});

test('a bowl that was taken from the bench hears of no disk any more', async () => {
  const bowl = openBowl();
  bowl.begin();
  await bowl.store.flush();
  const disk = heldDisk(bowl.store);
  const unrecorded = new Promise((resolve) => bowl.store.onHealth(resolve));
  bowl.says({ name: 'end' });
  bowl.session.close();
  await unrecorded;
  expect(bowl.session.now(0)).toMatchObject({ unrecordedSinceMs: null });
  disk.letGo();
});
