/** The check of a long history that waits for a run to go on: never longer than until the next start, and what it finds is found all the same. */
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, test } from 'vitest';
import { copy } from '../../../server/store/copying.ts';
import { openForWriting } from '../../../server/store/database.ts';
import { type DataFile, readyDataFile } from '../../../server/store/datafile.ts';
import { MIGRATIONS } from '../../../server/store/migrations.ts';
import { madeUpFor } from '../../../server/store/put-off.ts';
import { dataFileIn } from '../../../server/store/store.ts';
import { BUILT_WRITER, folderWithRuns, freshFolder, madeTurns, newRun, openedStore } from '../../support/store.ts';

const COPY_PROCESS = new URL('copy-process.js', BUILT_WRITER);
const HOUR_MS = 3_600_000;

/** Two runs that are over, and one that is going. */
async function cutOff(): Promise<string> {
  const folder = await folderWithRuns(['r1', 'r2'], 50);
  const store = openedStore(folder);
  store.beginRun(newRun('r3'));
  for (const turn of madeTurns(50)) store.append('r3', turn);
  await store.flush();
  await store.close();
  // How the turns fell into transactions decides whether pages are left free.
  change(dataFileIn(folder), 'VACUUM');
  return dataFileIn(folder);
}

/** As a start does with a file that is `longBytes` long, or longer. */
function start(file: string, { atMs = Date.now(), longBytes = 0 } = {}): DataFile {
  return readyDataFile(file, atMs, MIGRATIONS, longBytes);
}

function change(file: string, sql: string): void {
  const db = openForWriting(file, false);
  db.exec(sql);
  db.close();
}

const isOwed = (file: string): boolean => existsSync(`${file}.unchecked`);
const ALTER = `UPDATE inputs SET input = replace(input, 'T=31', 'T=32') WHERE run_id = 2 AND turn = 7`;
const FOUND = { ok: true, notices: [expect.stringContaining('a run is not as it was recorded')] };

test('[S9] it is made up for beside the run, and owed no more', async () => {
  const file = await cutOff();
  expect(start(file)).toEqual({ ok: true, notices: [] });
  expect(isOwed(file)).toBe(true);
  const said: string[] = [];
  await madeUpFor(file, COPY_PROCESS, (words) => said.push(words), 0).done;
  expect({ said, isOwed: isOwed(file) }).toEqual({ said: [], isOwed: false });
});

test('[S9] damage that it finds is said, and set right at the next start', async () => {
  const file = await cutOff();
  change(file, ALTER);
  expect(start(file)).toEqual({ ok: true, notices: [] });
  const said: string[] = [];
  await madeUpFor(file, COPY_PROCESS, (words) => said.push(words), 0).done;
  expect(said).toEqual([expect.stringContaining('a run is not as it was recorded')]);
  expect(start(file)).toEqual(FOUND);
  expect(isOwed(file)).toBe(false);
});

test('[S9] a start that was cut off before it was made up for leaves it to the next one, which does not put it off again', async () => {
  const file = await cutOff();
  change(file, ALTER);
  start(file);
  const making = madeUpFor(file, COPY_PROCESS, () => {});
  making.stop();
  await making.done;
  expect(isOwed(file)).toBe(true);
  expect(start(file)).toEqual(FOUND);
});

test('[S9] where the note cannot be taken away, nothing breaks: neither the run beside it nor the next start', async () => {
  const file = await cutOff();
  mkdirSync(`${file}.unchecked`);
  const said: string[] = [];
  await madeUpFor(file, COPY_PROCESS, (words) => said.push(words), 0).done;
  expect({ said, isOwed: isOwed(file) }).toEqual({ said: [], isOwed: true });
  expect(start(file)).toEqual({ ok: true, notices: [] });
});

test('[S9] given up, it is gone at once, even while SQLite is deep in the file', async () => {
  const folder = freshFolder();
  const [script, begun] = [join(folder, 'endless.mjs'), join(folder, 'begun')];
  const endless = 'WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n) SELECT count(*) FROM n';
  writeFileSync(
    script,
    `import { writeFileSync } from 'node:fs';
     import { openForWriting } from ${JSON.stringify(new URL('../../../dist/server/store/database.js', import.meta.url).href)};
     const db = openForWriting(${JSON.stringify(join(folder, 'any.sqlite'))}, true);
     writeFileSync(${JSON.stringify(begun)}, '');
     db.prepare(${JSON.stringify(endless)}).get();`,
  );
  const stopping = new AbortController();
  const answer = copy(pathToFileURL(script), { kind: 'look-through', from: script }, stopping.signal);
  await expect.poll(() => existsSync(begun)).toBe(true);
  stopping.abort();
  expect(await answer).toEqual({ ok: false, because: 'failed', reason: 'it was given up' });
});

test('[S9] cut off, it has found nothing', async () => {
  const script = join(freshFolder(), 'cut-off.mjs');
  writeFileSync(script, 'process.exit(3);');
  const answer = await copy(pathToFileURL(script), { kind: 'look-through', from: script });
  expect(answer).toEqual({ ok: false, because: 'failed', reason: 'it ended without an answer' });
  const file = await cutOff();
  start(file);
  const said: string[] = [];
  await madeUpFor(file, pathToFileURL(script), (words) => said.push(words), 0).done;
  expect(said).toEqual([
    'The data file could not be looked through (it ended without an answer). The run goes on; Bowlside looks through it when it starts next.',
  ]);
  expect(isOwed(file)).toBe(true);
});

/** A hit in the head of a row can make text of bytes, which no statement does. */
function makeText(file: string): void {
  const db = openForWriting(file, false);
  db.unsafeMode();
  const written = String(db.prepare(`SELECT sql FROM sqlite_schema WHERE name = 'blocks'`).pluck().get());
  const describeAs = (sql: string): void => {
    db.pragma('writable_schema = ON');
    db.prepare(`UPDATE sqlite_schema SET sql = ? WHERE name = 'blocks'`).run(sql);
    db.pragma('writable_schema = RESET');
  };
  describeAs(written.replace(/STRICT$/, ''));
  db.exec(`UPDATE blocks SET readings = 'abc' WHERE run_id = 3`);
  describeAs(written);
  db.close();
}

test('[S9] where the run to go on with holds text for bytes the file is damaged, and the start goes on', async () => {
  const file = await cutOff();
  makeText(file);
  expect(start(file)).toEqual({ ok: true, notices: [expect.stringMatching(/damaged.* 2 runs were saved from it/)] });
});

describe('[S9] it is not put off', () => {
  test.each([
    ['where the file is short', '', { longBytes: 100_000_000 }],
    ['where no run is going', 'UPDATE runs SET ended_at_ms = last_at_ms', {}],
    ['where the run that is going is over by now', '', { atMs: Date.now() + 3 * HOUR_MS }],
    ['where not all of that run is there', 'DELETE FROM inputs WHERE run_id = 3 AND turn = 9', {}],
    [
      'where some of the file is free',
      'CREATE TABLE gone (x); INSERT INTO gone VALUES (zeroblob(9000)); DROP TABLE gone',
      {},
    ],
  ])('%s', async (_where, sql, how) => {
    const file = await cutOff();
    change(file, `${ALTER}; ${sql}`);
    expect(start(file, how)).toEqual(FOUND);
  });
});
