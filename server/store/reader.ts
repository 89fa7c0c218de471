/**
 * The reading half: a second connection that can only read, and turns rows back into the shapes of `records.ts`.
 * Sees what is committed, nothing earlier. Knows nothing of what is still waiting.
 */
import type { CardEntry } from '../core/record/card.ts';
import type { RunEvent } from '../core/record/event.ts';
import type { RecordedInput } from '../core/record/input.ts';
import type { Judgement } from '../core/record/judgement.ts';
import type { Learned, Reading, RunHeader } from '../core/record/run.ts';
import type { NoteInfo, Tile } from '../core/show/wire.ts';
import { DOOMED_AT_WALL } from './batch.ts';
import type { Judged } from '../judging/messages.ts';
import { decodeReadings, decodeTiles, firstMsOf, HEADER_BYTES, rowsIn } from './columns.ts';
import { undamaged } from './damage.ts';
import { openForReading } from './database.ts';
import type { Database } from './database.ts';
import { BLOCKS_AT_ONCE, ROWS_AT_ONCE } from './purge.ts';
import { listChoices, listedRuns } from './listing.ts';
import type {
  Checkpoint,
  LostSpan,
  NewRun,
  RunChoices,
  RunPage,
  RunQuery,
  RunToResume,
  Stretch,
  StoredRun,
} from './records.ts';
import { gathered } from './tiles.ts';

/** How far a run is on disk, and when it got there. */
export interface Standstill {
  readonly run: string;
  readonly turns: number;
  readonly lastAtMs: number;
  readonly lastWallMs: number;
}

type StoredCheckpoint = Omit<Checkpoint, 'learned'> & { readonly turn: number };

/** Every method throws what SQLite throws on a file that cannot be read, and a RangeError or SyntaxError on damaged contents. */
export class Reader {
  readonly #db: Database;
  readonly #sql: ReturnType<typeof prepared>;

  constructor(file: string) {
    this.#db = openForReading(file);
    this.#sql = prepared(this.#db);
  }

  close(): void {
    this.#db.close();
  }

  runs(query: RunQuery): RunPage {
    return this.#atOneMoment(() => listedRuns(this.#db, query));
  }

  choices(): RunChoices {
    return this.#atOneMoment(() => listChoices(this.#db));
  }

