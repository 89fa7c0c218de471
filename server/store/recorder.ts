/**
 * The only code that writes to the data file: a batch of entries in one transaction, all or nothing. What it must know of a run to go on
 * (its open block, tally and curve) is read back from the file, so a recorder can be replaced at any moment. After a commit
 * that threw, it must be.
 */
import type { CardEntry } from '../core/record/card.ts';
import type { RunEvent } from '../core/record/event.ts';
import type { Learned, Reading } from '../core/record/run.ts';
import { DOOMED_AT_WALL } from './batch.ts';
import type { Judged } from '../judging/messages.ts';
import { encodedBlock, startsBlock } from './blocks.ts';
import type { CardLine, EndEntry, Entry, ArrivalEntry, LostEntry, Progress, RowsEntry, TurnEntry } from './batch.ts';
import { decodeReadings, decodeTiles, encodeTiles } from './columns.ts';
import { undamaged } from './damage.ts';
import { damageIn } from './database.ts';
import type { Database } from './database.ts';
import type { Checkpoint, NewRun } from './records.ts';
import { Purge } from './purge.ts';
import { putSum } from './sums.ts';
import { tallied } from './tally.ts';
import type { Tally } from './tally.ts';
import { NO_TILES, PICTURE_COLUMNS, extended } from './tiles.ts';
import type { Tiling } from './tiles.ts';
import { cardColumns, curveColumns, headerColumns, tallyColumns } from './told-row.ts';

/** A run that is being written. */
interface Going {
  readonly id: number;
  readonly run: string;
  turns: number;
  seq: number;
  lastAtMs: number;
  lastWallMs: number;
  endedAtMs: number | null;
  tally: Tally;
  curve: Tiling;
  /** Readings since the curve was last drawn. */
  fresh: Reading[];
  /** Number and content of the block that is still filling. */
  block: number;
  readings: Reading[];
}

export class Recorder {
  readonly #db: Database;
  readonly #sql: ReturnType<typeof prepared>;
  readonly #purge: Purge;
  readonly #commit: (entries: readonly Entry[]) => Progress[];
  readonly #going = new Map<string, Going>();

  constructor(db: Database) {
    this.#db = db;
    this.#sql = prepared(db);
    this.#purge = new Purge(db);
    const transaction = db.transaction((entries: readonly Entry[]) => this.#write(entries));
    this.#commit = (entries) => transaction.immediate(entries);
  }

  /** How far each run of the batch is on disk once this returns. Throws what SQLite throws; nothing of the batch is written then. */
  commit(entries: readonly Entry[]): Progress[] {
    const progress = this.#commitSound(entries);
    for (const going of this.#going.values()) if (going.endedAtMs !== null) this.#going.delete(going.run);
    return progress;
  }

  /** What is damaged cannot be deleted; that must not keep the rest from being written. */
  #commitSound(entries: readonly Entry[]): Progress[] {
    try {
      return this.#commit(entries);
    } catch (error) {
      const others = entries.filter(({ kind }) => kind !== 'purge');
      if (damageIn(error) === null || others.length === entries.length) throw error;
      this.#going.clear();
      return this.#commit(others);
    }
  }

  #write(entries: readonly Entry[]): Progress[] {
    const touched = new Set<Going>();
    for (const entry of entries) {
      const going = this.#writeEntry(entry);
      if (going !== null) touched.add(going);
    }
    for (const going of touched) this.#save(going);
    for (const { run, endedAtMs } of touched) if (endedAtMs !== null) putSum(this.#db, run);
    return Array.from(touched, ({ run, seq, turns }) => ({ run, seq, turns }));
  }

  #writeEntry(entry: Entry): Going | null {
    switch (entry.kind) {
      case 'begin':
        this.#begin(entry.run, entry.wallMs);
        return null;
      case 'note':
        this.#sql.putNote.run({ run: entry.run, id: entry.note.id, note: JSON.stringify(entry.note) });
        return null;
      case 'card':
        addCardEntry(this.#sql, entry);
        return null;
      case 'arriving':
        this.#arriving(entry);
        return null;
      case 'rows':
        putRows(this.#sql, entry);
        return null;
      case 'arrived':
        this.#sql.show.run({ run: entry.run, hidden: entry.hidden });
        saveCard(this.#sql, entry.run);
        putSum(this.#db, entry.run);
        return null;
      case 'turned-away':
        this.#sql.hide.run({ run: entry.run, hidden: entry.hidden, importedAtWall: entry.importedAtWall });
        return null;
      case 'bin':
        this.#sql.bin.run({ run: entry.run, binnedAtWall: entry.binnedAtWall });
        return null;
      case 'purge':
        this.#purge.deletePiece(entry);
        return null;
      case 'judgement':
        putJudgement(this.#sql, entry.run, entry.judged);
        return null;
      case 'drop-judgement':
        this.#sql.dropJudgement.run({ run: entry.run, id: entry.id });
        return null;
      case 'turn':
        return this.#turn(this.#goingRun(entry.run), entry);
      case 'lost':
        return this.#lost(this.#goingRun(entry.run), entry);
      case 'end':
        return this.#end(this.#goingRun(entry.run), entry);
    }
  }

  /** False: there is one of that name already. */
  #begin(run: NewRun, wallMs: number): boolean {
    const { changes } = this.#sql.addRun.run({
      ...run,
      bowlName: run.bowlName ?? null,
      ...headerColumns(run.header),
      ...curveColumns(NO_TILES),
      wallMs,
      header: JSON.stringify(run.header),
      simulated: run.simulated ? 1 : 0,
    });
    return changes > 0;
  }

  /** A run of which the file already has the name was written by an earlier attempt whose answer got lost. */
  #arriving({ run, wallMs, ending }: Extract<ArrivalEntry, { kind: 'arriving' }>): void {
    if (!this.#begin(run, wallMs)) return;
    const { importedAtWall, ...rest } = ending;
    this.#save({ ...this.#readBack(run.run), ...rest, lastWallMs: wallMs });
    this.#sql.markImported.run(importedAtWall, run.run);
  }

  /** An entry of which the file already has the turn was written by an earlier attempt whose answer got lost. */
  #turn(going: Going, { turn, wallMs, content, checkpoint }: TurnEntry): Going {
    if (turn <= going.turns) return going;
    this.#sql.addInput.run(going.id, turn, JSON.stringify(content.input));
    this.#addEvents(going, content.events);
    for (const reading of content.readings) this.#addReading(going, reading);
    if (checkpoint !== null) this.#putCheckpoint(going, turn, checkpoint);
    going.tally = tallied(going.tally, content.events, content.readings);
    return moved(going, turn, content.input.atMs, wallMs);
  }

  #lost(going: Going, { span, wallMs, events, checkpoint }: LostEntry): Going {
    if (span.toTurn <= going.turns) return going;
    const fromTurn = Math.max(span.fromTurn, going.turns + 1);
    this.#sql.addLost.run({ ...span, id: going.id, fromTurn });
    this.#addEvents(going, events);
    if (checkpoint !== null) this.#putCheckpoint(going, checkpoint.turn, checkpoint.checkpoint);
    going.tally = tallied(going.tally, events, []);
    return moved(going, span.toTurn, span.toMs, wallMs);
  }

