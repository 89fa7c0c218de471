/** The outcome form read: what was ticked and written becomes an outcome, or says what is still wanted. Pure. */
import type { CardEntry, Outcome } from '../server/core/record/card.ts';
import { OUTCOME_CHOICES, SEEN_CHOICES } from './words/outcome.ts';

/** Choices that are one of a few words, and those that are seen or not. */
export const CHOICE_FIELDS = ['verdict', 'gloss', 'snap', 'release'] as const;
export const SEEN_FIELDS = ['streaks', 'fatBloom', 'sugarBloom', 'soft'] as const;
export type ChoiceField = (typeof CHOICE_FIELDS)[number];
export type SeenField = (typeof SEEN_FIELDS)[number];

/** Stands for "not looked at" in the form. */
export const UNLOOKED = 'not';

/** Longest own words, characters (`core/record/card.ts`). */
export const WORDS_MAX_CHARS = 2_000;

/** What the form holds, by field; null: no verdict yet. `valueOf` gives what is ticked or written there. */
export function readOutcome(valueOf: (field: ChoiceField | SeenField | 'words') => string): Outcome | null {
  const choiceOf = <Choice extends string>(field: ChoiceField, choices: Readonly<Record<Choice, string>>) =>
    (Object.keys(choices) as Choice[]).find((choice) => choice === valueOf(field)) ?? null;
  const seenOf = (field: SeenField): boolean | null => {
    const value = valueOf(field);
    return Object.hasOwn(SEEN_CHOICES, value) ? value === 'yes' : null;
  };
  const verdict = choiceOf('verdict', OUTCOME_CHOICES.verdict);
  if (verdict === null) return null;
  const words = valueOf('words').trim();
  return {
    verdict,
    gloss: choiceOf('gloss', OUTCOME_CHOICES.gloss),
    snap: choiceOf('snap', OUTCOME_CHOICES.snap),
    release: choiceOf('release', OUTCOME_CHOICES.release),
    streaks: seenOf('streaks'),
    fatBloom: seenOf('fatBloom'),
    sugarBloom: seenOf('sugarBloom'),
    soft: seenOf('soft'),
    words: words === '' ? null : words,
  };
}

/** What stands ticked in the form for an outcome, or for none. */
export function tickedOf(outcome: Outcome | null, field: ChoiceField | SeenField): string {
  const value = outcome?.[field] ?? null;
  if (value === null) return field === 'verdict' ? '' : UNLOOKED;
  return typeof value === 'boolean' ? (value ? 'yes' : 'no') : value;
}

export interface Judging {
  /** null: the outcome was taken back. */
  readonly outcome: Outcome | null;
  readonly writtenAtWall: string;
  readonly by: string | null;
}

/** Every judging of a run, newest first. */
export function judgingsOf(entries: readonly CardEntry[]): readonly Judging[] {
  return entries
    .flatMap(({ change, writtenAtWall, by }) =>
      change.outcome === undefined ? [] : [{ outcome: change.outcome, writtenAtWall, by }],
    )
    .toReversed();
}
