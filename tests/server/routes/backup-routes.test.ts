/** Backups over HTTP. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Backup } from '../../../server/backups/backups.ts';
import { asks } from '../../support/asks.ts';
import { openKitchen } from '../../support/server.ts';

test('one is made, listed, fetched byte for byte, put back and deleted', async () => {
  const { bowl, http } = await openKitchen();
  const { get, post, remove } = asks(http.address);
  bowl.begin();
  bowl.says({ name: 'end' });
  await bowl.store.flush();
  const made = await post('/api/backups');
  const { name, bytes } = made.body as Backup;
  expect(made).toMatchObject({ status: 201, body: { kind: 'by-hand', damage: null } });
  expect((await get('/api/backups')).body).toMatchObject({
    folder: join(bowl.store.folder, 'backups'),
    freeBytes: expect.any(Number),
    busyWith: null,
    trouble: null,
    backups: [made.body],
  });
  const fetched = await fetch(new URL(`/api/backups/${name}`, http.address));
  expect(fetched.headers.get('content-disposition')).toContain(name);
  const file = Buffer.from(await fetched.arrayBuffer());
  expect(file).toHaveLength(bytes);
  expect(file.equals(readFileSync(join(bowl.store.folder, 'backups', name)))).toBe(true);
  const answer = await post(`/api/backups/${name}/restore`);
  expect(answer).toMatchObject({ status: 200, body: { restored: name } });
  expect(await remove(`/api/backups/${name}`)).toEqual({ status: 200, body: { deleted: name } });
  const { keptAs } = answer.body as { keptAs: string };
  expect((await get('/api/backups')).body).toMatchObject({ backups: [{ name: keptAs, kind: 'before-restore' }] });
});

test('while a run is going none is put back, and the run is told of as the reason', async () => {
  const { bowl, http } = await openKitchen();
  const { post } = asks(http.address);
  const { body } = await post('/api/backups');
  bowl.begin();
  expect(await post(`/api/backups/${(body as Backup).name}/restore`)).toMatchObject({
    status: 409,
    body: { title: 'Not put back', detail: expect.stringContaining('run is going') },
  });
});

test.each(['nothing.sqlite', '..%2Fbowlside.sqlite', '..%2F..%2Fetc%2Fpasswd', 'bad'])(
  'there is no backup %s',
  async (name) => {
    const { http } = await openKitchen();
    const { get, post, remove } = asks(http.address);
    for (const reply of [
      await get(`/api/backups/${name}`),
      await post(`/api/backups/${name}/restore`),
      await remove(`/api/backups/${name}`),
    ])
      expect(reply.status).toBe(404);
  },
);