  #end(going: Going, { endedAtMs, learned }: EndEntry): Going {
    going.endedAtMs = endedAtMs;
    this.#putLearned(going, learned);
    this.#sql.dropCheckpoint.run(going.id);
    return going;
  }

  #addEvents(going: Going, events: readonly RunEvent[]): void {
    for (const event of events) {
      this.#sql.addEvent.run(going.id, event.seq, JSON.stringify(event));
      going.seq = Math.max(going.seq, event.seq);
    }
  }

  #putCheckpoint(going: Going, turn: number, { atMs, state, learned }: Checkpoint): void {
    this.#sql.putCheckpoint.run(going.id, turn, atMs, state);
    this.#putLearned(going, learned);
  }

  /** Whoever ends a run without knowing its state leaves what the last checkpoint said. */
  #putLearned({ id }: Going, learned: Learned | null): void {
    if (learned !== null) this.#sql.putLearned.run(JSON.stringify(learned), id);
  }

  /** Blocks never go back in time, so that all readings together come out in the order they went in. */
  #addReading(going: Going, reading: Reading): void {
    if (startsBlock(going.readings, reading)) {
      this.#putBlock(going);
      going.block += 1;
      going.readings = [];
    }
    going.readings.push(reading);
    going.fresh.push(reading);
  }

  #putBlock({ id, block, readings }: Going): void {
    const encoded = encodedBlock(readings);
    this.#sql.putBlock.run(id, block, encoded.readings, encoded.tiles);
  }

  #save(going: Going): void {
    if (going.fresh.length > 0) this.#putBlock(going);
    going.curve = extended(going.curve, going.fresh, PICTURE_COLUMNS);
    going.fresh = [];
    const { id, turns, seq, lastAtMs, lastWallMs, endedAtMs, tally, curve } = going;
    const { standing, worst_over_c, ...told } = tallyColumns(tally);
    this.#sql.saveRun.run(Object.assign({ id, turns, seq, lastAtMs, lastWallMs }, told, curveColumns(curve)));
    this.#sql.saveListed.run({ id, endedAtMs, standing, worst_over_c });
  }

  #goingRun(run: string): Going {
    const going = this.#going.get(run) ?? this.#readBack(run);
    this.#going.set(run, going);
    return going;
  }

  #readBack(run: string): Going {
    const row = this.#sql.run.get(run) as RunRow | undefined;
    if (row === undefined) throw new Error(`no run ${run} in the data file`);
    return { ...row, ...this.#lastBlock(row.id), tally: tallyOf(row), curve: curveOf(row), fresh: [] };
  }

  /** A block that cannot be decoded any more is left as it is, and a new one begun. */
  #lastBlock(id: number): Pick<Going, 'block' | 'readings'> {
    const last = this.#sql.lastBlock.get(id) as { block: number; readings: Uint8Array } | undefined;
    if (last === undefined) return { block: 0, readings: [] };
    const readings = undamaged(() => decodeReadings(last.readings));
    return readings === null ? { block: last.block + 1, readings: [] } : { block: last.block, readings };
  }
}

