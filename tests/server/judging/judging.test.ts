/** Judging stored runs again, from the request to the data file: one at a time, beside the server, the first log untouched. */
import { describe, expect, onTestFinished, test } from 'vitest';
import { Judging } from '../../../server/judging/judging.ts';
import type { Judgement } from '../../../server/core/record/judgement.ts';
import { ENGINE_VERSION } from '../../../server/core/record/run.ts';
import { type Bowl, type Kitchen, openBowl, openKitchen } from '../../support/server.ts';
import { shipped } from '../../support/shipped.ts';
import { freshFolder, heldDisk, madeTurns, newRun, openedStore } from '../../support/store.ts';

interface Listed {
  readonly judgements: readonly Judgement[];
  readonly going: { readonly id: string; readonly run: string; readonly share: number } | null;
  readonly failed: { readonly id: string; readonly reason: string } | null;
}

const scripted = (script: string): URL =>
  new URL(`data:text/javascript,${encodeURIComponent(`import { parentPort } from 'node:worker_threads';\n${script}`)}`);

/** A run from the melt into the cooling, and ended. */
async function runOf(bowl: Bowl): Promise<string> {
  const run = bowl.begin();
  bowl.ramp(30, 47, 60);
  bowl.ramp(47, 30, 120);
  bowl.says({ name: 'end' });
  await bowl.store.flush();
  return run;
}

