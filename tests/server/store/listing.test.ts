/** The list of runs: what fits, in what order, a page at a time; and the card and the bin that it shows. */
import { expect, test } from 'vitest';
import { EMPTY_CARD, cardOf } from '../../../server/core/record/card.ts';
import type { Card, CardEntry } from '../../../server/core/record/card.ts';
import { type Database, openForReading, openForWriting } from '../../../server/store/database.ts';
import { listChoices, listedRuns } from '../../../server/store/listing.ts';
import type { RunQuery } from '../../../server/store/records.ts';
import type { Store } from '../../../server/store/store.ts';
import { allRuns, freshFolder, madeTurns, newRun, openedStore } from '../../support/store.ts';

const AT = '2026-11-25T15:00:00.000Z';

function entry(change: Partial<Card>, writtenAtWall = AT): CardEntry {
  return { writtenAtWall, by: null, change };
}

/** Three runs of 10 s, 20 s and 30 s, the newest last, each with a card of its own. */
async function threeRuns(): Promise<Store> {
  const store = openedStore(freshFolder());
  const cards: Partial<Card>[] = [
    { name: 'Ginger, first tray', lot: 'G-1', tags: ['ginger', 'gift'] },
    { name: 'caramels', lot: 'C_1', tags: ['caramel'], kg: 1.5 },
    { lot: 'G-2', tags: ['ginger'] },
  ];
  cards.forEach((change, i) => {
    const run = `r${i + 1}`;
    store.beginRun(newRun(run, { startedAtWall: `2026-11-25T0${i + 1}:00:00.000Z`, simulated: i === 2 }));
    for (const turn of madeTurns(100 * (i + 1))) store.append(run, turn);
    store.endRun(run, 10_000 * (i + 1));
    store.changeCard(run, entry(change));
  });
  await store.flush();
  return store;
}

const listed = (store: Store, query: Partial<RunQuery>): readonly string[] =>
  store.runs({ most: 10, after: 0, ...query }).runs.map(({ run }) => run);

test('each word must stand somewhere; signs that mean something to the database are only signs', async () => {
  const store = await threeRuns();
  expect(listed(store, {})).toEqual(['r3', 'r2', 'r1']);
  expect(listed(store, { words: 'GINGER' })).toEqual(['r3', 'r2', 'r1']);
  expect(listed(store, { words: 'first ginger' })).toEqual(['r1']);
  expect(listed(store, { words: 'C_1' })).toEqual(['r2']);
  expect(listed(store, { words: '_' })).toEqual(['r2']);
  expect(listed(store, { words: '%' })).toEqual([]);
  expect(listed(store, { words: "'; DROP TABLE runs" })).toEqual([]);
});

test('capitals of every alphabet, and how an accent is put together, make no difference; a sign of the file itself finds nothing', async () => {
  const store = await threeRuns();
  store.changeCard('r1', entry({ name: 'ÄPFEL in Grüßen', tags: ['Crème', 'Ωραία'] }));
  await store.flush();
  for (const words of ['äpfel', 'ÄPFEL', 'A\u0308pfel', 'grüssen', 'GRÜSSEN', 'crème', 'CRE\u0300ME', 'ΩΡΑΊΑ'])
    expect(listed(store, { words }), words).toEqual(['r1']);
  for (const words of ['"', '[', ']', '","', 'null', 'Crème Ingwer'])
    expect(listed(store, { words }), words).toEqual([]);
  expect(listed(store, { words: 'in' })).toContain('r1');
});

test('by tag, kind, verdict and profile', async () => {
  const store = await threeRuns();
  expect(listed(store, { tag: 'ginger' })).toEqual(['r3', 'r1']);
  expect(listed(store, { tag: 'gin' })).toEqual([]);
  expect(listed(store, { simulated: 'yes' })).toEqual(['r3']);
  expect(listed(store, { coating: 'milk' })).toEqual([]);
  expect(listed(store, { verdict: 'good' })).toEqual([]);
  const outcome = {
    verdict: 'good',
    gloss: 'glossy',
    snap: 'clean',
    release: null,
    streaks: false,
    fatBloom: false,
    sugarBloom: null,
    soft: false,
    words: null,
  } as const;
  store.changeCard('r2', entry({ outcome }));
  await store.flush();
  expect(listed(store, { verdict: 'good' })).toEqual(['r2']);
  expect(listed(store, { verdict: 'none' })).toEqual(['r3', 'r1']);
});

test('in each order, a page at a time, with the count of all that fit', async () => {
  const store = await threeRuns();
  expect(listed(store, { order: 'oldest' })).toEqual(['r1', 'r2', 'r3']);
  expect(listed(store, { order: 'longest' })).toEqual(['r3', 'r2', 'r1']);
  store.beginRun(newRun('going', { startedAtWall: '2026-11-25T04:00:00.000Z' }));
  store.append('going', madeTurns(900)[899]!);
  await store.flush();
  expect(listed(store, { order: 'longest' })).toEqual(['r3', 'r2', 'r1', 'going']);
  expect(listed(store, { order: 'newest' })).toEqual(['going', 'r3', 'r2', 'r1']);
  expect(listed(store, { order: 'name', words: 'i' })).toEqual(['r2', 'going', 'r3', 'r1']);
  const { total, runs } = store.runs({ most: 1, after: 1, tag: 'ginger' });
  expect([total, runs.map(({ run }) => run)]).toEqual([2, ['r1']]);
});

