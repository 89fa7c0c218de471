/** A run whose record is whole while its row is not: what the row only repeats of the record is put together again. */
import type { CardEntry } from '../core/record/card.ts';
import type { RunEvent } from '../core/record/event.ts';
import type { Reading, RunHeader } from '../core/record/run.ts';
import { decodeReadings } from './columns.ts';
import { undamaged } from './damage.ts';
import type { Database } from './database.ts';
import { RECORD_COLUMNS } from './sums.ts';
import { EMPTY_TALLY, type Tally, tallied } from './tally.ts';
import { extended, NO_TILES, PICTURE_COLUMNS } from './tiles.ts';
import { cardColumns, curveColumns, headerColumns, tallyColumns } from './told-row.ts';

export type Row = Readonly<Record<string, unknown>>;

/** The row that the record of this run calls for, by columns. Throws where that cannot be told. */
export function rebuiltRow(from: Database, id: number): Row {
  const recorded = from.prepare(`SELECT id, ${RECORD_COLUMNS} FROM runs WHERE id = ?`).get(id) as Row;
  const header = JSON.parse(String(recorded['header'])) as RunHeader;
  const events = texts(from, 'SELECT event FROM events WHERE run_id = ? ORDER BY seq', id).map(
    (event) => JSON.parse(event) as RunEvent,
  );
  const readings = blocks(from, id).flatMap(decodeReadings);
  const startedAtWall = Date.parse(String(recorded['started_at_wall']));
  return {
    ...recorded,
    ...labelsOf(from, id),
    last_wall_ms: startedAtWall + Number(recorded['last_at_ms']) - Number(recorded['started_at_ms']),
    seq: events.at(-1)?.seq ?? 0,
    ...headerColumns(header),
    ...tallyColumns(tallyOf(events, readings)),
    ...curveColumns(extended(NO_TILES, readings, PICTURE_COLUMNS)),
    ...cardColumns(undamaged(() => cardOf(from, id)) ?? []),
  };
}

/** What the record should sum up to, by its row and by the copy kept far from it; none where nobody knows. */
export function recordSums(from: Database, id: number): readonly number[] {
  return ['SELECT record_sum FROM runs WHERE id = ?', 'SELECT record_sum FROM record_sums WHERE run_id = ?']
    .map((query) => asFarAsRead(() => from.prepare(query).pluck().get(id)))
    .filter((sum) => typeof sum === 'number');
}

/** They stand at the end of a row, where it may be torn. */
function labelsOf(from: Database, id: number): Row {
  const columns = 'bowl_name, imported_at_wall, binned_at_wall';
  const labels = asFarAsRead(() => from.prepare(`SELECT ${columns} FROM runs WHERE id = ?`).get(id)) as Row | null;
  if (labels === null) return {};
  const { bowl_name, imported_at_wall, binned_at_wall } = labels;
  return { bowl_name, imported_at_wall: dated(imported_at_wall), binned_at_wall: dated(binned_at_wall) };
}

/** null where it can't be read, or an older file has no place for it. */
function asFarAsRead<T>(read: () => T): T | null {
  try {
    return read();
  } catch {
    return null;
  }
}

/** As turn by turn, where what happened comes before what was read at the same moment. */
function tallyOf(events: readonly RunEvent[], readings: readonly Reading[]): Tally {
  let told = 0;
  const tally = readings.reduce((so, reading) => {
    const first = told;
    while (told < events.length && events[told]!.atMs <= reading.atMs) told++;
    return tallied(so, events.slice(first, told), [reading]);
  }, EMPTY_TALLY);
  return tallied(tally, events.slice(told), []);
}

function cardOf(from: Database, id: number): CardEntry[] {
  return texts(from, 'SELECT entry FROM card_entries WHERE run_id = ? ORDER BY n', id).map(
    (entry) => JSON.parse(entry) as CardEntry,
  );
}

/** A moment that is none any more was not kept: a run is rather shown than hidden. */
function dated(value: unknown): string | null {
  return typeof value === 'string' && Number.isFinite(Date.parse(value)) ? value : null;
}

function texts(from: Database, query: string, id: number): string[] {
  return from.prepare(query).pluck().all(id) as string[];
}

function blocks(from: Database, id: number): Uint8Array[] {
  return from.prepare('SELECT readings FROM blocks WHERE run_id = ? ORDER BY block').pluck().all(id) as Uint8Array[];
}