  standstillOf(run: string): Standstill | null {
    return (this.#sql.standstill.get(run) as Standstill | undefined) ?? null;
  }

  /** Runs that were never ended, newest first, of one bowl or of all. */
  goingRuns(bowl: string | null = null): Standstill[] {
    return this.#sql.going.all({ bowl }) as Standstill[];
  }

  /** null where there is none of that name, or it is being deleted. */
  storedRun(run: string): StoredRun | null {
    return this.#atOneMoment(() => {
      const row = this.#sql.run.get(run) as RunRow | undefined;
      if (row === undefined) return null;
      return {
        ...newRunOf(row),
        turns: row.turns,
        endedAtMs: row.endedAtMs,
        lost: this.#sql.lost.all(row.id) as LostSpan[],
        events: (this.#sql.events.all(row.id) as string[]).map((text) => JSON.parse(text) as RunEvent),
        notes: (this.#sql.notes.all(row.id) as string[]).map((text) => JSON.parse(text) as NoteInfo),
        card: (this.#sql.card.all(row.id) as string[]).map((text) => JSON.parse(text) as CardEntry),
        binnedAtWall: row.binnedAtWall,
        importedAtWall: row.importedAtWall,
      };
    });
  }

  /** The card's entries, oldest first. */
  card(run: string): CardEntry[] {
    return (this.#sql.cardOf.all(run) as string[]).map((text) => JSON.parse(text) as CardEntry);
  }

  /** Runs that have lain in the bin since before a moment, ISO 8601; first those whose deletion was cut off. */
  binnedBefore(wall: string): string[] {
    return this.#sql.binnedBefore.all(wall) as string[];
  }

  /** Whether a run is being deleted. */
  isDoomed(run: string): boolean {
    return this.#sql.doomed.get(run) !== undefined;
  }

  /** In how many pieces a run can be deleted, at the most; 0 where there is none of that name. */
  piecesOf(run: string): number {
    return Math.ceil((this.#sql.pieces.get(run) as number | undefined) ?? 0);
  }

  /** Inputs after the first `afterTurn` turns, in order. */
  inputs(run: string, afterTurn: number): RecordedInput[] {
    const rows = this.#sql.inputs.all(run, afterTurn) as string[];
    return rows.map((text) => JSON.parse(text) as RecordedInput);
  }

  /** The inputs of its first `turns` turns in order, read a piece at a time: a long run is not held in memory. */
  *eachInput(run: string, turns: number): Generator<RecordedInput> {
    for (let turn = 0; turn < turns; turn += INPUTS_A_PAGE) {
      const upTo = Math.min(turn + INPUTS_A_PAGE, turns);
      for (const input of this.#whileThere(run, (id) => this.#sql.inputPage.all(id, turn, upTo) as string[]))
        yield JSON.parse(input) as RecordedInput;
    }
  }

  /** All readings in the order they came, as many minutes of them at a time. */
  *eachReading(run: string): Generator<Reading> {
    const { count } = this.#whileThere(run, () => this.#sql.blockCount.get(run) as { readonly count: number });
    for (let block = 0; block < count; block += BLOCKS_A_PAGE) {
      const page = this.#whileThere(
        run,
        (id) => this.#sql.readings.all(id, block, block + BLOCKS_A_PAGE) as Uint8Array[],
      );
      for (const bytes of page) yield* decodeReadings(bytes);
    }
  }

  /** What has begun to be deleted is no longer read: it would be taken for the whole. */
  #whileThere<T>(run: string, read: (id: number) => T): T {
    return this.#atOneMoment(() => {
      const row = this.#sql.run.get(run) as RunRow | undefined;
      if (row === undefined) throw new Error(`the run ${run} was deleted meanwhile`);
      return read(row.id);
    });
  }

  /** Second logs of a run, oldest first. */
  judgements(run: string): Judgement[] {
    return (this.#sql.judgements.all(run) as string[]).map((text) => JSON.parse(text) as Judgement);
  }

  /** null where there is none of that name. */
  judged(run: string, id: string): Judged | null {
    const row = this.#sql.judged.get(run, id) as JudgedRow | undefined;
    if (row === undefined) return null;
    return {
      judgement: JSON.parse(row.judgement) as Judgement,
      events: JSON.parse(row.events) as RunEvent[],
      tiles: decodeTiles(row.tiles),
    };
  }

  /** All that a run which stopped here needs to be gone on with; null where there is none of that name. */
  runToResume({ run, lastAtMs, lastWallMs }: Standstill): RunToResume | null {
    const stored = this.storedRun(run);
    if (stored === null) return null;
    const checkpoint = this.checkpoint(run);
    const { turns, events, notes, endedAtMs: _, lost: __, card: ___, binnedAtWall: ____, ...rest } = stored;
    const { importedAtWall: _____, ...newRun } = rest;
    return {
      run: newRun,
      checkpoint: checkpoint === null ? null : { atMs: checkpoint.atMs, state: checkpoint.state },
      inputsSince: this.inputs(run, checkpoint?.turn ?? 0),
      said: (this.#sql.said.all(run) as string[]).map((text) => JSON.parse(text) as RecordedInput),
      turns,
      lastAtMs,
      lastAtWall: new Date(lastWallMs).toISOString(),
      events,
      readings: this.readings(run),
      notes,
    };
  }

  /** The newest checkpoint and the turn it was taken after. */
  checkpoint(run: string): StoredCheckpoint | null {
    return (this.#sql.checkpoint.get(run) as StoredCheckpoint | undefined) ?? null;
  }

  /** What the last `most` runs of a bowl taught that taught anything, newest first; simulated ones apart from real ones. */
  learned(bowl: string, simulated: boolean, most: number): Learned[] {
    const rows = this.#sql.learned.all(bowl, simulated ? 1 : 0, most) as string[];
    return rows.flatMap((text) => undamaged(() => JSON.parse(text) as Learned) ?? []);
  }

  /** In the order they came, those of a stretch or all. */
  readings(run: string, stretch: Stretch = WHOLE): Reading[] {
    return this.#blocks(this.#sql.readings, run, stretch)
      .flatMap((bytes): Reading[] => decodeReadings(bytes))
      .filter(({ atMs }) => isIn(stretch, atMs));
  }

  tiles(run: string, columns: number, stretch: Stretch = WHOLE): Tile[] {
    const blocks = this.#blocks(this.#sql.tiles, run, stretch);
    // Of the first and the last block only a part may be wanted.
    const sure = blocks.slice(1, -1).reduce((sum, bytes) => sum + rowsIn(bytes), 0);
    return [...gathered(wantedTiles(blocks, stretch), sure, columns).tiles];
  }

  /** One column of those blocks of a run in which something of the stretch may lie. */
  #blocks(column: ReturnType<typeof prepared>['tiles'], run: string, { fromMs, toMs }: Stretch): Uint8Array[] {
    return this.#atOneMoment(() => {
      const found = this.#sql.blockCount.get(run) as { readonly id: number; readonly count: number } | undefined;
      if (found === undefined) return [];
      const first = Math.max(0, this.#blocksUpTo(found.id, found.count, fromMs) - 1);
      const end = this.#blocksUpTo(found.id, found.count, toMs);
      return column.all(found.id, first, end) as Uint8Array[];
    });
  }

  /** How many of a run's blocks, which never go back in time, begin at this moment or before. */
  #blocksUpTo(id: number, count: number, atMs: number): number {
    if (Math.abs(atMs) === Infinity) return atMs > 0 ? count : 0;
    let [low, high] = [0, count];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (firstMsOf(this.#sql.blockHead.get(id, middle) as Uint8Array) <= atMs) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** What is read inside belongs together, whatever is committed meanwhile. */
  #atOneMoment<T>(read: () => T): T {
    return this.#db.transaction(read).deferred();
  }
}

/** Runs that were never ended in a file that nobody has open. Throws as a `Reader` does. */
export function goingIn(file: string): Standstill[] {
  const reader = new Reader(file);
  try {
    return reader.goingRuns();
  } finally {
    reader.close();
  }
}

function* wantedTiles(blocks: readonly Uint8Array[], stretch: Stretch): Iterable<readonly Tile[]> {
  for (const bytes of blocks) yield decodeTiles(bytes).filter(([atMs]) => isIn(stretch, atMs));
}

/** Inputs read at once (ours: a few milliseconds). */
const INPUTS_A_PAGE = 2_000;
/** Minutes of readings read at once (ours: the same, even at forty readings a second). */
const BLOCKS_A_PAGE = 5;

const WHOLE: Stretch = { fromMs: -Infinity, toMs: Infinity };

function isIn({ fromMs, toMs }: Stretch, atMs: number): boolean {
  return fromMs <= atMs && atMs <= toMs;
}

interface RunRow {
  readonly id: number;
  readonly run: string;
  readonly turns: number;
  readonly bowl: string;
  readonly bowlName: string | null;
  readonly header: string;
  readonly simulated: number;
  readonly startedAtMs: number;
  readonly startedAtWall: string;
  readonly source: string;
  readonly endedAtMs: number | null;
  readonly binnedAtWall: string | null;
  readonly importedAtWall: string | null;
}

interface JudgedRow {
  readonly judgement: string;
  readonly events: string;
  readonly tiles: Uint8Array;
}

function newRunOf({ run, bowl, bowlName, header, simulated, startedAtMs, startedAtWall, source }: RunRow): NewRun {
  return {
    run,
    bowl,
    ...(bowlName !== null && { bowlName }),
    startedAtMs,
    startedAtWall,
    source,
    header: JSON.parse(header) as RunHeader,
    simulated: simulated === 1,
  };
}

function prepared(db: Database) {
  const idOf = '(SELECT id FROM runs WHERE run = ?)';
  const blocksBetween = 'WHERE run_id = ? AND block >= ? AND block < ? ORDER BY block';
  const standstill = 'SELECT run, turns, last_at_ms AS lastAtMs, last_wall_ms AS lastWallMs FROM runs';
  return {
    run: db.prepare(`
      SELECT id, run, turns, bowl, bowl_name AS bowlName, header, simulated, started_at_ms AS startedAtMs,
        started_at_wall AS startedAtWall, source, ended_at_ms AS endedAtMs, binned_at_wall AS binnedAtWall, imported_at_wall AS importedAtWall
      FROM runs WHERE run = ? AND binned_at_wall IS NOT '${DOOMED_AT_WALL}'`),
    standstill: db.prepare(`${standstill} WHERE run = ?`),
    going: db.prepare(`${standstill} WHERE (bowl = @bowl OR @bowl IS NULL) AND ended_at_ms IS NULL ORDER BY id DESC`),
    events: db.prepare('SELECT event FROM events WHERE run_id = ? ORDER BY seq').pluck(),
    blockCount: db.prepare(`
      SELECT id, (SELECT coalesce(max(block) + 1, 0) FROM blocks WHERE run_id = id) AS count FROM runs WHERE run = ?`),
    blockHead: db
      .prepare(`SELECT substr(readings, 1, ${HEADER_BYTES}) FROM blocks WHERE run_id = ? AND block = ?`)
      .pluck(),
    readings: db.prepare(`SELECT readings FROM blocks ${blocksBetween}`).pluck(),
    tiles: db.prepare(`SELECT tiles FROM blocks ${blocksBetween}`).pluck(),
    notes: db.prepare('SELECT note FROM notes WHERE run_id = ? ORDER BY rowid').pluck(),
    card: db.prepare('SELECT entry FROM card_entries WHERE run_id = ? ORDER BY n').pluck(),
    cardOf: db.prepare(`SELECT entry FROM card_entries WHERE run_id = ${idOf} ORDER BY n`).pluck(),
    inputs: db.prepare(`SELECT input FROM inputs WHERE run_id = ${idOf} AND turn > ? ORDER BY turn`).pluck(),
    // Most of a long run are lines, and only looked at; what cannot be is no JSON, and found so where it is decoded.
    said: db
      .prepare(
        `SELECT input FROM inputs WHERE run_id = ${idOf}
           AND CASE WHEN json_valid(input) THEN input ->> '$.kind' NOT IN ('line', 'reading') ELSE 1 END ORDER BY turn`,
      )
      .pluck(),
    inputPage: db.prepare('SELECT input FROM inputs WHERE run_id = ? AND turn > ? AND turn <= ? ORDER BY turn').pluck(),
    checkpoint: db.prepare(`SELECT turn, at_ms AS atMs, state FROM checkpoints WHERE run_id = ${idOf}`),
    learned: db
      .prepare(
        'SELECT learned FROM runs WHERE bowl = ? AND simulated = ? AND learned IS NOT NULL ORDER BY id DESC LIMIT ?',
      )
      .pluck(),
    binnedBefore: db
      .prepare('SELECT run FROM runs WHERE binned_at_wall < ? AND ended_at_ms IS NOT NULL ORDER BY binned_at_wall, id')
      .pluck(),
    doomed: db.prepare(`SELECT 1 FROM runs WHERE run = ? AND binned_at_wall = '${DOOMED_AT_WALL}'`),
    // Each table may leave a piece that is not full; twenty are more than there are tables.
    pieces: db
      .prepare(
        `SELECT (turns + seq) / ${ROWS_AT_ONCE}.0 +
           (SELECT coalesce(max(block), 0) FROM blocks WHERE run_id = id) / ${BLOCKS_AT_ONCE}.0 + 20 FROM runs WHERE run = ?`,
      )
      .pluck(),
    judgements: db.prepare(`SELECT judgement FROM judgements WHERE run_id = ${idOf} ORDER BY rowid`).pluck(),
    judged: db.prepare(`SELECT judgement, events, tiles FROM judgements WHERE run_id = ${idOf} AND id = ?`),
    lost: db.prepare(`
      SELECT from_turn AS fromTurn, to_turn AS toTurn, from_ms AS fromMs, to_ms AS toMs
      FROM lost WHERE run_id = ? ORDER BY from_turn`),
  };
}
