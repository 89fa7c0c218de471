/**
 * How the tests run: one project for plain Node tests, one for those that need the browser, a pseudo-terminal or the built program from end
 * to end. A few files at a time, each worker taking one after another: what they import, and Chromium, is started once for each.
 */
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';
import { PATIENCE_MS } from './support/patience.ts';

/** A test waits for several things in a row. */
const PATIENCE = {
  testTimeout: 4 * PATIENCE_MS,
  hookTimeout: 4 * PATIENCE_MS,
  expect: { poll: { timeout: PATIENCE_MS, interval: 25 } },
};

/** A page is asked over three processes: oftener, and what is waited for waits for the asking. */
const ASK_A_PAGE_EVERY_MS = 100;

/** Some files only wait, for a disk, a port or a bowl: it takes four at a time to keep two cores busy, and cores less one, as is usual, leave one idle. */
const AT_A_TIME = 4;

/** Room for what is new, MB: stories of hours make much of it, and with the usual 16 it is looked through over and over (4 % of the processor). */
const ROOM = ['--min-semi-space-size=16', '--max-semi-space-size=64'];

/** Every test cleans up after itself, so that files need no process of their own. */
const TOGETHER = { pool: 'forks', isolate: false, execArgv: ROOM };

/** Files that wait for a bowl more than they work, or have by far the most to do: begun first, they end beside the others. */
const LONG = [
  'browser/whole-run',
  'browser/looks',
  'browser/thermometer',
  'browser/outcome',
  'commands/lag',
  'soak/few',
  'server/imports',
];

class LongOnesFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const isLong = ({ moduleId }: TestSpecification): boolean => LONG.some((name) => moduleId.includes(`/${name}.`));
    const sorted = await super.sort(files);
    return [...sorted.filter(isLong), ...sorted.filter((file) => !isLong(file))];
  }
}

export default defineConfig({
  test: {
    sequence: { sequencer: LongOnesFirst },
    projects: [
      {
        test: {
          name: 'node',
          root: import.meta.dirname,
          include: ['**/*.test.ts'],
          exclude: ['browser/**', 'bench/**', 'soak/soak.test.ts'],
          maxWorkers: AT_A_TIME,
          ...TOGETHER,
          ...PATIENCE,
        },
      },
      {
        test: {
          name: 'browser',
          root: import.meta.dirname,
          include: ['browser/**/*.test.ts'],
          sequence: { groupOrder: 1 },
          maxWorkers: AT_A_TIME,
          ...TOGETHER,
          ...PATIENCE,
          expect: { poll: { timeout: PATIENCE_MS, interval: ASK_A_PAGE_EVERY_MS } },
        },
      },
    ],
  },
});
