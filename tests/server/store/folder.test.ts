/** Folders that are made where they are missing, and what is said where none can be. */
import { execFile } from 'node:child_process';
import { existsSync, mkdirSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { expect, test } from 'vitest';
import { makeFolder } from '../../../server/store/folder.ts';
import { program } from '../../support/program.ts';
import { freshFolder } from '../../support/store.ts';

/** A start that says nothing is ended after so long, ms: one that loops takes no other end. */
const LONGEST_MS = 60_000;

/** What the built program says of a data folder that it cannot have. */
async function refusalOf(folder: string): Promise<{ code: number; stderr: string }> {
  const words = [program(), 'serve', '--simulate', '--listen', '127.0.0.1:0', '--data', folder];
  const running = promisify(execFile)(process.execPath, words, { timeout: LONGEST_MS, killSignal: 'SIGKILL' });
  return running.then(
    () => Promise.reject(new Error('it was taken')),
    ({ code, stderr }: { code: number; stderr: string }) => ({ code, stderr }),
  );
}

test('a folder is made with those above it, and one that is there stays as it is', () => {
  const folder = join(freshFolder(), 'a', 'b', 'c');
  makeFolder(folder);
  mkdirSync(join(folder, 'kept'));
  makeFolder(folder);
  expect(statSync(join(folder, 'kept')).isDirectory()).toBe(true);
});

test.each(['', 'runs'])('a file where a folder is wanted is said to be one: mine.txt/%s', (below) => {
  const file = join(freshFolder(), 'mine.txt');
  writeFileSync(file, 'a file');
  expect(() => makeFolder(join(file, below))).toThrow(`${file} is a file, and a folder is wanted`);
});

test.skipIf(process.platform === 'win32')(
  'below a link that leads nowhere none is made, and that is said',
  async () => {
    const link = join(freshFolder(), 'stick');
    symlinkSync(join(freshFolder(), 'unplugged'), link);
    const folder = join(link, 'runs');
    expect(await refusalOf(folder)).toEqual({
      code: 1,
      stderr: `${folder} cannot be used: ${link} is a link that leads nowhere. Name another folder with --data.\n`,
    });
  },
);

test.skipIf(!existsSync('/proc/self'))('in /proc none can be made, and that is said', async () => {
  expect(await refusalOf('/proc/nowhere')).toEqual({
    code: 1,
    stderr: expect.stringMatching(
      /^\/proc\/nowhere cannot be used: (?:this user may make no folder|no folder can be made) in \/proc\. Name another folder with --data\.\n$/,
    ),
  });
});
