/** A run whose row in the list was damaged, while its record is as it was: nothing of it is left behind. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readyDataFile } from '../../../server/store/datafile.ts';
import { openForReading, openForWriting } from '../../../server/store/database.ts';
import { keepRuns } from '../../support/kept-runs.ts';
import { freshFolder, openedStore } from '../../support/store.ts';

const NOW_MS = Date.parse('2026-11-25T09:30:00Z');
/** With each of these values out of its place a row is one that nobody recorded. */
const GARBLED = {
  profile: `'['`,
  title: `'['`,
  coating: `'['`,
  seq: '7',
  last_wall_ms: '-1',
  standing: `'['`,
  worst_alarm: `'['`,
  crossed: `'['`,
  visits: `'['`,
  span_ms: '-17',
  tiles: `x'bd339f'`,
  name: `'['`,
  tags: `'['`,
};
type Row = Readonly<Record<string, unknown>>;

/** The data file as it was kept, read once it is closed. */
let kept: Promise<Buffer> | null = null;

async function keep(): Promise<Buffer> {
  const folder = freshFolder();
  const store = openedStore(folder);
  const card = { name: 'Ginger, second tray', lot: 'G-14', kg: 1.2, tags: ['ginger'] };
  await keepRuns(store, [{ run: 'r1', startedAtWall: '2026-11-24T10:00:00.000Z', card, byC: 0.4 }]);
  await store.close();
  return readFileSync(join(folder, 'bowlside.sqlite'));
}

/** One of its own for each test, to be damaged. */
async function keptFile(): Promise<string> {
  const file = join(freshFolder(), 'bowlside.sqlite');
  writeFileSync(file, await (kept ??= keep()));
  return file;
}

function rowIn(file: string): Row {
  const db = openForReading(file);
  const row = db.prepare('SELECT * FROM runs').get() as Row;
  db.close();
  return row;
}

function change(file: string, sql: string): void {
  const db = openForWriting(file, false);
  db.exec(sql);
  db.close();
}

test('the afternoon has something of everything that a row tells', async () => {
  const kept = rowIn(await keptFile());
  expect(kept).toMatchObject({ standing: expect.any(String), worst_alarm: 'overshoot', lot: 'G-14' });
  expect(kept['worst_over_c']).toBeGreaterThan(0);
  expect(String(kept['visits'])).toContain('phase');
});

test.each(Object.entries(GARBLED))(
  '[S9] with its %s garbled, the row is put together again from the record',
  async (column, value) => {
    const file = await keptFile();
    const kept = rowIn(file);
    // What no sum covers is no better known once the row is not as it was.
    change(file, `UPDATE runs SET standing = 'lost', ${column} = ${value}, worst_over_c = 99, kg = -1`);
    const ready = readyDataFile(file, NOW_MS);
    expect(ready).toMatchObject({ notices: [expect.stringMatching(/damaged.* 1 run was saved from it\.$/)] });
    expect({ ...rowIn(file), last_wall_ms: 0 }).toEqual({ ...kept, last_wall_ms: 0 });
    expect(readyDataFile(file, NOW_MS)).toEqual({ ok: true, notices: [] });
  },
);

test('[S9] with both sums of its row hit, too: what the record sums up to is known far from it', async () => {
  const file = await keptFile();
  const kept = rowIn(file);
  change(file, 'DROP TRIGGER runs_summed; UPDATE runs SET sum = 1, record_sum = 2');
  expect(readyDataFile(file, NOW_MS)).toMatchObject({ notices: [expect.stringContaining('1 run was saved')] });
  expect({ ...rowIn(file), last_wall_ms: 0 }).toEqual({ ...kept, last_wall_ms: 0 });
});

test('[S9] with none of them as it was nobody can say that the record is', async () => {
  const file = await keptFile();
  change(file, 'UPDATE runs SET sum = 1, record_sum = 2');
  expect(readyDataFile(file, NOW_MS)).toMatchObject({ notices: [expect.stringContaining('no run could be saved')] });
});

test.each([
  ['header', `header = replace(header, '32.5', '33.5')`],
  ['source', `source = 'another'`],
  ['length', 'ended_at_ms = ended_at_ms + 1'],
])('[S9] a record with another %s is not the one that was kept', async (_, altered) => {
  const file = await keptFile();
  change(file, `UPDATE runs SET ${altered}`);
  expect(readyDataFile(file, NOW_MS)).toMatchObject({
    notices: [expect.stringContaining('no run could be saved from it; 1 could not be read in full')],
  });
});

describe('what changes of a run after its end', () => {
  const THROWN_AWAY = '2026-11-24T18:00:00.000Z';

  /** As a hit would: the file does not know of it. */
  function hit(file: string, sql: string): void {
    change(file, `DROP TRIGGER runs_relabelled; ${sql}`);
  }

  test.each([
    ['its bowl', `bowl_name = 'another'`],
    ['the day it was brought in', `imported_at_wall = '2020-01-01T00:00:00.000Z'`],
    ['the day it was thrown away', `binned_at_wall = '2020-01-01T00:00:00.000Z'`],
  ])(
    '[S9] of one that lies in the bin with %s hit nothing is deleted early: it lies there no more',
    async (_, altered) => {
      const file = await keptFile();
      change(file, `UPDATE runs SET binned_at_wall = '${THROWN_AWAY}'`);
      expect(readyDataFile(file, NOW_MS)).toEqual({ ok: true, notices: [] });
      hit(file, `UPDATE runs SET ${altered}`);
      expect(readyDataFile(file, NOW_MS)).toMatchObject({
        notices: [expect.stringMatching(/\(a run is not as it was recorded\).* 1 run was saved from it\.$/)],
      });
      expect(rowIn(file)).toMatchObject({ run: 'r1', binned_at_wall: null });
      expect(readyDataFile(file, NOW_MS)).toEqual({ ok: true, notices: [] });
    },
  );

  test('[S9] of another that is damaged stays as it is: what lies in the bin lies there on', async () => {
    const file = await keptFile();
    change(file, `UPDATE runs SET binned_at_wall = '${THROWN_AWAY}', standing = 'lost'`);
    expect(readyDataFile(file, NOW_MS)).toMatchObject({ notices: [expect.stringContaining('1 run was saved')] });
    expect(rowIn(file)).toMatchObject({ run: 'r1', binned_at_wall: THROWN_AWAY });
  });
});
