/** What a person types on a card, read as what it means. */
import { afterEach, describe, expect, test } from 'vitest';
import type { Card } from '../../server/core/record/card.ts';
import { EMPTY_CARD } from '../../server/core/record/card.ts';
import { readTyping, TYPED } from '../../web/cards.ts';
import type { Typing } from '../../web/cards.ts';
import { sayIn } from '../../web/words/manner.ts';

afterEach(() => sayIn('C'));

const CARD: Card = { ...EMPTY_CARD, name: 'Ginger', kg: 2.5, tags: ['gift'], roomC: 19.5 };
const NOTHING = Object.fromEntries(TYPED.map((field) => [field, ''])) as Typing;
const AS_IT_IS: Typing = { ...NOTHING, name: 'Ginger', kg: '2.5', tags: 'gift', roomC: '19.5' };

describe('what was typed', () => {
  test('names only what is different', () => {
    expect(readTyping(AS_IT_IS, CARD)).toEqual({ ok: true, change: {} });
    expect(readTyping({ ...AS_IT_IS, lot: ' G-7 ' }, CARD)).toEqual({ ok: true, change: { lot: 'G-7' } });
  });

  test('takes off what was emptied', () => {
    const change = { name: null, kg: null, tags: [], roomC: null };
    expect(readTyping(NOTHING, CARD)).toEqual({ ok: true, change });
  });

  test('has each tag once, between commas, however it was spaced', () => {
    const read = readTyping({ ...AS_IT_IS, tags: 'gift,, for   the shop ,gift' }, CARD);
    expect(read).toEqual({ ok: true, change: { tags: ['gift', 'for the shop'] } });
  });

  test.each(['1,25', '1.25', ' 1.25 '])('%s is a number', (kg) => {
    expect(readTyping({ ...AS_IT_IS, kg }, CARD)).toEqual({ ok: true, change: { kg: 1.25 } });
  });

  test.each([
    ['kg', 'two'],
    ['kg', '0'],
    ['kg', '-1'],
    ['roomHumidity', '101'],
    ['roomC', '19 °C'],
    ['roomC', '90'],
  ] as const)('in %s %s is none, and the field is named', (field, text) => {
    expect(readTyping({ ...AS_IT_IS, [field]: text }, CARD)).toEqual({ ok: false, field });
  });

  test('is in the unit of the viewer', () => {
    sayIn('F');
    expect(readTyping({ ...AS_IT_IS, roomC: '68' }, CARD)).toEqual({ ok: true, change: { roomC: 20 } });
  });
});