async function ask({ http }: Kitchen, method: string, path: string, body?: unknown) {
  const response = await fetch(new URL(path, http.address), {
    method,
    headers: { origin: http.address, ...(body === undefined ? {} : { 'content-type': 'application/json' }) },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  return { status: response.status, body: (await response.json()) as Record<string, unknown> };
}

/** The list, once nothing is going any more. */
async function settled(kitchen: Kitchen, run: string): Promise<Listed> {
  let listed: Listed | null = null;
  await expect
    .poll(
      async () => (listed = (await ask(kitchen, 'GET', `/api/runs/${run}/judgements`)).body as unknown as Listed).going,
    )
    .toBeNull();
  return listed!;
}

describe('judging again', () => {
  test('under the same engine and numbers gives the same log, which is kept beside the first', async () => {
    const kitchen = await openKitchen();
    const { store } = kitchen.bowl;
    const run = await runOf(kitchen.bowl);
    const first = store.openRun(run)!;
    const begun = await ask(kitchen, 'POST', `/api/runs/${run}/judgements`, {});
    expect(begun).toMatchObject({ status: 201, body: { run, profile: shipped('dark').title, share: 0 } });
    const going = (await ask(kitchen, 'GET', `/api/runs/${run}/judgements`)).body as unknown as Listed;
    expect(going.going?.id).toBe(begun.body['id']);
    const { judgements, failed } = await settled(kitchen, run);
    expect(failed).toBeNull();
    expect(judgements).toMatchObject([
      {
        id: begun.body['id'],
        header: { ...first.header, engine: ENGINE_VERSION },
        isOwnProfile: true,
        inputs: store.inputsOf(run).length,
        events: first.events.length,
        differsFromSeq: null,
        hasLostInputs: false,
        visits: [{ phase: 'melt' }],
      },
    ]);
    const one = (await ask(kitchen, 'GET', `/api/runs/${run}/judgements/${judgements[0]!.id}`)).body;
    expect(one['events']).toEqual(first.events);
    expect(one['tiles']).toEqual(store.tilesOf(run, 2_400));
    expect(store.openRun(run)).toEqual(first);
  });

  test('under another profile, by its id or in full, gives another log; the first is not rewritten', async () => {
    const kitchen = await openKitchen();
    const run = await runOf(kitchen.bowl);
    const first = kitchen.bowl.store.openRun(run)!;
    const ours = { ...shipped('milk'), id: 'milk-of-ours', title: 'Milk of ours' };
    for (const profile of ['milk', ours]) {
      expect((await ask(kitchen, 'POST', `/api/runs/${run}/judgements`, { profile })).status).toBe(201);
      await settled(kitchen, run);
    }
    const { judgements } = await settled(kitchen, run);
    expect(judgements.map(({ header }) => header.profile)).toEqual([shipped('milk'), ours]);
    expect(judgements.map(({ differsFromSeq }) => differsFromSeq)).toEqual([2, 2]);
    expect(judgements.map(({ isOwnProfile }) => isOwnProfile)).toEqual([false, false]);
    expect(kitchen.bowl.store.openRun(run)).toEqual(first);
  });

  test('one is taken away, and nothing else with it', async () => {
    const kitchen = await openKitchen();
    const run = await runOf(kitchen.bowl);
    for (let i = 0; i < 2; i++) {
      await ask(kitchen, 'POST', `/api/runs/${run}/judgements`, {});
      await settled(kitchen, run);
    }
    const [older, newer] = (await settled(kitchen, run)).judgements;
    expect((await ask(kitchen, 'DELETE', `/api/runs/${run}/judgements/${older!.id}`)).status).toBe(200);
    expect((await settled(kitchen, run)).judgements).toEqual([newer]);
    expect((await ask(kitchen, 'DELETE', `/api/runs/${run}/judgements/${older!.id}`)).status).toBe(404);
    expect((await ask(kitchen, 'GET', `/api/runs/${run}/judgements/${older!.id}`)).status).toBe(404);
  });

  test('is one at a time, can be broken off, and leaves nothing behind then', async () => {
    const kitchen = await openKitchen();
    const run = await runOf(kitchen.bowl);
    const begun = await ask(kitchen, 'POST', `/api/runs/${run}/judgements`, {});
    expect(await ask(kitchen, 'POST', `/api/runs/${run}/judgements`, {})).toMatchObject({
      status: 409,
      body: { detail: 'Another run is being judged; try again in a moment.' },
    });
    expect((await ask(kitchen, 'DELETE', `/api/runs/${run}/judgements/${String(begun.body['id'])}`)).status).toBe(200);
    expect(await settled(kitchen, run)).toEqual({ judgements: [], going: null, failed: null });
    expect((await ask(kitchen, 'POST', `/api/runs/${run}/judgements`, {})).status).toBe(201);
  });

  test('is refused of a run that is going, of one that is not there, and by a profile that is none', async () => {
    const kitchen = await openKitchen();
    const run = kitchen.bowl.begin();
    await kitchen.bowl.store.flush();
    const path = `/api/runs/${run}/judgements`;
    expect(await ask(kitchen, 'POST', path, {})).toMatchObject({
      status: 409,
      body: { detail: 'The run is still going; it can be judged again when it has ended.' },
    });
    expect((await ask(kitchen, 'POST', '/api/runs/none/judgements', {})).status).toBe(404);
    expect(await ask(kitchen, 'POST', path, { profile: 'ruby' })).toMatchObject({
      status: 400,
      body: { path: 'judging.profile', detail: expect.stringContaining('one of dark, milk is wanted') },
    });
    const upsideDown = { ...shipped('dark'), phases: [{ id: 'a', heading: 'up', bandC: [5, 4] }] };
    expect(await ask(kitchen, 'POST', path, { profile: upsideDown })).toMatchObject({
      status: 400,
      body: { path: 'judging.profile.phases.a.bandC' },
    });
    expect(await ask(kitchen, 'POST', path, { by: 'me' })).toMatchObject({ status: 400, body: { path: 'judging.by' } });
    expect(await ask(kitchen, 'POST', path, [])).toMatchObject({ status: 400 });
  });
});

describe('where the disk takes its time', () => {
  test('a second log is over once it is handed over, has not failed, and is there when the disk has it', async () => {
    const kitchen = await openKitchen();
    const run = await runOf(kitchen.bowl);
    const { letGo } = heldDisk(kitchen.bowl.store);
    await ask(kitchen, 'POST', `/api/runs/${run}/judgements`, {});
    expect(await settled(kitchen, run)).toMatchObject({ judgements: [], failed: null });
    letGo();
    const kept = (): number => kitchen.bowl.store.judgements.of(run).length;
    await expect.poll(kept).toBe(1);
    const [{ id } = { id: '' }] = kitchen.bowl.store.judgements.of(run);
    const again = heldDisk(kitchen.bowl.store);
    expect((await ask(kitchen, 'DELETE', `/api/runs/${run}/judgements/${id}`)).status).toBe(503);
    again.letGo();
    await expect.poll(kept).toBe(0);
  });

  test('one that is broken off while it waits for the disk does not come up later', async () => {
    const store = openedStore(freshFolder());
    store.beginRun(newRun('r1'));
    store.endRun('r1', 0);
    await store.flush();
    const judgement = { id: 'j1' } as Judgement;
    const message = JSON.stringify({ kind: 'judged', judged: { judgement, events: [], tiles: [] } });
    const script = `parentPort.postMessage(${message}); setInterval(() => {}, 1_000);`;
    const judging = new Judging({ store, script: scripted(script), wallNowMs: () => 0, newId: () => 'j1' });
    onTestFinished(() => judging.close());
    const { letGo } = heldDisk(store);
    judging.begin('r1', null, 'Dark');
    await expect.poll(() => store.health()).toMatchObject({ recording: false });
    expect(judging.stop('j1')).toBe(true);
    letGo();
    await expect.poll(() => store.health()).toEqual({ recording: true });
    await store.flush();
    expect(store.judgements.of('r1')).toEqual([]);
  });
});

describe('the thread', () => {
  function judging(script: string, longestMs?: number): Judging {
    const { store } = openBowl();
    const labels = { wallNowMs: () => 0, newId: () => 'j1' };
    return new Judging({
      store,
      script: scripted(script),
      ...labels,
      ...(longestMs === undefined ? {} : { longestMs }),
    });
  }

  test.each([
    ["throw new Error('worn out');", undefined, 'worn out'],
    ['', undefined, 'the judging stopped'],
    ['setInterval(() => {}, 1_000);', 30, 'it took too long'],
  ])('that comes to nothing says why, and the next may begin: %s', async (script, longestMs, reason) => {
    const again = judging(script, longestMs);
    expect(again.begin('r1', null, 'Dark')).toMatchObject({ id: 'j1', run: 'r1', profile: 'Dark' });
    await expect.poll(() => again.failureOf('r1')).toEqual({ id: 'j1', reason });
    expect(again.going).toBeNull();
    expect(again.begin('r1', null, 'Dark')).not.toBeNull();
    expect(again.failureOf('r1')).toBeNull();
    again.close();
  });

  test('that there is no room for is not going, and the next may begin', () => {
    const { store } = openBowl();
    // Refused at once, as a thread is that the system has no room for.
    const again = new Judging({ store, script: new URL('none:judge.js'), wallNowMs: () => 0, newId: () => 'j1' });
    expect(() => again.begin('r1', null, 'Dark')).toThrow();
    expect(again.going).toBeNull();
  });

  test('whatever it says after it was broken off is not heard', async () => {
    const again = judging("parentPort.postMessage({ kind: 'progress', share: 0.5 });");
    again.begin('r1', null, 'Dark');
    again.close();
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect([again.going, again.failureOf('r1')]).toEqual([null, null]);
  });
});

test('a second log outlives the server, and a run of which inputs were lost says so', async () => {
  const folder = freshFolder();
  const store = openedStore(folder);
  store.beginRun(newRun('r1'));
  for (const turn of madeTurns(20)) store.append('r1', turn);
  store.endRun('r1', 2_000);
  const judgement = { id: 'j1', events: 1, inputs: 20, hasLostInputs: true } as Judgement;
  const judged = {
    judgement,
    events: [{ seq: 1, atMs: 5, kind: 'act', act: 'stirred' } as const],
    tiles: [[0, 1, 2, 3] as const],
  };
  store.judgements.add('r1', judged);
  store.judgements.add('r1', judged);
  await store.flush();
  await store.close();
  const again = openedStore(folder);
  expect(again.judgements.of('r1')).toEqual([judgement]);
  expect(again.judgements.one('r1', 'j1')).toEqual(judged);
  expect(again.judgements.one('r1', 'j2')).toBeNull();
  expect(again.judgements.of('r2')).toEqual([]);
});
