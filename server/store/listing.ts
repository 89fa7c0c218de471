/**
 * The list of runs out of the data file: which fit, in what order, a page at a time. Looks for them in the index kept for it (`runs_found`,
 * which holds all that is asked here), and reads no more rows than the page shows.
 */
import { DOOMED_AT_WALL } from './batch.ts';
import { decodeTiles } from './columns.ts';
import { undamaged } from './damage.ts';
import type { Database } from './database.ts';
import type { RunSummary, Visit } from '../core/show/listed.ts';
import type { RunChoices, RunPage, RunQuery } from './records.ts';
import { folded } from './searched.ts';

/** When its first phase was entered, else its first input came: in the very words of the index, which holds it (`migrations.ts`). */
const BEGAN_SQL = "iif(json_valid(visits), coalesce(visits ->> '$[0].atMs', started_at_ms), started_at_ms)";

const ORDER_SQL: Readonly<Record<NonNullable<RunQuery['order']>, string>> = {
  newest: 'started_at_wall DESC, id DESC',
  oldest: 'started_at_wall, id',
  // By the length that is shown. One that is going has none yet: it comes last.
  longest: `ended_at_ms - ${BEGAN_SQL} DESC, id DESC`,
  worst: 'worst_over_c IS NULL, worst_over_c DESC, id DESC',
  name: 'coalesce(name, title) COLLATE NOCASE, id DESC',
};

/** More words than this add nothing to a search (ours). */
const WORDS_MOST = 8;

/** Reads a count and one page; throws what SQLite throws. */
export function listedRuns(db: Database, query: RunQuery): RunPage {
  const { where, values } = conditionsOf(query);
  const found = `FROM runs INDEXED BY runs_found WHERE ${where}`;
  const counted = db.prepare(`SELECT count(*) ${found}`).pluck();
  const order = ORDER_SQL[query.order ?? 'newest'];
  const page = db.prepare(`SELECT id ${found} ORDER BY ${order} LIMIT ? OFFSET ?`).pluck();
  const row = db.prepare(`SELECT ${COLUMNS} FROM runs WHERE id = ?`);
  const ids = page.all(...values, query.most, query.after);
  return { total: Number(counted.get(...values)), runs: ids.map((id) => summaryOf(row.get(id) as SummaryRow)) };
}

/** More tags than this nobody chooses from (ours). */
const TAGS_MOST = 200;

/** What the runs out of the bin can be narrowed to; throws what SQLite throws. */
export function listChoices(db: Database): RunChoices {
  const found = 'FROM runs INDEXED BY runs_found WHERE binned_at_wall IS NULL';
  const coatings = db.prepare(`SELECT DISTINCT coating ${found} ORDER BY coating`).pluck();
  // With a maximum beside it, SQLite takes the title from the row that holds it: the newest.
  const profiles = db.prepare(
    `SELECT id, title FROM (SELECT profile AS id, title, max(started_at_wall) ${found} GROUP BY profile) ORDER BY title, id`,
  );
  const tags = db
    .prepare(
      `SELECT value FROM (SELECT tags ${found} AND tags <> '[]'), json_each(tags)
       GROUP BY value ORDER BY count(*) DESC, value LIMIT ${TAGS_MOST}`,
    )
    .pluck();
  return {
    coatings: coatings.all() as string[],
    profiles: profiles.all() as RunChoices['profiles'],
    tags: (tags.all() as string[]).toSorted(),
  };
}

/** Every value is bound, none is part of the text. */
function conditionsOf(query: RunQuery): { readonly where: string; readonly values: readonly string[] } {
  const { words = '', coating, profile, tag, standing, verdict, simulated, bin } = query;
  const parts = [bin === 'yes' ? `binned_at_wall > '${DOOMED_AT_WALL}'` : 'binned_at_wall IS NULL'];
  const values: string[] = [];
  const add = (condition: string, value: string | undefined): void => {
    if (value === undefined) return;
    parts.push(condition);
    values.push(value);
  };
  for (const word of folded(words)
    .split(/\s+/)
    .filter((each) => each !== '')
    .slice(0, WORDS_MOST))
    add('instr(searched, ?) > 0', word);
  add('coating = ?', coating);
  add('profile = ?', profile);
  add('EXISTS (SELECT 1 FROM json_each(tags) WHERE value = ?)', tag);
  add('standing = ?', standing);
  if (verdict === 'none') parts.push('verdict IS NULL');
  else add('verdict = ?', verdict);
  if (simulated !== undefined) parts.push(simulated === 'yes' ? 'simulated = 1' : 'simulated = 0');
  return { where: parts.join(' AND '), values };
}

const COLUMNS = `run, bowl, bowl_name AS bowlName, title, coating, profile, simulated, started_at_ms AS startedAtMs, started_at_wall AS startedAtWall,
  coalesce(ended_at_ms, last_at_ms) AS lastAtMs, ended_at_ms AS endedAtMs, standing,
  worst_alarm AS worstAlarm, worst_over_c AS worstOverC, visits, name, centre, lot, kg, tags, verdict,
  binned_at_wall AS binnedAtWall, imported_at_wall AS importedAtWall, tiles`;

interface SummaryRow extends Omit<
  RunSummary,
  'simulated' | 'tiles' | 'visits' | 'tags' | 'beganAtWall' | 'durationMs'
> {
  readonly lastAtMs: number;
  readonly simulated: number;
  readonly tiles: Uint8Array;
  readonly visits: string;
  readonly tags: string;
}

/** One damaged picture must not hide the whole list. */
function summaryOf({ simulated, tiles, visits: visitsText, tags, lastAtMs, ...row }: SummaryRow): RunSummary {
  const { startedAtMs, startedAtWall } = row;
  const visits = undamaged(() => JSON.parse(visitsText) as Visit[]) ?? [];
  const beganAtMs = visits[0]?.atMs ?? startedAtMs;
  const beganAtWall = undamaged(() => new Date(Date.parse(startedAtWall) + beganAtMs - startedAtMs).toISOString());
  return {
    ...row,
    visits,
    beganAtWall: beganAtWall ?? startedAtWall,
    durationMs: lastAtMs - beganAtMs,
    simulated: simulated === 1,
    tiles: undamaged(() => decodeTiles(tiles)) ?? [],
    tags: undamaged(() => JSON.parse(tags) as string[]) ?? [],
  };
}
