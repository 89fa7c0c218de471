/** Where an address leads. */
import { expect, test } from 'vitest';
import { placeOf } from '../../web/places.tsx';

test('the bowl, the list, a run; anything unknown is the bowl', () => {
  for (const hash of ['', '#/', '#/nowhere', '#/toString', '#/bowl/1']) expect(placeOf(hash).Page, hash).toBeNull();
  const list = placeOf('#/runs');
  const run = placeOf('#/runs/a%20b');
  expect(list.Page).not.toBeNull();
  expect(run.Page).not.toBeNull();
  expect(run.Page).not.toBe(list.Page);
  expect(placeOf('#/bin').Page).not.toBeNull();
  expect([list.about, run.about, placeOf('#/runs/%').about]).toEqual(['', 'a b', '']);
});
