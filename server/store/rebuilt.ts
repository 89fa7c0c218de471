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

/** The row that the record of this run calls for, by columns, and the sum its record should have. Throws where that cannot be told. */
export function rebuiltRow(from: Database, id: number): { readonly row: Row; readonly recordSum: number } {
  const kept = from
    .prepare(
      `SELECT id, ${RECORD_COLUMNS}, bowl_name, imported_at_wall, binned_at_wall, record_sum FROM runs WHERE id = ?`,
    )
    .get(id) as Row;
  const { record_sum: recordSum, ...recorded } = kept;
  if (typeof recordSum !== 'number') throw new RangeError('nobody knows what the record sums up to');
  const header = JSON.parse(String(kept['header'])) as RunHeader;
  const events = texts(from, 'SELECT event FROM events WHERE run_id = ? ORDER BY seq', id).map(
    (event) => JSON.parse(event) as RunEvent,
  );
  const readings = blocks(from, id).flatMap(decodeReadings);
  const startedAtWall = Date.parse(String(kept['started_at_wall']));
  return {
    recordSum,
    row: {
      ...recorded,
      imported_at_wall: dated(kept['imported_at_wall']),
      binned_at_wall: dated(kept['binned_at_wall']),
      last_wall_ms: startedAtWall + Number(kept['last_at_ms']) - Number(kept['started_at_ms']),
      seq: events.at(-1)?.seq ?? 0,
      ...headerColumns(header),
      ...tallyColumns(tallyOf(events, readings)),
      ...curveColumns(extended(NO_TILES, readings, PICTURE_COLUMNS)),
      ...cardColumns(undamaged(() => cardOf(from, id)) ?? []),
    },
  };
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
