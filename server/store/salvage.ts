/**
 * Carries the runs that are whole out of a damaged data file into a new one. A run of which anything essential cannot be read, or is
 * not all there, is left behind: the damaged file is kept, so nothing is given up for good.
 */
import { closeSync, copyFileSync, existsSync, openSync, readSync, rmSync, writeSync } from 'node:fs';
import { decodeReadings, decodeTiles } from './columns.ts';
import { undamaged } from './damage.ts';
import { openForReading } from './database.ts';
import type { Database } from './database.ts';
import { rebuiltRow, recordSums, type Row } from './rebuilt.ts';
import { isMislabelled, putSum, recordSumOf, sumOf } from './sums.ts';

export interface Salvaged {
  readonly saved: number;
  /** Runs that were seen but not whole; null: not even the list of runs could be read to its end. */
  readonly leftBehind: number | null;
}

const SQLITE_HEADER_BYTES = 100;
/** Every SQLite file begins with this. */
const MAGIC = 'SQLite format 3\0';

/**
 * Copies from the file `damaged`, which nobody has open, into `to`, which is migrated and empty. `freshHeader`: the first bytes of a new
 * file, put before those of a damaged one that does not begin as it should, in a working copy beside it that is removed again.
 */
export function salvage(damaged: string, to: Database, freshHeader: Buffer): Salvaged {
  const scratch = `${damaged}.scratch`;
  const nothing = { saved: 0, leftBehind: null };
  try {
    const from = openForReading(headerIsWhole(damaged) ? damaged : withNewHeader(damaged, freshHeader, scratch));
    const salvaged = copyRuns(from, to);
    from.close();
    return salvaged;
  } catch {
    // Whatever stops the reading of a damaged file stops the salvage, never the start of the server.
    return nothing;
  } finally {
    for (const end of ['', '-wal', '-shm']) rmSync(scratch + end, { force: true });
  }
}

function copyRuns(from: Database, to: Database): Salvaged {
  const { ids, isWhole } = idsOf(from);
  const saved = ids.filter((id) => copyRun(from, to, id)).length;
  return { saved, leftBehind: isWhole ? ids.length - saved : null };
}

/** From both ends, for the list itself may be broken in the middle. */
function idsOf(from: Database): { readonly ids: number[]; readonly isWhole: boolean } {
  const up = readable(from, 'SELECT id FROM runs ORDER BY id');
  if (up.isWhole) return up;
  const down = readable(from, 'SELECT id FROM runs ORDER BY id DESC');
  return { ids: [...new Set([...up.ids, ...down.ids])].toSorted((a, b) => a - b), isWhole: false };
}

function readable(from: Database, query: string): { readonly ids: number[]; readonly isWhole: boolean } {
  const ids: number[] = [];
  try {
    for (const id of from.prepare(query).pluck().iterate()) ids.push(Number(id));
    return { ids, isWhole: true };
  } catch {
    return { ids, isWhole: false };
  }
}

/** A run that is not as it was recorded may be whole in all but its row, which can be put together again. */
function copyRun(from: Database, to: Database, id: number): boolean {
  if (!isDone(to, () => copyWhole(from, to, id)) && !isDone(to, () => copyRecord(from, to, id))) return false;
  // On a day that is not what it was it would be deleted too early: it is rather shown.
  isDone(to, () => isMislabelled(from, id) && to.prepare('UPDATE runs SET binned_at_wall = NULL WHERE id = ?').run(id));
  // A run without its notes, card or checkpoint is still a run.
  for (const table of ['notes', 'checkpoints', 'card_entries', 'judgements'])
    isDone(to, () => copyRows(from, to, table, 'run_id', id));
  return true;
}

/** All of it, or nothing. */
function isDone(to: Database, copy: () => unknown): boolean {
  try {
    to.transaction(copy).immediate();
    return true;
  } catch {
    return false;
  }
}

function copyWhole(from: Database, to: Database, id: number): void {
  const run = copyRows(from, to, 'runs', 'id', id)[0];
  const inputs = copyRows(from, to, 'inputs', 'run_id', id);
  const events = copyRows(from, to, 'events', 'run_id', id);
  const blocks = copyRows(from, to, 'blocks', 'run_id', id);
  const lost = copyRows(from, to, 'lost', 'run_id', id);
  if (!isWhole(run, inputs, events, blocks, lost)) throw new RangeError('the run is not all there');
  const sum = run?.['sum'] ?? null;
  if (sum !== null && sum !== sumOf(to, id)) throw new RangeError('the run is not as it was recorded');
}

