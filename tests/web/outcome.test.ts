/** The outcome form read, and the judgings that a card has seen. */
import { expect, test } from 'vitest';
import type { Outcome } from '../../server/core/record/card.ts';
import { cardChangeShape } from '../../server/core/record/card.ts';
import { CHOICE_FIELDS, judgingsOf, readOutcome, SEEN_FIELDS, tickedOf, UNLOOKED } from '../../web/outcome.ts';
import { OUTCOME_CHOICES } from '../../web/words/outcome.ts';
import { NOT_LOOKED_AT } from '../support/outcomes.ts';

const FOUND: Outcome = {
  verdict: 'usable',
  gloss: 'dull',
  snap: null,
  release: 'by-itself',
  streaks: true,
  fatBloom: false,
  sugarBloom: null,
  soft: null,
  words: 'thin feet',
};

/** A form in which this is ticked, as a browser gives it. */
function form(ticked: Readonly<Record<string, string>>) {
  return (field: string): string => ticked[field] ?? (field === 'words' || field === 'verdict' ? '' : UNLOOKED);
}

test('what nobody ticked was not looked at; a verdict is wanted', () => {
  expect(readOutcome(form({ verdict: 'good' }))).toEqual({
    ...NOT_LOOKED_AT,
    verdict: 'good',
  });
  expect(readOutcome(form({ gloss: 'dull' }))).toBeNull();
});

test('an outcome put into the form comes out of it again', () => {
  const fields = [...CHOICE_FIELDS, ...SEEN_FIELDS].map((field) => [field, tickedOf(FOUND, field)] as const);
  expect(readOutcome(form({ ...Object.fromEntries(fields), words: ' thin feet ' }))).toEqual(FOUND);
});

test('nothing judged yet leaves the verdict open and all else not looked at', () => {
  expect(tickedOf(null, 'verdict')).toBe('');
  expect(tickedOf(null, 'gloss')).toBe(UNLOOKED);
});

test('every choice of the form is one that a card takes', () => {
  for (const field of CHOICE_FIELDS)
    for (const choice of Object.keys(OUTCOME_CHOICES[field])) {
      const outcome = readOutcome(form({ verdict: 'good', [field]: choice }));
      expect(outcome?.[field]).toBe(choice);
      expect(cardChangeShape.check({ outcome }, ''), `${field} ${choice}`).toBeNull();
    }
});

test('every judging is kept, the newest first', () => {
  const entry = { writtenAtWall: '2026-11-25T09:00:00.000Z', by: 'Ana' };
  const judged = judgingsOf([
    { ...entry, change: { lot: 'G-7' } },
    { ...entry, change: { outcome: FOUND } },
    { ...entry, by: 'Jo', change: { outcome: { ...FOUND, verdict: 'good' } } },
    { ...entry, change: { outcome: null } },
  ]);
  expect(judged.map(({ outcome, by }) => [outcome?.verdict, by])).toEqual([
    [undefined, 'Ana'],
    ['good', 'Jo'],
    ['usable', 'Ana'],
  ]);
});