/** Entries only grow in number; the columns of the list follow what they add up to. */
function addCardEntry(sql: ReturnType<typeof prepared>, { run, entry }: CardLine): void {
  sql.addCardEntry.run({ run, entry: JSON.stringify(entry) });
  saveCard(sql, run);
}

/** Rows that are there already were written by an earlier attempt whose answer got lost; those of a run that is gone are left out. */
function putRows(sql: ReturnType<typeof prepared>, entry: RowsEntry): void {
  const id = sql.idOf.get(entry.hidden);
  if (id === undefined) return;
  const { first } = entry;
  switch (entry.of) {
    case 'inputs':
      return entry.rows.forEach((input, i) => void sql.putInput.run(id, first + i + 1, input));
    case 'events':
      return entry.rows.forEach((event, i) => void sql.addEvent.run(id, first + i + 1, event));
    case 'blocks':
      return entry.rows.forEach(({ readings, tiles }, i) => void sql.putBlock.run(id, first + i, readings, tiles));
    case 'notes':
      return entry.rows.forEach(
        (note) => void sql.putNote.run({ run: entry.hidden, id: note.id, note: JSON.stringify(note) }),
      );
    case 'card':
      return entry.rows.forEach((line, i) => void sql.putCardEntry.run(id, first + i, JSON.stringify(line)));
  }
}

function saveCard(sql: ReturnType<typeof prepared>, run: string): void {
  const entries = (sql.cardEntries.all(run) as string[]).map((line) => JSON.parse(line) as CardEntry);
  sql.saveCard.run({ run, ...cardColumns(entries) });
}

function putJudgement(sql: ReturnType<typeof prepared>, run: string, { judgement, events, tiles }: Judged): void {
  sql.putJudgement.run({
    run,
    id: judgement.id,
    judgement: JSON.stringify(judgement),
    events: JSON.stringify(events),
    tiles: encodeTiles(tiles),
  });
}

function moved(going: Going, turn: number, atMs: number, wallMs: number): Going {
  going.turns = turn;
  going.lastAtMs = atMs;
  going.lastWallMs = wallMs;
  return going;
}

interface RunRow {
  readonly id: number;
  readonly run: string;
  readonly turns: number;
  readonly seq: number;
  readonly lastAtMs: number;
  readonly lastWallMs: number;
  readonly endedAtMs: number | null;
  readonly standing: Tally['standing'];
  readonly worstAlarm: Tally['worstAlarm'];
  readonly worstOverC: number | null;
  readonly crossed: string;
  readonly visits: string;
  readonly spanMs: number;
  readonly tiles: Uint8Array;
}

function tallyOf({ standing, worstAlarm, worstOverC, crossed, visits }: RunRow): Tally {
  return {
    standing,
    worstAlarm,
    worstOverC,
    crossed: undamaged(() => JSON.parse(crossed) as Tally['crossed']) ?? {},
    visits: undamaged(() => JSON.parse(visits) as Tally['visits']) ?? [],
  };
}

function curveOf({ spanMs, tiles }: RunRow): Tiling {
  const drawn = undamaged(() => decodeTiles(tiles));
  return drawn === null ? NO_TILES : { spanMs, tiles: drawn };
}

