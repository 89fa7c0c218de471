/** The bin over HTTP: in, out, and for good; and what has lain there for 30 days is gone by itself. */
import { describe, expect, onTestFinished, test, vi } from 'vitest';
import { tendBin } from '../../server/bin.ts';
import { BIN_DAYS } from '../../server/core/show/listed.ts';
import { get, post, remove, withRun } from '../support/asked.ts';
import { PATIENCE_MS } from '../support/patience.ts';
import { heldDisk } from '../support/store.ts';
import { BOWL, type Kitchen, WALL_START_MS } from '../support/server.ts';

const PROBLEM_TYPE = expect.stringContaining('application/problem+json') as unknown;

const AT = new Date(WALL_START_MS).toISOString();

async function withEndedRun(): Promise<Kitchen & { readonly run: string }> {
  const kitchen = await withRun();
  kitchen.bowl.says({ name: 'end' });
  await kitchen.bowl.store.flush();
  return kitchen;
}

const inBin = async (kitchen: Kitchen): Promise<unknown> => (await get(kitchen, '/api/runs?bin=yes')).body['runs'];
const listed = async (kitchen: Kitchen): Promise<unknown> => (await get(kitchen, '/api/runs')).body['runs'];

describe('the bin', () => {
  test('takes a run out of the list, says so to pages, and gives it back whole', async () => {
    const kitchen = await withEndedRun();
    const { run, bowl } = kitchen;
    const before = (await get(kitchen, `/api/runs/${run}`)).body;
    const path = `/api/runs/${run}/bin`;
    expect(await post(kitchen, path, { binned: true })).toMatchObject({ status: 200, body: { binnedAtWall: AT } });
    expect(bowl.told.at(-1)).toEqual({ kind: 'run-changed', bowl: BOWL, run });
    expect(await listed(kitchen)).toEqual([]);
    expect(await inBin(kitchen)).toMatchObject([{ run, binnedAtWall: AT }]);
    expect((await get(kitchen, `/api/runs/${run}`)).body).toEqual({ ...before, binnedAtWall: AT });
    expect((await post(kitchen, path, { binned: true })).body).toEqual({ binnedAtWall: AT });
    expect((await post(kitchen, path, { binned: false })).body).toEqual({ binnedAtWall: null });
    expect(await inBin(kitchen)).toEqual([]);
    expect(await listed(kitchen)).toMatchObject([{ run }]);
    expect((await get(kitchen, `/api/runs/${run}`)).body).toEqual(before);
  });

  test('does not take a run that is going', async () => {
    const kitchen = await withRun();
    const answer = await post(kitchen, `/api/runs/${kitchen.run}/bin`, { binned: true });
    expect(answer).toMatchObject({ status: 409, body: { detail: 'This run is going. End it first.' } });
    expect(await listed(kitchen)).toMatchObject([{ run: kitchen.run }]);
  });

  test('is the only place from which a run is deleted; then nobody finds it any more', async () => {
    const kitchen = await withEndedRun();
    const { run } = kitchen;
    expect((await remove(kitchen, `/api/runs/${run}`)).status).toBe(409);
    expect(await listed(kitchen)).toMatchObject([{ run }]);
    await post(kitchen, `/api/runs/${run}/bin`, { binned: true });
    expect(await remove(kitchen, `/api/runs/${run}`)).toMatchObject({ status: 200, body: { run } });
    expect(await inBin(kitchen)).toEqual([]);
    for (const path of [`/api/runs/${run}`, `/api/runs/${run}/card`, `/api/runs/${run}/curve`])
      expect((await get(kitchen, path)).status, path).toBe(404);
    expect((await remove(kitchen, `/api/runs/${run}`)).status).toBe(404);
    await vi.waitFor(() => expect(kitchen.bowl.store.inputsOf(run)).toEqual([]), PATIENCE_MS);
  });

  test('says so where the disk does not take it yet, and it holds once the disk does', async () => {
    const kitchen = await withEndedRun();
    const { run, bowl } = kitchen;
    const path = `/api/runs/${run}/bin`;
    const { letGo } = heldDisk(bowl.store);
    expect(await post(kitchen, path, { binned: true })).toMatchObject({ status: 503, type: PROBLEM_TYPE });
    expect((await post(kitchen, path, { binned: false })).status).toBe(503);
    letGo();
    await expect.poll(() => bowl.store.health()).toEqual({ recording: true });
    expect(await listed(kitchen)).toMatchObject([{ run }]);
    await post(kitchen, path, { binned: true });
    const again = heldDisk(bowl.store);
    expect((await remove(kitchen, `/api/runs/${run}`)).status).toBe(503);
    again.letGo();
    await expect.poll(() => bowl.store.openRun(run)).toBeNull();
  });

  test('gives no run back of which the deleting has begun, and deletes none that was just taken out', async () => {
    const kitchen = await withEndedRun();
    const { run, bowl } = kitchen;
    const path = `/api/runs/${run}/bin`;
    await post(kitchen, path, { binned: true });
    bowl.store.bin(run, null);
    expect((await remove(kitchen, `/api/runs/${run}`)).status).toBe(409);
    expect(await listed(kitchen)).toMatchObject([{ run }]);
    await post(kitchen, path, { binned: true });
    const deleting = bowl.store.purge(run);
    expect((await post(kitchen, path, { binned: false })).status).toBe(404);
    expect(await deleting).toBe(true);
  });

  test.each([
    [{}, 'binned'],
    [{ binned: 'yes' }, 'binned'],
    [[], ''],
  ])('%j is not for it', async (body, path) => {
    const kitchen = await withEndedRun();
    expect(await post(kitchen, `/api/runs/${kitchen.run}/bin`, body)).toMatchObject({ status: 400, body: { path } });
  });
});

test('it is emptied at the start and every day, of what is 30 days old', () => {
  vi.useFakeTimers();
  onTestFinished(() => void vi.useRealTimers());
  const asked: string[] = [];
  const emptyBin = (before: string): Promise<void> => {
    asked.push(before);
    return Promise.resolve();
  };
  const day = 86_400_000;
  let nowMs = Date.parse('2026-03-31T08:00:00.000Z');
  const bin = tendBin({ emptyBin }, () => nowMs);
  nowMs += day;
  vi.advanceTimersByTime(day);
  bin.close();
  vi.advanceTimersByTime(3 * day);
  expect(BIN_DAYS).toBe(30);
  expect(asked).toEqual(['2026-03-01T08:00:00.000Z', '2026-03-02T08:00:00.000Z']);
});
