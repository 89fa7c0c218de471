/** The card of a run over HTTP: changed field by field, every change kept, and told to pages that show it. */
import { describe, expect, test } from 'vitest';
import { EMPTY_CARD } from '../../server/core/record/card.ts';
import { BOWL, WALL_START_MS } from '../support/server.ts';
import { heldDisk } from '../support/store.ts';
import { get, post, withRun } from '../support/asked.ts';

const AT = new Date(WALL_START_MS).toISOString();

describe('a card', () => {
  test('is empty at first, then what was said last, with who said what and when', async () => {
    const kitchen = await withRun();
    const path = `/api/runs/${kitchen.run}/card`;
    expect((await get(kitchen, path)).body).toEqual({ card: EMPTY_CARD, entries: [], atWall: AT });
    const first = await post(kitchen, path, { change: { name: 'Ginger', kg: 2, tags: ['gift'] }, by: 'Ana' });
    expect(first).toMatchObject({
      status: 201,
      body: { card: { ...EMPTY_CARD, name: 'Ginger', kg: 2, tags: ['gift'] } },
    });
    const second = await post(kitchen, path, { change: { kg: 2.5, tags: ['gift'], name: null } });
    expect(second.body).toEqual({
      card: { ...EMPTY_CARD, kg: 2.5, tags: ['gift'] },
      entries: [
        { writtenAtWall: AT, by: 'Ana', change: { name: 'Ginger', kg: 2, tags: ['gift'] } },
        { writtenAtWall: AT, by: null, change: { kg: 2.5, name: null } },
      ],
      atWall: AT,
    });
    expect((await get(kitchen, path)).body).toEqual(second.body);
    expect((await get(kitchen, '/api/runs')).body).toMatchObject({ runs: [{ kg: 2.5, name: null, tags: ['gift'] }] });
  });

  test('that stays as it is has no new entry, whatever the order of its words', async () => {
    const kitchen = await withRun();
    const path = `/api/runs/${kitchen.run}/card`;
    const setting = { place: 'room', startedAtWall: AT, minutes: 20 };
    const first = await post(kitchen, path, { change: { setting } });
    const { place, ...rest } = setting;
    const again = await post(kitchen, path, { change: { setting: { ...rest, place } } });
    expect(again).toMatchObject({ status: 200, body: first.body });
  });

  test('is told once it is on disk', async () => {
    const kitchen = await withRun();
    const { run, bowl } = kitchen;
    await post(kitchen, `/api/runs/${run}/card`, { change: { lot: 'G-7' } });
    expect(bowl.told.at(-1)).toEqual({ kind: 'run-changed', bowl: BOWL, run });
    expect(bowl.store.openRun(run)!.card).toMatchObject([{ change: { lot: 'G-7' } }]);
  });

  test('is what was said last also while the disk waits', async () => {
    const kitchen = await withRun();
    const { run, bowl } = kitchen;
    const path = `/api/runs/${run}/card`;
    await post(kitchen, path, { change: { lot: 'G-7' } });
    const { letGo } = heldDisk(bowl.store);
    for (const [lot, by] of [
      ['G-8', 'Ana'],
      ['G-7', 'Ben'],
    ]) {
      const answer = await post(kitchen, path, { change: { lot }, by });
      expect(answer).toMatchObject({ status: 201, body: { card: { lot } } });
    }
    expect((await get(kitchen, path)).body).toMatchObject({ card: { lot: 'G-7' }, entries: [{}, {}, {}] });
    letGo();
    await expect.poll(() => bowl.store.health()).toEqual({ recording: true });
    expect((await get(kitchen, path)).body).toMatchObject({ card: { lot: 'G-7' }, entries: [{}, {}, {}] });
    expect((await get(kitchen, '/api/runs')).body).toMatchObject({ runs: [{ lot: 'G-7' }] });
  });

  test.each([
    [{ change: { kg: 0 } }, 'change.kg'],
    [{ change: { kg: '2' } }, 'change.kg'],
    [{ change: { lot: ' ' } }, 'change.lot'],
    [{ change: { tags: ['a', ''] } }, 'change.tags[1]'],
    [{ change: { colour: 'x' } }, 'change.colour'],
    [{ change: { name: 'a' }, by: '' }, 'by'],
    [{ name: 'a' }, 'name'],
    [{}, 'change'],
  ])('%j is not for a card', async (body, path) => {
    const kitchen = await withRun();
    const answer = await post(kitchen, `/api/runs/${kitchen.run}/card`, body);
    expect(answer).toMatchObject({ status: 400, body: { title: 'Not for a card', path } });
  });

  test('of a run that is not there', async () => {
    const kitchen = await withRun();
    expect((await post(kitchen, '/api/runs/none/card', { change: {} })).status).toBe(404);
  });
});
