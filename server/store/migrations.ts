/**
 * The shape of the data file, as numbered steps that only go forward. `user_version` says how many have been taken.
 * A step that has once been released is never edited; a new one is added below it.
 */
import type { Database } from './database.ts';

export const MIGRATIONS: readonly string[] = [
  `
  CREATE TABLE runs (
    id INTEGER PRIMARY KEY,
    run TEXT NOT NULL UNIQUE,
    bowl TEXT NOT NULL,
    profile TEXT NOT NULL,
    title TEXT NOT NULL,
    coating TEXT NOT NULL,
    header TEXT NOT NULL,
    source TEXT NOT NULL,
    simulated INTEGER NOT NULL,
    started_at_ms INTEGER NOT NULL,
    started_at_wall TEXT NOT NULL,
    ended_at_ms INTEGER,
    last_at_ms INTEGER NOT NULL,
    last_wall_ms INTEGER NOT NULL,
    turns INTEGER NOT NULL DEFAULT 0,
    seq INTEGER NOT NULL DEFAULT 0,
    standing TEXT,
    worst_alarm TEXT,
    worst_over_c REAL,
    crossed TEXT NOT NULL DEFAULT '{}',
    span_ms INTEGER NOT NULL,
    tiles BLOB NOT NULL
  ) STRICT;
  CREATE INDEX runs_going ON runs (bowl) WHERE ended_at_ms IS NULL;

  CREATE TABLE inputs (
    run_id INTEGER NOT NULL REFERENCES runs,
    turn INTEGER NOT NULL,
    input TEXT NOT NULL,
    PRIMARY KEY (run_id, turn)
  ) STRICT, WITHOUT ROWID;

  CREATE TABLE events (
    run_id INTEGER NOT NULL REFERENCES runs,
    seq INTEGER NOT NULL,
    event TEXT NOT NULL,
    PRIMARY KEY (run_id, seq)
  ) STRICT, WITHOUT ROWID;

  CREATE TABLE blocks (
    run_id INTEGER NOT NULL REFERENCES runs,
    block INTEGER NOT NULL,
    readings BLOB NOT NULL,
    tiles BLOB NOT NULL,
    PRIMARY KEY (run_id, block)
  ) STRICT;

  CREATE TABLE checkpoints (
    run_id INTEGER PRIMARY KEY REFERENCES runs,
    turn INTEGER NOT NULL,
    at_ms INTEGER NOT NULL,
    state TEXT NOT NULL
  ) STRICT;

  CREATE TABLE notes (
    run_id INTEGER NOT NULL REFERENCES runs,
    id TEXT NOT NULL,
    note TEXT NOT NULL,
    PRIMARY KEY (run_id, id)
  ) STRICT;

  CREATE TABLE lost (
    run_id INTEGER NOT NULL REFERENCES runs,
    from_turn INTEGER NOT NULL,
    to_turn INTEGER NOT NULL,
    from_ms INTEGER NOT NULL,
    to_ms INTEGER NOT NULL,
    PRIMARY KEY (run_id, from_turn)
  ) STRICT;
  `,
  // What the run taught of its bowl, as JSON; NULL: nothing yet, or a run of before this was kept.
  'ALTER TABLE runs ADD COLUMN learned TEXT',
  // The list of runs: phases with the moment each was entered, what the card says now, and since when a run lies in the bin.
  `
  ALTER TABLE runs ADD COLUMN visits TEXT NOT NULL DEFAULT '[]';
  ALTER TABLE runs ADD COLUMN name TEXT;
  ALTER TABLE runs ADD COLUMN centre TEXT;
  ALTER TABLE runs ADD COLUMN lot TEXT;
  ALTER TABLE runs ADD COLUMN kg REAL;
  ALTER TABLE runs ADD COLUMN tags TEXT NOT NULL DEFAULT '[]';
  ALTER TABLE runs ADD COLUMN verdict TEXT;
  ALTER TABLE runs ADD COLUMN binned_at_wall TEXT;
  UPDATE runs SET visits = (
    SELECT json_group_array(json_object('phase', event ->> '$.phase', 'atMs', event -> '$.atMs'))
    FROM (SELECT event FROM events WHERE run_id = runs.id AND event ->> '$.kind' = 'phase-entered' ORDER BY seq)
  );
  CREATE INDEX runs_listed ON runs (started_at_wall) WHERE binned_at_wall IS NULL;

  CREATE TABLE card_entries (
    run_id INTEGER NOT NULL REFERENCES runs,
    n INTEGER NOT NULL,
    entry TEXT NOT NULL,
    PRIMARY KEY (run_id, n),
    -- An entry carries its moment: the same one again is a batch that was sent twice.
    UNIQUE (run_id, entry)
  ) STRICT, WITHOUT ROWID;

  CREATE TABLE judgements (
    run_id INTEGER NOT NULL REFERENCES runs,
    id TEXT NOT NULL,
    judgement TEXT NOT NULL,
    events TEXT NOT NULL,
    tiles BLOB NOT NULL,
    PRIMARY KEY (run_id, id)
  ) STRICT;
  `,
  // All that the list of runs is searched, narrowed and put in order by, apart from the wide rows: ten thousand of them are read in milliseconds.
  `
  DROP INDEX runs_listed;
  CREATE INDEX runs_found ON runs (started_at_wall, binned_at_wall, title, name, centre, lot, tags, coating, profile, simulated,
    standing, verdict, worst_over_c, started_at_ms, ended_at_ms);
  `,
  // When a run was brought in from a file; NULL: it was recorded here.
  'ALTER TABLE runs ADD COLUMN imported_at_wall TEXT',
  // What the list is searched by, folded (`searched.ts`), kept up by the file itself whoever writes a run.
  `
  ALTER TABLE runs ADD COLUMN searched TEXT NOT NULL DEFAULT '';
  UPDATE runs SET searched = search_text(title, name, centre, lot, tags);
  CREATE TRIGGER runs_added AFTER INSERT ON runs BEGIN
    UPDATE runs SET searched = search_text(title, name, centre, lot, tags) WHERE id = NEW.id;
  END;
  CREATE TRIGGER runs_renamed AFTER UPDATE OF title, name, centre, lot, tags ON runs BEGIN
    UPDATE runs SET searched = search_text(title, name, centre, lot, tags) WHERE id = NEW.id;
  END;
  DROP INDEX runs_found;
  CREATE INDEX runs_found ON runs (started_at_wall, binned_at_wall, searched, title, name, tags, coating, profile, simulated,
    standing, verdict, worst_over_c, started_at_ms, ended_at_ms);
  `,
  // What all that was recorded of a run sums up to (`sums.ts`), from its end on; NULL: it is still going, or ended before this was kept.
  'ALTER TABLE runs ADD COLUMN sum INTEGER',
  // The same without what a row only repeats of the record; NULL as above.
  'ALTER TABLE runs ADD COLUMN record_sum INTEGER',
  // What its bowl was called when the run began, where there were several; NULL: it was the only one, or the run is from elsewhere.
  'ALTER TABLE runs ADD COLUMN bowl_name TEXT',
  // What that name sums up to together with the days on which a run was brought in or thrown away, kept up by the file itself: these change after its end.
  `
  ALTER TABLE runs ADD COLUMN label_sum INTEGER;
  UPDATE runs SET label_sum = crc32(CAST(json_array(bowl_name, imported_at_wall, binned_at_wall) AS BLOB));
  CREATE TRIGGER runs_labelled AFTER INSERT ON runs BEGIN
    UPDATE runs SET label_sum = crc32(CAST(json_array(bowl_name, imported_at_wall, binned_at_wall) AS BLOB)) WHERE id = NEW.id;
  END;
  CREATE TRIGGER runs_relabelled AFTER UPDATE OF bowl_name, imported_at_wall, binned_at_wall ON runs BEGIN
    UPDATE runs SET label_sum = crc32(CAST(json_array(bowl_name, imported_at_wall, binned_at_wall) AS BLOB)) WHERE id = NEW.id;
  END;
  `,
  // What a record sums up to, once more and far from its row: a hit there would take both sums with it, and a record that nobody can prove.
  `
  CREATE TABLE record_sums (
    run_id INTEGER PRIMARY KEY REFERENCES runs,
    record_sum INTEGER NOT NULL
  ) STRICT;
  INSERT INTO record_sums SELECT id, record_sum FROM runs WHERE record_sum IS NOT NULL;
  CREATE TRIGGER runs_added_summed AFTER INSERT ON runs WHEN NEW.record_sum IS NOT NULL BEGIN
    INSERT OR REPLACE INTO record_sums VALUES (NEW.id, NEW.record_sum);
  END;
  CREATE TRIGGER runs_summed AFTER UPDATE OF record_sum ON runs WHEN NEW.record_sum IS NOT NULL BEGIN
    INSERT OR REPLACE INTO record_sums VALUES (NEW.id, NEW.record_sum);
  END;
  `,
  // With the moment from which the length of a run counts: the entry of its first phase (`listing.ts` asks for it in these very words).
  `
  DROP INDEX runs_found;
  CREATE INDEX runs_found ON runs (started_at_wall, binned_at_wall, searched, title, name, tags, coating, profile, simulated,
    standing, verdict, worst_over_c, started_at_ms, ended_at_ms,
    iif(json_valid(visits), coalesce(visits ->> '$[0].atMs', started_at_ms), started_at_ms));
  `,
];

/** How many steps the file has taken; 0: none. */
export function versionOf(db: Database): number {
  return Number(db.pragma('user_version', { simple: true }));
}

/** Takes the steps that are missing, each in a transaction of its own: one that fails leaves the file as it was before it. */
export function migrate(db: Database, migrations: readonly string[]): void {
  for (let version = versionOf(db); version < migrations.length; version++) {
    db.transaction(() => {
      db.exec(migrations[version]!);
      db.pragma(`user_version = ${version + 1}`);
    }).immediate();
  }
}
