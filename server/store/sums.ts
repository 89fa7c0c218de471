/**
 * A sum of all that was recorded of a run, kept from its end on: a file whose pages are sound may still hold other contents than were
 * written. Against damage, not forgery. Knows the tables and nothing of what stands in them.
 */
import { crc32 } from 'node:zlib';
import { DOOMED_AT_WALL } from './batch.ts';
import type { Database } from './database.ts';

/**
 * What stays of its row from its end on, its inputs, events and blocks, in order: each put together by the database itself, as bytes, which is
 * many times quicker than row by row. It keeps a sub-select's order under `group_concat`, and the two tables lie in that order in any case; an
 * order inside costs twice the time.
 */
const CONTENTS: readonly string[] = [
  'SELECT CAST(group_concat(input, char(10)) AS BLOB) FROM (SELECT input FROM inputs WHERE run_id = ? ORDER BY turn)',
  'SELECT CAST(group_concat(event, char(10)) AS BLOB) FROM (SELECT event FROM events WHERE run_id = ? ORDER BY seq)',
  'SELECT CAST(group_concat(hex(readings) || hex(tiles), char(10) ORDER BY block) AS BLOB) FROM blocks WHERE run_id = ?',
];

const ROW = `SELECT CAST(json_array(run, bowl, profile, title, coating, header, source, simulated, started_at_ms, started_at_wall, ended_at_ms, last_at_ms,
  turns, seq, standing, worst_alarm, crossed, visits, span_ms, hex(tiles), learned) AS BLOB) FROM runs WHERE id = ?`;

/**
 * Of a run's row what was recorded of it and nothing else in the file says. The rest can be put together again (`rebuilt.ts`), but for its labels.
 */
export const RECORD_COLUMNS = `run, bowl, header, source, simulated, started_at_ms, started_at_wall, ended_at_ms, last_at_ms, turns, learned`;
const RECORD_ROW = `SELECT CAST(json_array(${RECORD_COLUMNS}) AS BLOB) FROM runs WHERE id = ?`;

/**
 * What its bowl was called, and the days on which it was brought in or thrown away. These days change after its end, so they have a sum of their own
 * (`label_sum`), which the file itself keeps up (`migrations.ts`).
 */
const LABELLED =
  'SELECT id, label_sum AS labelSum, CAST(json_array(bowl_name, imported_at_wall, binned_at_wall) AS BLOB) AS labels FROM runs';

interface Labelled {
  readonly id: number;
  readonly labelSum: number | null;
  readonly labels: Uint8Array;
}

/** Neither half deleted nor half brought in. */
const STAYS = `binned_at_wall IS NOT '${DOOMED_AT_WALL}'`;

/** Columns that no sum covers, or not yet, and the list of runs stumbles over. */
const GARBLED = `SELECT count(*) FROM runs WHERE sum IS NULL
  AND NOT (json_valid(header) AND json_valid(crossed) AND json_valid(visits)) OR NOT json_valid(tags)`;

/** CRC-32 of what the file holds of a run. Throws what SQLite throws. */
export function sumOf(db: Database, id: number): number {
  return summed(db, id, [ROW, ...CONTENTS]);
}

/** As above, without what its row only repeats of its record. */
export function recordSumOf(db: Database, id: number): number {
  return summed(db, id, [RECORD_ROW, ...CONTENTS]);
}

/** Whether the labels of a run are others than were written. Throws what SQLite throws. */
export function isMislabelled(db: Database, id: number): boolean {
  return has(db, 'label_sum') && isOther(db.prepare(`${LABELLED} WHERE id = ?`).get(id) as Labelled);
}

function mislabelledIn(db: Database): ReadonlySet<number> {
  const all = has(db, 'label_sum') ? (db.prepare(LABELLED).all() as Labelled[]) : [];
  return new Set(all.filter(isOther).map(({ id }) => id));
}

function isOther({ labelSum, labels }: Labelled): boolean {
  return crc32(labels) !== labelSum;
}

function summed(db: Database, id: number, parts: readonly string[]): number {
  return parts.reduce((sum, query) => {
    const bytes = db.prepare(query).pluck().get(id) as Buffer | null | undefined;
    return bytes ? crc32(bytes, sum) : sum;
  }, 0);
}

/** From now on it is known what the run and its record sum up to. An unknown name is none. */
export function putSum(db: Database, run: string): void {
  const id = db.prepare('SELECT id FROM runs WHERE run = ?').pluck().get(run);
  if (id === undefined) return;
  const sums = [sumOf(db, Number(id)), recordSumOf(db, Number(id))];
  db.prepare('UPDATE runs SET sum = ?, record_sum = ? WHERE id = ?').run(...sums, id);
}

/** Gives its sums to each ended run that lacks one: it was recorded before they were kept. */
export function sumUp(db: Database): void {
  if (!has(db, 'record_sum')) return;
  const runs = db
    .prepare(`SELECT run FROM runs WHERE (sum IS NULL OR record_sum IS NULL) AND ended_at_ms IS NOT NULL AND ${STAYS}`)
    .pluck()
    .all();
  for (const run of runs as string[]) putSum(db, run);
}

/**
 * null, or how many runs hold something else than was recorded, in words; or what does not fit between the list of runs and its indexes. Reads all
 * of them, but for one that is being deleted.
 */
export function alteredIn(db: Database): string | null {
  if (!has(db, 'sum')) return null;
  const verdict = String(db.pragma("integrity_check('runs')", { simple: true }));
  if (verdict !== 'ok') return verdict;
  const rows = db.prepare(`SELECT id, sum FROM runs WHERE sum IS NOT NULL AND ${STAYS}`).all() as {
    readonly id: number;
    readonly sum: number;
  }[];
  const mislabelled = mislabelledIn(db);
  const altered =
    rows.filter(({ id, sum }) => sumOf(db, id) !== sum || mislabelled.has(id)).length +
    Number(db.prepare(GARBLED).pluck().get());
  if (altered === 0) return null;
  return altered === 1 ? 'a run is not as it was recorded' : `${altered} runs are not as they were recorded`;
}

function has(db: Database, column: string): boolean {
  return db.prepare(`SELECT 1 FROM pragma_table_info('runs') WHERE name = ?`).get(column) !== undefined;
}