function prepared(db: Database) {
  return {
    addRun: db.prepare(`
      INSERT OR IGNORE INTO runs (run, bowl, bowl_name, profile, title, coating, header, source, simulated,
        started_at_ms, started_at_wall, last_at_ms, last_wall_ms, span_ms, tiles)
      VALUES (@run, @bowl, @bowlName, @profile, @title, @coating, @header, @source, @simulated,
        @startedAtMs, @startedAtWall, @startedAtMs, @wallMs, @span_ms, @tiles)`),
    run: db.prepare(`
      SELECT id, run, turns, seq, last_at_ms AS lastAtMs, last_wall_ms AS lastWallMs, ended_at_ms AS endedAtMs, standing,
        worst_alarm AS worstAlarm, worst_over_c AS worstOverC, crossed, visits, span_ms AS spanMs, tiles
      FROM runs WHERE run = ?`),
    saveRun: db.prepare(`
      UPDATE runs SET turns = @turns, seq = @seq, last_at_ms = @lastAtMs, last_wall_ms = @lastWallMs, worst_alarm = @worst_alarm,
        crossed = @crossed, visits = @visits, span_ms = @span_ms, tiles = @tiles
      WHERE id = @id`),
    // What the indexes of the list hold is seldom another; set again, even to the same, it would have their pages written each time.
    saveListed: db.prepare(`
      UPDATE runs SET ended_at_ms = @endedAtMs, standing = @standing, worst_over_c = @worst_over_c
      WHERE id = @id AND (ended_at_ms, standing, worst_over_c) IS NOT (@endedAtMs, @standing, @worst_over_c)`),
    addInput: db.prepare('INSERT INTO inputs (run_id, turn, input) VALUES (?, ?, ?)'),
    // A stored event is never rewritten: a run that is gone on with may tell again what it told before.
    addEvent: db.prepare('INSERT OR IGNORE INTO events (run_id, seq, event) VALUES (?, ?, ?)'),
    putBlock: db.prepare(`
      INSERT INTO blocks (run_id, block, readings, tiles) VALUES (?, ?, ?, ?)
      ON CONFLICT DO UPDATE SET readings = excluded.readings, tiles = excluded.tiles`),
    lastBlock: db.prepare('SELECT block, readings FROM blocks WHERE run_id = ? ORDER BY block DESC LIMIT 1'),
    putCheckpoint: db.prepare('INSERT OR REPLACE INTO checkpoints (run_id, turn, at_ms, state) VALUES (?, ?, ?, ?)'),
    putInput: db.prepare('INSERT OR IGNORE INTO inputs (run_id, turn, input) VALUES (?, ?, ?)'),
    putCardEntry: db.prepare('INSERT OR IGNORE INTO card_entries (run_id, n, entry) VALUES (?, ?, ?)'),
    idOf: db.prepare('SELECT id FROM runs WHERE run = ?').pluck(),
    markImported: db.prepare(
      `UPDATE runs SET imported_at_wall = ?, binned_at_wall = '${DOOMED_AT_WALL}' WHERE run = ?`,
    ),
    show: db.prepare('UPDATE OR IGNORE runs SET run = @run, binned_at_wall = NULL WHERE run = @hidden'),
    hide: db.prepare(`
      UPDATE runs SET run = @hidden, binned_at_wall = '${DOOMED_AT_WALL}'
      WHERE run = @run AND imported_at_wall = @importedAtWall AND NOT EXISTS (SELECT 1 FROM runs WHERE run = @hidden)`),
    putLearned: db.prepare('UPDATE runs SET learned = ? WHERE id = ?'),
    dropCheckpoint: db.prepare('DELETE FROM checkpoints WHERE run_id = ?'),
    putNote: db.prepare(`
      INSERT OR REPLACE INTO notes (run_id, id, note) SELECT id, @id, @note FROM runs WHERE run = @run`),
    addCardEntry: db.prepare(`
      INSERT OR IGNORE INTO card_entries (run_id, n, entry)
      SELECT id, (SELECT count(*) FROM card_entries WHERE run_id = id), @entry FROM runs WHERE run = @run`),
    cardEntries: db
      .prepare('SELECT entry FROM card_entries WHERE run_id = (SELECT id FROM runs WHERE run = ?) ORDER BY n')
      .pluck(),
    saveCard: db.prepare(`
      UPDATE runs SET name = @name, centre = @centre, lot = @lot, kg = @kg, tags = @tags, verdict = @verdict WHERE run = @run`),
    bin: db.prepare(`
      UPDATE runs SET binned_at_wall = @binnedAtWall
      WHERE run = @run AND ended_at_ms IS NOT NULL AND binned_at_wall IS NOT '${DOOMED_AT_WALL}'`),
    putJudgement: db.prepare(`
      INSERT OR REPLACE INTO judgements (run_id, id, judgement, events, tiles)
      SELECT id, @id, @judgement, @events, @tiles FROM runs WHERE run = @run`),
    dropJudgement: db.prepare(
      'DELETE FROM judgements WHERE id = @id AND run_id = (SELECT id FROM runs WHERE run = @run)',
    ),
    addLost: db.prepare(`
      INSERT INTO lost (run_id, from_turn, to_turn, from_ms, to_ms) VALUES (@id, @fromTurn, @toTurn, @fromMs, @toMs)`),
  };
}
