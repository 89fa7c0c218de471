/** Killed half-way while an old file is brought up to date: it opens at the next start, with all its runs, and no half copy is left for a whole one. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { copyFileSync, mkdirSync, readdirSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { setTimeout as wait } from 'node:timers/promises';
import { chance } from '../../server/source/kitchen/chance.ts';
import { damageOf, openForReading, openForWriting } from '../../server/store/database.ts';
import { readyDataFile } from '../../server/store/datafile.ts';
import { MIGRATIONS, versionOf } from '../../server/store/migrations.ts';
import { encodeTiles } from '../../server/store/columns.ts';
import { freshFolder, newRun } from '../support/store.ts';
import { within, type Bounds, type Row } from './rows.ts';

const CHILD = fileURLToPath(new URL('../support/migrating-child.mjs', import.meta.url));
const RUNS = 600;
const EVENTS_A_RUN = 20;
/** Only a broken one takes so long, ms. */
const PATIENCE_MS = 60_000;
/** As long as it takes, and longer by so much. */
const BEYOND = 1.2;

export async function migrations(bounds: Bounds): Promise<Row[]> {
  const luck = chance(bounds.seed);
  const old = oldFile();
  const file = join(freshFolder(), 'killed', 'bowlside.sqlite');
  mkdirSync(dirname(file));
  copyFileSync(old, file);
  const startedMs = performance.now();
  await killedWithin(PATIENCE_MS, file);
  const longestMs = BEYOND * (performance.now() - startedMs);
  let [kills, midway, unopened, short, halves] = [0, 0, 0, 0, 0];
  for (const _ of within(bounds)) {
    rmSync(dirname(file), { recursive: true, force: true });
    mkdirSync(dirname(file));
    copyFileSync(old, file);
    if (!(await killedWithin(luck.between(0, longestMs), file))) midway++;
    kills++;
    const ready = readyDataFile(file, Date.now());
    if (!ready.ok) unopened++;
    else if (runsIn(file) !== RUNS) short++;
    halves += halfCopiesIn(dirname(file));
  }
  return [
    { name: 'kills', unit: '', value: kills },
    { name: 'before it was done', unit: '', value: midway },
    { name: 'files that did not open', unit: '', value: unopened, most: 0 },
    { name: 'files with runs missing', unit: '', value: short, most: 0 },
    { name: 'half copies under the name of a whole one', unit: '', value: halves, most: 0 },
  ];
}

/** Of the first version, with many runs. */
function oldFile(): string {
  const file = join(freshFolder(), 'old.sqlite');
  readyDataFile(file, 0, MIGRATIONS.slice(0, 1));
  const db = openForWriting(file, false);
  const addRun = db.prepare(
    `INSERT INTO runs (id, run, bowl, profile, title, coating, header, source, simulated, started_at_ms, started_at_wall, ended_at_ms,
       last_at_ms, last_wall_ms, seq, span_ms, tiles)
     VALUES (?, ?, 'bowl-1', 'dark', 'Dark', 'dark', ?, 'serial', 0, 0, '2026-11-25T09:00:00.000Z', 9000, 9000, 0, ?, 1000, ?)`,
  );
  const addEvent = db.prepare('INSERT INTO events VALUES (?, ?, ?)');
  const header = JSON.stringify(newRun('old').header);
  db.transaction(() => {
    for (let id = 1; id <= RUNS; id++) {
      addRun.run(id, `r${id}`, header, EVENTS_A_RUN, Buffer.from(encodeTiles([])));
      for (let seq = 1; seq <= EVENTS_A_RUN; seq++) {
        const event = { seq, atMs: seq * 100, kind: 'phase-entered', phase: 'melt', from: null, by: 'reached' };
        addEvent.run(id, seq, JSON.stringify(event));
      }
    }
  })();
  db.close();
  return file;
}

/** Whether it was done before it was killed. */
async function killedWithin(ms: number, file: string): Promise<boolean> {
  const child = spawn(process.execPath, [CHILD, file], { stdio: ['ignore', 'pipe', 'inherit'] });
  const exited = once(child, 'exit');
  let said = '';
  child.stdout.on('data', (bytes: Buffer) => (said += String(bytes)));
  await once(child.stdout, 'data');
  const late = new AbortController();
  await Promise.race([wait(ms, null, { signal: late.signal }).catch(() => {}), exited]);
  late.abort();
  child.kill('SIGKILL');
  await exited;
  return said.includes('done');
}

function runsIn(file: string): number {
  const db = openForReading(file);
  const count =
    versionOf(db) === MIGRATIONS.length && damageOf(db) === null
      ? db.prepare('SELECT count(*) FROM runs').pluck().get()
      : 0;
  db.close();
  return Number(count);
}

function halfCopiesIn(folder: string): number {
  const copies = readdirSync(folder).filter((name) => /^bowlside-version-.*\.sqlite$/.test(name));
  return copies.filter((name) => !isWholeCopy(join(folder, name))).length;
}

function isWholeCopy(file: string): boolean {
  try {
    const db = openForReading(file);
    try {
      return damageOf(db) === null && db.prepare('SELECT count(*) FROM runs').pluck().get() === RUNS;
    } finally {
      db.close();
    }
  } catch {
    return false;
  }
}
