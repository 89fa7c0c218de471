/**
 * Deletes for good what lies in the bin: a piece at a time, so that a run of hours never holds up one that is being recorded. Finds by
 * itself which tables belong to runs. A run that is going, or does not lie in the bin, or not for so long, is left alone.
 */
import { DOOMED_AT_WALL, type PurgeEntry } from './batch.ts';
import type { Database } from './database.ts';

/** Most rows that go at once: as many lines or events as are written at once (`backlog.ts`), and an hour of minutes, which are wide. */
export const ROWS_AT_ONCE = 2_000;
export const BLOCKS_AT_ONCE = 60;

export class Purge {
  readonly #doom;
  readonly #pieces;
  readonly #deleteRun;

  constructor(db: Database) {
    this.#doom = db
      .prepare(
        `UPDATE runs SET binned_at_wall = '${DOOMED_AT_WALL}'
         WHERE run = @run AND ended_at_ms IS NOT NULL AND binned_at_wall IS NOT NULL
           AND (@before IS NULL OR binned_at_wall < @before)
         RETURNING id`,
      )
      .pluck();
    this.#pieces = tablesOfRuns(db).map((table) => db.prepare(pieceOf(table)));
    this.#deleteRun = db.prepare('DELETE FROM runs WHERE id = ?');
  }

  /** Throws what SQLite throws; what is damaged cannot be deleted. */
  deletePiece({ run, before }: Pick<PurgeEntry, 'run' | 'before'>): void {
    const id = this.#doom.get({ run, before });
    if (id === undefined) return;
    for (const piece of this.#pieces) if (piece.run({ id }).changes > 0) return;
    this.#deleteRun.run(id);
  }
}

interface Table {
  readonly name: string;
  /** Tells its rows of one run apart; null: there is one. */
  readonly key: string | null;
}

function tablesOfRuns(db: Database): Table[] {
  return db
    .prepare(
      `SELECT m.name, (SELECT c.name FROM pragma_table_info(m.name) c WHERE c.pk > 1) AS key
       FROM sqlite_schema m, pragma_foreign_key_list(m.name) f
       WHERE m.type = 'table' AND f."table" = 'runs' AND f."from" = 'run_id'`,
    )
    .all() as Table[];
}

function pieceOf({ name, key }: Table): string {
  const ofRun = `FROM ${name} WHERE run_id = @id`;
  if (key === null) return `DELETE ${ofRun}`;
  const most = name === 'blocks' ? BLOCKS_AT_ONCE : ROWS_AT_ONCE;
  return `DELETE ${ofRun} AND ${key} IN (SELECT ${key} ${ofRun} ORDER BY ${key} LIMIT ${most})`;
}
