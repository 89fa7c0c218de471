/** What a person types on a card, read as what it means. */
import { afterEach, describe, expect, test } from 'vitest';
import type { Card } from '../../server/core/record/card.ts';
import { EMPTY_CARD } from '../../server/core/record/card.ts';
import { readTyping, TYPED, typedOf } from '../../web/cards.ts';
import type { Typing } from '../../web/cards.ts';
import { slipWords } from '../../web/words/cards.ts';
import { sayAsIn, sayIn } from '../../web/words/manner.ts';

afterEach(() => {
  sayIn('C');
  sayAsIn('en-US');
});

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
    expect(readTyping({ ...AS_IT_IS, [field]: text }, CARD)).toEqual({ ok: false, field, rule: 'number' });
  });

  test('is left alone where it says what stood there, however that was rounded for the viewer', () => {
    sayIn('F');
    const card = { ...CARD, roomC: 21.3 };
    const untouched = Object.fromEntries(TYPED.map((field) => [field, typedOf(field, card)])) as Typing;
    expect(untouched.roomC).toBe('70.3');
    expect(readTyping({ ...untouched, lot: 'G-8' }, card)).toEqual({ ok: true, change: { lot: 'G-8' } });
  });

  test.each([
    ['tag-long', 'x'.repeat(41)],
    ['tag-many', Array.from({ length: 21 }, (_, i) => `t${i}`).join(',')],
  ])('breaks the rule %s rather than being cut', (rule, tags) => {
    expect(readTyping({ ...AS_IT_IS, tags }, CARD)).toEqual({ ok: false, field: 'tags', rule });
  });

  test('is told what would have been right, in the unit and with the mark of the viewer', () => {
    sayAsIn('de-DE');
    expect(slipWords('kg', 'number')).toBe('Chocolate, kg: a number from 0,001 to 1000 is wanted.');
    expect(slipWords('roomHumidity', 'number')).toBe('Humidity of the room, %: a number from 0 to 100 is wanted.');
    sayIn('F');
    expect(slipWords('roomC', 'number')).toBe('Room, degrees Fahrenheit: a number from -4 to 140 is wanted.');
    expect(slipWords('tags', 'tag-long')).toBe('A tag has at most 40 characters.');
    expect(slipWords('tags', 'tag-many')).toBe('There is room for 20 tags.');
  });

  test('is in the unit of the viewer', () => {
    sayIn('F');
    expect(readTyping({ ...AS_IT_IS, roomC: '68' }, CARD)).toEqual({ ok: true, change: { roomC: 20 } });
  });
});
