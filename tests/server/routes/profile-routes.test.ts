/** Profiles over HTTP: made from a bag, duplicated, changed, deleted, and chosen for the bowl at once. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Profile } from '../../../server/core/record/profile.ts';
import { asks } from '../../support/asks.ts';
import { BOWL, openBowl, openKitchen } from '../../support/server.ts';
import { shipped } from '../../support/shipped.ts';
import { freshFolder } from '../../support/store.ts';

/** Made up. */
const BAG = { title: 'House dark', coating: 'dark', meltC: 48, coolC: 27, workC: 31.5 };

describe('numbers from the bag', () => {
  test('give a whole profile that nothing keeps until it is asked for; then it can be chosen at once', async () => {
    const kitchen = await openKitchen();
    const { get, post } = asks(kitchen.http.address);
    const { status, body: draft } = await post('/api/profiles/bag', BAG);
    expect([status, draft]).toMatchObject([200, { id: 'house-dark', title: 'House dark' }]);
    expect((await get('/api/profiles/own')).body).toEqual({ ids: [], leftOut: [] });
    expect(await post('/api/profiles', draft)).toEqual({ status: 201, body: draft });
    expect((await get('/api/profiles')).body).toEqual([shipped('dark'), shipped('milk'), draft]);
    const chosen = await post(`/api/bowls/${BOWL}/commands`, {
      name: 'choose-profile',
      profile: 'house-dark',
      condition: 'solid',
    });
    expect(chosen).toMatchObject({ status: 200, body: { chosen: { profile: 'house-dark' } } });
    kitchen.bowl.ramp(24, 30, 10);
    expect((await get(`/api/bowls/${BOWL}`)).body).toMatchObject({ info: { profile: draft } });
  });

  test('that cannot be are refused at their place', async () => {
    const { post } = asks((await openKitchen()).http.address);
    expect(await post('/api/profiles/bag', { ...BAG, coolC: 35 })).toMatchObject({
      status: 400,
      body: { path: 'coolC' },
    });
    expect(await post('/api/profiles/bag', { ...BAG, title: '…' })).toMatchObject({
      status: 400,
      body: { path: 'title' },
    });
  });
});

describe('a profile of one’s own', () => {
  test('is a copy under its own name, is changed and deleted; the shipped one is not', async () => {
    const { get, post, put, remove } = asks((await openKitchen()).http.address);
    const copy = await post('/api/profiles/dark/copies', { title: 'Ginger dark' });
    expect(copy).toEqual({ status: 201, body: { ...shipped('dark'), id: 'ginger-dark', title: 'Ginger dark' } });
    const warmer = { ...(copy.body as Profile), title: 'Ginger, warmer' };
    expect(await put('/api/profiles/ginger-dark', warmer)).toEqual({ status: 200, body: warmer });
    expect(await post('/api/profiles/dark/copies', { title: 'Ginger dark' })).toMatchObject({
      status: 409,
      body: { path: 'id', detail: expect.stringContaining('Ginger, warmer') },
    });
    expect(await put('/api/profiles/dark', shipped('dark'))).toMatchObject({ status: 409 });
    expect(await remove('/api/profiles/dark')).toMatchObject({ status: 409 });
    expect(await remove('/api/profiles/ginger-dark')).toEqual({ status: 200, body: { deleted: 'ginger-dark' } });
    expect(await remove('/api/profiles/ginger-dark')).toMatchObject({ status: 404 });
    expect(await post('/api/profiles/nobody/copies', { title: 'A' })).toMatchObject({ status: 404 });
    expect((await get('/api/profiles/own')).body).toMatchObject({ ids: [] });
  });

  test('that is wrong is refused at the first place, and checked at all of them', async () => {
    const { post } = asks((await openKitchen()).http.address);
    const dark = shipped('dark');
    const phases = dark.phases.map((phase) => ({ ...phase, bandC: [phase.bandC[1], phase.bandC[0]] }));
    const wrong = { ...dark, id: 'wrong', phases };
    expect(await post('/api/profiles', wrong)).toMatchObject({ status: 400, body: { path: 'phases.melt.bandC' } });
    const { body } = await post('/api/profiles/check', wrong);
    const { complaints } = body as { complaints: { path: string }[] };
    expect(complaints.map(({ path }) => path)).toEqual(
      expect.arrayContaining(['melt', 'cool', 'rewarm', 'work'].map((id) => `phases.${id}.bandC`)),
    );
    expect((await post('/api/profiles/check', dark)).body).toEqual({ complaints: [] });
  });

  test('chosen and changed before the run begins is what the run begins with; a run that is going keeps its own', async () => {
    const kitchen = await openKitchen();
    const { post, put, get } = asks(kitchen.http.address);
    const { body } = await post('/api/profiles/dark/copies', { title: 'Mine' });
    await post(`/api/bowls/${BOWL}/commands`, { name: 'choose-profile', profile: 'mine', condition: 'solid' });
    const changed = { ...(body as Profile), title: 'Mine, changed' };
    await put('/api/profiles/mine', changed);
    kitchen.bowl.ramp(24, 30, 10);
    expect((await get(`/api/bowls/${BOWL}`)).body).toMatchObject({ state: 'going', info: { profile: changed } });
    await put('/api/profiles/mine', { ...changed, title: 'Mine, again' });
    expect((await get(`/api/bowls/${BOWL}`)).body).toMatchObject({ info: { profile: changed } });
  });
});

test('a file of one’s own that is no profile is told of, and the server is there', async () => {
  const folder = freshFolder();
  mkdirSync(join(folder, 'profiles'));
  writeFileSync(join(folder, 'profiles', 'half.json'), '{"id":');
  const { get } = asks((await openKitchen({}, openBowl(folder))).http.address);
  expect((await get('/api/profiles/own')).body).toMatchObject({ ids: [], leftOut: [{ file: 'half.json' }] });
});
