/** What a restarted server is given to go on with the run that was going. */
import { expect, test } from 'vitest';
import { openForWriting } from '../../../server/store/database.ts';
import { dataFileIn } from '../../../server/store/store.ts';
import { allRuns, freshFolder, madeTurn, madeTurns, newRun, openedStore } from '../../support/store.ts';

const HOUR_MS = 3_600_000;

/** A folder in which `r1` stopped after 250 turns, with checkpoints after 100 and 200. */
async function stoppedFolder(): Promise<string> {
  const folder = freshFolder();
  const store = openedStore(folder);
  store.beginRun(newRun('r1'));
  for (let turn = 1; turn <= 250; turn++) {
    const checkpoint = turn % 100 === 0 ? { atMs: turn * 100, state: `after ${turn}`, learned: null } : undefined;
    store.append('r1', madeTurn(turn), checkpoint);
  }
  await store.flush();
  await store.close();
  return folder;
}

test('[S10] the newest checkpoint, the inputs after it, and all that was said and read so far', async () => {
  const store = openedStore(await stoppedFolder());
  const found = store.runToResume('bowl-1', Date.now(), 2 * HOUR_MS);
  const turns = madeTurns(250);
  expect(found).toMatchObject({
    run: newRun('r1'),
    checkpoint: { atMs: 20_000, state: 'after 200' },
    inputsSince: turns.slice(200).map((turn) => turn.input),
    said: [],
    turns: 250,
    lastAtMs: 25_000,
    events: turns.flatMap((turn) => turn.events),
    readings: turns.flatMap((turn) => turn.readings),
    notes: [],
  });
  expect(Math.abs(Date.now() - Date.parse(found?.lastAtWall ?? ''))).toBeLessThan(60_000);
});

test('[S10] a run of which a line long before the checkpoint cannot be read any more is ended, and that is told', async () => {
  const folder = await stoppedFolder();
  const db = openForWriting(dataFileIn(folder), false);
  db.exec(`UPDATE inputs SET input = substr(input, 2) WHERE turn = 7`);
  db.close();
  const store = openedStore(folder);
  expect(store.runToResume('bowl-1', Date.now(), 2 * HOUR_MS)).toBeNull();
  expect(store.notices).toEqual([expect.stringContaining('cannot be gone on with: the data file is damaged')]);
  await store.flush();
  expect(allRuns(store)[0]).toMatchObject({ run: 'r1', endedAtMs: 25_000 });
});

test('[S10] a run that stopped too long ago is ended where it stopped', async () => {
  const store = openedStore(await stoppedFolder());
  expect(store.runToResume('bowl-1', Date.now() + 2 * HOUR_MS, 2 * HOUR_MS)).toBeNull();
  await store.flush();
  expect(allRuns(store)[0]).toMatchObject({ run: 'r1', endedAtMs: 25_000, durationMs: 25_000 });
});

test('only the newest run of the bowl is gone on with; an older one that was never ended is ended', async () => {
  const folder = await stoppedFolder();
  const first = openedStore(folder);
  first.beginRun(newRun('r2'));
  first.beginRun(newRun('other', { bowl: 'bowl-2' }));
  first.append('r2', madeTurn(1));
  await first.flush();
  await first.close();

  const store = openedStore(folder);
  expect(store.runToResume('bowl-1', Date.now(), 2 * HOUR_MS)?.run.run).toBe('r2');
  await store.flush();
  const endedAtMs = new Map(allRuns(store).map((run) => [run.run, run.endedAtMs]));
  expect(Object.fromEntries(endedAtMs)).toEqual({ r1: 25_000, r2: null, other: null });
});

test('an ended run is not gone on with', async () => {
  const folder = await stoppedFolder();
  const first = openedStore(folder);
  first.endRun('r1', 25_000);
  await first.flush();
  await first.close();
  expect(openedStore(folder).runToResume('bowl-1', Date.now(), 2 * HOUR_MS)).toBeNull();
});

test('a run whose own data are damaged is ended and reported, and does not keep the server from starting', async () => {
  const folder = await stoppedFolder();
  const db = openForWriting(`${folder}/bowlside.sqlite`, false);
  db.exec(
    `UPDATE events SET event = '{"seq":' WHERE seq = 17; UPDATE blocks SET readings = x'07'; UPDATE runs SET tiles = x'07'`,
  );
  db.close();
  const store = openedStore(folder);
  expect(store.runToResume('bowl-1', Date.now(), 2 * HOUR_MS)).toBeNull();
  expect(store.notices).toEqual([
    'The run that was going cannot be gone on with: the data file is damaged. It has been ended.',
  ]);
  await store.flush();
  expect(allRuns(store)[0]?.endedAtMs).toBe(25_000);
});
