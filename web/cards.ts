/** The card of a run as the page asks for it and changes it, and what a person types into it read as what it means. */
import type { Card, CardEntry } from '../server/core/record/card.ts';
import { tagFault, tagLine, tagsOf } from './note-time.ts';
import { checked } from './fetched.ts';
import { ask, hasFields } from './post.ts';
import type { Answer } from './post.ts';
import { typedNumber } from './room.ts';
import { fromUnit, inUnit, marked } from './words/manner.ts';

export interface WholeCard {
  readonly card: Card;
  /** Every change, oldest first. */
  readonly entries: readonly CardEntry[];
  /** The server's clock as it answered, ISO 8601. */
  readonly atWall: string;
}

export async function fetchCard(run: string): Promise<Answer<WholeCard>> {
  return checked(await ask(pathOf(run)), isWholeCard);
}

/** The fields named take the place of what they were. `by`: who says so; null: nobody in particular. */
export async function postCard(run: string, change: Partial<Card>, by: string | null): Promise<Answer<WholeCard>> {
  return checked(await ask(pathOf(run), { change, by }), isWholeCard);
}

function pathOf(run: string): string {
  return `/api/runs/${encodeURIComponent(run)}/card`;
}

function isWholeCard(value: unknown): value is WholeCard {
  return hasFields<WholeCard>('card', 'entries', 'atWall')(value) && Array.isArray(value.entries);
}

/** What a person writes by hand on a card; setting and outcome have forms of their own. */
export const TYPED = ['name', 'centre', 'lot', 'kg', 'tags', 'allergens', 'roomC', 'roomHumidity', 'signedBy'] as const;
export type TypedField = (typeof TYPED)[number];
type TypedCard = Pick<Card, TypedField>;

/** What a card takes of numbers (`core/record/card.ts`): kg, °C, per cent. */
export const CARD_RANGE = { kg: [0.001, 1_000], roomC: [-20, 60], roomHumidity: [0, 100] } as const;
export type NumberField = keyof typeof CARD_RANGE;

/** What was typed, by field. */
export type Typing = Readonly<Record<TypedField, string>>;

/** What a field has to be that could not be read. */
export type TypingRule = 'number' | 'tag-long' | 'tag-many';

type ReadTyping =
  | { readonly ok: true; readonly change: Partial<TypedCard> }
  | { readonly ok: false; readonly field: TypedField; readonly rule: TypingRule };

/**
 * What is different from the card now. An emptied field says nothing any more; one that still says what stood there is left alone, for it
 * says so to a tenth only, in the unit of the viewer.
 */
export function readTyping(typing: Typing, now: TypedCard): ReadTyping {
  const change: Record<string, unknown> = {};
  for (const field of TYPED) {
    const text = typing[field].trim();
    if (text === typedOf(field, now).trim()) continue;
    const value = readField(field, text);
    if (typeof value === 'object' && value !== null && 'rule' in value) return { ok: false, field, rule: value.rule };
    if (JSON.stringify(value) !== JSON.stringify(now[field])) change[field] = value;
  }
  return { ok: true, change };
}

/** What stands on the card as a person would have typed it. */
export function typedOf(field: TypedField, card: TypedCard): string {
  const value = card[field];
  if (value === null) return '';
  if (field === 'tags') return tagLine(card.tags);
  if (field === 'roomC') return marked(String(Math.round(inUnit(Number(value)) * 10) / 10));
  return typeof value === 'number' ? marked(String(value)) : String(value);
}

interface Slip {
  readonly rule: TypingRule;
}

function readField(field: TypedField, text: string): TypedCard[TypedField] | Slip {
  if (text === '') return field === 'tags' ? [] : null;
  switch (field) {
    case 'tags':
      return readTags(text);
    case 'kg':
    case 'roomHumidity':
      return typedNumber(text, CARD_RANGE[field]) ?? { rule: 'number' };
    case 'roomC': {
      const figure = typedNumber(text, [inUnit(CARD_RANGE.roomC[0]), inUnit(CARD_RANGE.roomC[1])]);
      return figure === null ? { rule: 'number' } : Math.round(fromUnit(figure) * 100) / 100;
    }
    default:
      return text;
  }
}

function readTags(text: string): readonly string[] | Slip {
  const tags = tagsOf(text);
  const fault = tagFault(tags);
  return fault === null ? tags : { rule: `tag-${fault}` };
}