test('a run is as long as from its first phase to its end, and began then: what was read before that is not counted', async () => {
  const store = openedStore(freshFolder());
  store.beginRun(newRun('r1', { startedAtMs: 100, startedAtWall: '2026-11-25T09:00:30.000Z' }));
  const [first, second] = madeTurns(2);
  const entered = { seq: 1, atMs: 42_100, kind: 'phase-entered', phase: 'melt', from: null, by: 'hand' } as const;
  store.append('r1', { ...first!, events: [] });
  const input = { ...second!.input, atMs: 42_100 };
  store.append('r1', { ...second!, input, events: [entered] });
  await store.flush();
  expect(allRuns(store)[0]).toMatchObject({ durationMs: 0, beganAtWall: '2026-11-25T09:01:12.000Z' });
  store.endRun('r1', 102_100);
  await store.flush();
  expect(allRuns(store)[0]).toMatchObject({
    startedAtWall: '2026-11-25T09:00:30.000Z',
    beganAtWall: '2026-11-25T09:01:12.000Z',
    durationMs: 60_000,
  });
});

test('the longest is the one whose length is shown as that, however long something was read before its first phase', async () => {
  const folder = freshFolder();
  const store = openedStore(folder);
  // Twenty minutes from the first reading on, of which one is the run; and a run of two minutes.
  for (const [run, enteredMs, endMs] of [
    ['waited', 1_140_000, 1_200_000],
    ['went', 0, 120_000],
  ] as const) {
    store.beginRun(newRun(run, { startedAtMs: 0 }));
    const [turn] = madeTurns(1);
    const entered = { seq: 1, kind: 'phase-entered', phase: 'melt', from: null, by: 'hand' } as const;
    const input = { ...turn!.input, atMs: enteredMs };
    store.append(run, { ...turn!, input, events: [{ ...entered, atMs: enteredMs }] });
    store.endRun(run, endMs);
  }
  await store.flush();
  expect(store.runs({ most: 10, after: 0, order: 'longest' }).runs).toMatchObject([
    { run: 'went', durationMs: 120_000 },
    { run: 'waited', durationMs: 60_000 },
  ]);
  // Visits of a row that was hit hide no other run.
  const hit = openForWriting(`${folder}/bowlside.sqlite`, false);
  hit.exec(`UPDATE runs SET visits = '[{' WHERE run = 'went'`);
  hit.close();
  expect(listed(store, { order: 'longest' })).toEqual(['went', 'waited']);
});

test('no row is read but those of the page shown, in whatever order', async () => {
  const folder = freshFolder();
  const store = openedStore(folder);
  await store.flush();
  const db = openForReading(`${folder}/bowlside.sqlite`);
  const asked: string[] = [];
  const noting = { prepare: (sql: string) => (asked.push(sql), db.prepare(sql)) } as unknown as Database;
  for (const order of ['newest', 'oldest', 'longest', 'worst', 'name'] as const)
    listedRuns(noting, { most: 10, after: 0, words: 'a', coating: 'dark', tag: 'b', order });
  listChoices(noting);
  const plans = asked
    .filter((sql) => /runs_found/.test(sql))
    .map((sql) =>
      db.prepare(`EXPLAIN QUERY PLAN ${sql}`).all(
        ...sql
          .replaceAll(/[^?]/g, '')
          .split('')
          .map(() => 0),
      ),
    );
  db.close();
  expect(plans.length).toBeGreaterThan(10);
  for (const plan of plans) expect(JSON.stringify(plan)).toMatch(/COVERING INDEX runs_found/);
});

test('what it can be narrowed to is what runs out of the bin have', async () => {
  const store = await threeRuns();
  expect(store.choices()).toEqual({
    coatings: ['dark'],
    profiles: [{ id: 'dark', title: 'Dark for candied ginger' }],
    tags: ['caramel', 'gift', 'ginger'],
  });
  store.bin('r2', AT);
  store.bin('r1', AT);
  const header = newRun('r4').header;
  const profile = { ...header.profile, title: 'Dark, renamed', coating: 'milk' as const };
  const startedAtWall = '2026-11-25T08:00:00.000Z';
  store.beginRun(newRun('r4', { startedAtWall, header: { ...header, profile } }));
  await store.flush();
  expect(store.choices()).toEqual({
    coatings: ['dark', 'milk'],
    profiles: [{ id: 'dark', title: 'Dark, renamed' }],
    tags: ['ginger'],
  });
});

test('a card is what its entries add up to, and every entry is kept, once', async () => {
  const store = await threeRuns();
  store.changeCard('r2', entry({ kg: 2, name: null }, '2026-11-25T16:00:00.000Z'));
  store.changeCard('r2', entry({ kg: 2, name: null }, '2026-11-25T16:00:00.000Z'));
  await store.flush();
  const { card } = store.openRun('r2')!;
  expect(card).toHaveLength(2);
  expect(cardOf(card)).toEqual({ ...EMPTY_CARD, lot: 'C_1', kg: 2, tags: ['caramel'] });
  expect(allRuns(store)[1]).toMatchObject({ run: 'r2', kg: 2, name: null, lot: 'C_1' });
});

test('what lies in the bin is listed there and nowhere else, and comes back whole', async () => {
  const store = await threeRuns();
  store.bin('r2', AT);
  await store.flush();
  expect(listed(store, {})).toEqual(['r3', 'r1']);
  expect(store.runs({ most: 10, after: 0, bin: 'yes' }).runs).toMatchObject([{ run: 'r2', binnedAtWall: AT }]);
  expect(store.readingsOf('r2')).toHaveLength(200);
  store.bin('r2', null);
  await store.flush();
  expect(listed(store, {})).toEqual(['r3', 'r2', 'r1']);
});
