/** Where an address leads. */
import { expect, test } from 'vitest';
import { placeOf } from '../../web/places.tsx';
import { PLACE_TITLE, titled } from '../../web/words/places.ts';

test('the bowl, the list, a run; anything unknown is the bowl', () => {
  for (const hash of ['', '#/', '#/nowhere', '#/toString', '#/bowl/1']) expect(placeOf(hash).Page, hash).toBeNull();
  const list = placeOf('#/runs');
  const run = placeOf('#/runs/a%20b');
  expect(list.Page).not.toBeNull();
  expect(run.Page).not.toBeNull();
  expect(run.Page).not.toBe(list.Page);
  expect([list.about, run.about, placeOf('#/runs/%').about]).toEqual(['', 'a b', '']);
});

test('every place beside the bowl is a page of its own, and the window is called after it', () => {
  const addresses = [
    '#/runs',
    '#/runs/a',
    '#/compare/a,b',
    '#/bin',
    '#/hand-over/a',
    '#/bring-in',
    '#/judged/a',
    '#/bench',
    '#/kept',
    '#/profiles',
    '#/profiles/dark',
    '#/bag',
    '#/check',
    '#/thermometer',
    '#/heard',
    '#/screens',
  ];
  const places = addresses.map(placeOf);
  expect(new Set(places.map(({ Page }) => Page))).toHaveProperty('size', addresses.length);
  expect(places.map(({ word }) => word).toSorted()).toEqual(Object.keys(PLACE_TITLE).toSorted());
  for (const { Page } of places) expect(Page).not.toBeNull();
  expect(titled(PLACE_TITLE['runs/'])).toBe('A run, Bowlside');
  expect(titled(PLACE_TITLE[placeOf('#/').word])).toBe('Bowlside');
});

test('each bowl has an address; any other one is the bowl that was looked at last', () => {
  expect(placeOf('#/bowl/bowl-2')).toEqual({ Page: null, about: 'bowl-2', word: '' });
  expect(placeOf('#/')).toEqual({ Page: null, about: '', word: '' });
  expect(placeOf('#/nowhere/bowl-2')).toEqual({ Page: null, about: '', word: '' });
});
