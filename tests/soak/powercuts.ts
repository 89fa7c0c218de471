/**
 * The power goes while a batch is being written: of the write-ahead log any beginning of the new bytes is on disk, what follows is old or
 * torn. What is opened then is whole, and stands at the batch that was acknowledged, or at the one under way.
 */
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import { chance, type Chance } from '../../server/source/kitchen/chance.ts';
import type { Entry } from '../../server/store/batch.ts';
import { damageOf, openForReading, openForWriting } from '../../server/store/database.ts';
import { readyDataFile } from '../../server/store/datafile.ts';
import { Reader } from '../../server/store/reader.ts';
import { Recorder } from '../../server/store/recorder.ts';
import { freshFolder, madeTurns, newRun } from '../support/store.ts';
import { within, type Bounds, type Row } from './rows.ts';

/** A batch: what came in within the time that entries are gathered for and a commit takes, under a second of them. */
const BATCHES = 60;
const TURNS_A_BATCH = 10;
/** Between two checkpoints of the log, batches: so that some cuts meet a log that begins anew. */
const CHECKPOINT_EVERY = 13;
const SECTOR_BYTES = 512;
const SECOND = 10;

/** What is on disk for sure once a batch is acknowledged. */
interface Moment {
  readonly file: Buffer;
  readonly log: Buffer;
  readonly turns: number;
}

export function powerCuts(bounds: Bounds): Promise<Row[]> {
  const luck = chance(bounds.seed);
  const moments = recorded();
  const all = madeTurns(BATCHES * TURNS_A_BATCH).map((turn) => turn.input);
  const file = join(freshFolder(), 'cut', 'bowlside.sqlite');
  let [cuts, lost, wrong, damaged, mostBehind] = [0, 0, 0, 0, 0];
  for (const _ of within(bounds)) {
    const at = 1 + Math.floor(luck.between(0, moments.length - 2));
    const [before, after] = [moments[at]!, moments[at + 1]!];
    put(file, before.file, torn(before.log, after.log, luck));
    const { turns, inputs, isDamaged } = opened(file);
    cuts++;
    if (turns < before.turns) lost++;
    if (turns !== before.turns && turns !== after.turns) wrong++;
    if (!isDeepStrictEqual(inputs, all.slice(0, turns))) wrong++;
    if (isDamaged) damaged++;
    mostBehind = Math.max(mostBehind, after.turns - turns);
  }
  return Promise.resolve([
    { name: 'power cuts', unit: '', value: cuts },
    { name: 'that lost what was acknowledged', unit: '', value: lost, most: 0 },
    { name: 'with a record that was never one', unit: '', value: wrong, most: 0 },
    { name: 'with a damaged file', unit: '', value: damaged, most: 0 },
    { name: 'lost at most, by arrival', unit: 's', value: mostBehind / SECOND, most: 1 },
  ]);
}

/** The file and its log after each batch. */
function recorded(): Moment[] {
  const file = join(freshFolder(), 'bowlside.sqlite');
  readyDataFile(file, 0);
  const db = openForWriting(file, false);
  db.pragma('wal_autocheckpoint = 0');
  const recorder = new Recorder(db);
  const turns = madeTurns(BATCHES * TURNS_A_BATCH);
  const moments: Moment[] = [];
  for (let batch = 0; batch < BATCHES; batch++) {
    const first = batch * TURNS_A_BATCH;
    const entries: Entry[] = turns.slice(first, first + TURNS_A_BATCH).map((content, i) => {
      const turn = first + i + 1;
      return { kind: 'turn', run: 'r1', turn, wallMs: turn * 100, content, checkpoint: null };
    });
    recorder.commit(batch === 0 ? [{ kind: 'begin', run: newRun('r1'), wallMs: 0 }, ...entries] : entries);
    if (batch % CHECKPOINT_EVERY === CHECKPOINT_EVERY - 1) db.pragma('wal_checkpoint(PASSIVE)');
    moments.push({ file: readFileSync(file), log: readFileSync(`${file}-wal`), turns: first + TURNS_A_BATCH });
  }
  db.close();
  return moments;
}

/** The new log over the old one as far as it came, and what a disk that was not asked to keep an order did with the rest. */
function torn(before: Buffer, after: Buffer, luck: Chance): Buffer {
  const from = sameBytes(before, after);
  const cut = from + Math.floor(luck.between(0, after.length - from + 1));
  const log = Buffer.concat([after.subarray(0, cut), before.subarray(cut)]);
  if (luck.happens(0.3)) return log;
  // Sectors after the cut: some came, some are zeros, some are what lay there.
  const tail = Buffer.alloc(Math.max(0, after.length - log.length));
  const whole = Buffer.concat([log, tail]);
  for (let at = Math.ceil(cut / SECTOR_BYTES) * SECTOR_BYTES; at < after.length; at += SECTOR_BYTES) {
    const end = Math.min(at + SECTOR_BYTES, after.length);
    if (luck.happens(0.4)) after.copy(whole, at, at, end);
    else if (luck.happens(0.5)) for (let i = at; i < end; i++) whole[i] = Math.floor(luck.between(0, 256));
  }
  return luck.happens(0.5) ? whole : whole.subarray(0, Math.floor(luck.between(cut, whole.length + 1)));
}

function sameBytes(a: Buffer, b: Buffer): number {
  let at = 0;
  while (at < a.length && at < b.length && a[at] === b[at]) at++;
  return at;
}

function put(file: string, data: Buffer, log: Buffer): void {
  const folder = join(file, '..');
  if (existsSync(folder)) rmSync(folder, { recursive: true });
  mkdirSync(folder, { recursive: true });
  writeFileSync(file, data);
  writeFileSync(`${file}-wal`, log);
}

/** As the next start finds it. */
function opened(file: string): {
  readonly turns: number;
  readonly inputs: readonly unknown[];
  readonly isDamaged: boolean;
} {
  const ready = readyDataFile(file, 0);
  if (!ready.ok || ready.notices.length > 0) return { turns: 0, inputs: [], isDamaged: true };
  const db = openForReading(file);
  const isDamaged = damageOf(db, true) !== null;
  db.close();
  const reader = new Reader(file);
  const turns = reader.standstillOf('r1')?.turns ?? 0;
  const inputs = reader.inputs('r1', 0);
  reader.close();
  return { turns, inputs, isDamaged };
}