function copyRecord(from: Database, to: Database, id: number): void {
  const row = rebuiltRow(from, id);
  insertion(to, 'runs', row).run(row);
  for (const table of ['inputs', 'events', 'blocks', 'lost']) copyRows(from, to, table, 'run_id', id);
  if (!recordSums(from, id).includes(recordSumOf(to, id))) throw new RangeError('the record is not as it was');
  putSum(to, String(row['run']));
}

/** Whether a run can be read from end to end. Throws what SQLite throws. */
export function isAllThere(from: Database, id: number): boolean {
  const of = (table: string): Row[] => rowsOf(from, table, 'run_id', id);
  const run = rowsOf(from, 'runs', 'id', id)[0];
  return undamaged(() => isWhole(run, of('inputs'), of('events'), of('blocks'), of('lost'))) === true;
}

function rowsOf(from: Database, table: string, key: string, id: number): Row[] {
  return from.prepare(`SELECT * FROM ${table} WHERE ${key} = ?`).all(id) as Row[];
}

/** By the column names of the old file, so that it may be of an older version than the new one. */
function copyRows(from: Database, to: Database, table: string, key: string, id: number): Row[] {
  const rows = rowsOf(from, table, key, id);
  if (rows.length === 0) return rows;
  const insert = insertion(to, table, rows[0]!);
  for (const row of rows) insert.run(row);
  return rows;
}

function insertion(to: Database, table: string, row: Row) {
  const columns = Object.keys(row);
  return to.prepare(
    `INSERT INTO ${table} (${columns.join(', ')}) VALUES (${columns.map((column) => `@${column}`).join(', ')})`,
  );
}

/** Throws where the contents cannot be decoded. */
function isWhole(
  run: Row | undefined,
  inputs: readonly Row[],
  events: readonly Row[],
  blocks: readonly Row[],
  lost: readonly Row[],
): boolean {
  if (run === undefined) return false;
  for (const column of ['header', 'crossed', 'visits', 'tags']) JSON.parse((run[column] ?? 'null') as string);
  for (const { input } of inputs) JSON.parse(String(input));
  for (const { event } of events) JSON.parse(String(event));
  for (const { readings, tiles } of blocks) {
    decodeReadings(readings as Uint8Array);
    decodeTiles(tiles as Uint8Array);
  }
  const lostTurns = lost.reduce((sum, span) => sum + Number(span['to_turn']) - Number(span['from_turn']) + 1, 0);
  const lastBlock = Math.max(-1, ...blocks.map(({ block }) => Number(block)));
  return inputs.length + lostTurns === run['turns'] && events.length === run['seq'] && blocks.length === lastBlock + 1;
}

function headerIsWhole(file: string): boolean {
  return headerOf(file).toString('latin1', 0, MAGIC.length) === MAGIC;
}

/** A working copy whose first bytes are those of a fresh file: they hold the same in every file of ours, but for the counters. */
function withNewHeader(damaged: string, freshHeader: Buffer, scratch: string): string {
  copyFileSync(damaged, scratch);
  if (existsSync(`${damaged}-wal`)) copyFileSync(`${damaged}-wal`, `${scratch}-wal`);
  const header = Buffer.from(freshHeader);
  // "Version valid for" unlike the change counter: SQLite then takes the number of pages from the length of the file.
  header.writeUInt32BE(header.readUInt32BE(24) + 1, 92);
  // No list of free pages: it is not needed for reading.
  header.fill(0, 32, 40);
  const handle = openSync(scratch, 'r+');
  writeSync(handle, header, 0, SQLITE_HEADER_BYTES, 0);
  closeSync(handle);
  return scratch;
}

/** The first bytes of a file that nobody in this process has open: closing it here would drop SQLite's own locks on it. */
export function headerOf(file: string): Buffer {
  const header = Buffer.alloc(SQLITE_HEADER_BYTES);
  const handle = openSync(file, 'r');
  readSync(handle, header, 0, SQLITE_HEADER_BYTES, 0);
  closeSync(handle);
  return header;
}
