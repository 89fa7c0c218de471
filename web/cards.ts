/** The card of a run as the page asks for it and changes it, and what a person types into it read as what it means. */
import type { Card, CardEntry } from '../server/core/record/card.ts';
import { ask, checked, hasFields } from './post.ts';
import type { Answer } from './post.ts';
import { typedNumber } from './room.ts';
import { fromUnit, inUnit } from './words/manner.ts';

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
export type TypedCard = Pick<Card, TypedField>;

/** What a card takes (`core/record/card.ts`): kg, per cent, °C. */
const KG = [0.001, 1_000] as const;
const PERCENT = [0, 100] as const;
const ROOM_C = [-20, 60] as const;

/** What was typed, by field. */
export type Typing = Readonly<Record<TypedField, string>>;

export type ReadTyping =
  | { readonly ok: true; readonly change: Partial<TypedCard> }
  /** The field in which no number could be read. */
  | { readonly ok: false; readonly field: TypedField };

/** What is different from the card now. An emptied field says nothing any more. */
export function readTyping(typing: Typing, now: TypedCard): ReadTyping {
  const change: Record<string, unknown> = {};
  for (const field of TYPED) {
    const value = readField(field, typing[field].trim());
    if (value === undefined) return { ok: false, field };
    if (JSON.stringify(value) !== JSON.stringify(now[field])) change[field] = value;
  }
  return { ok: true, change };
}

function readField(field: TypedField, text: string): TypedCard[TypedField] | undefined {
  switch (field) {
    case 'tags':
      return tagsOf(text);
    case 'kg':
      return numberOf(text, KG);
    case 'roomHumidity':
      return numberOf(text, PERCENT);
    case 'roomC': {
      const figure = numberOf(text, [inUnit(ROOM_C[0]), inUnit(ROOM_C[1])]);
      return typeof figure === 'number' ? Math.round(fromUnit(figure) * 100) / 100 : figure;
    }
    default:
      return text === '' ? null : text;
  }
}

/** Each once, in the order they were typed. */
function tagsOf(text: string): readonly string[] {
  const tags = text.split(',').map((tag) => tag.trim().replaceAll(/\s+/g, ' '));
  return [...new Set(tags.filter((tag) => tag !== ''))];
}

/** null: empty; undefined: no number that could be meant. */
function numberOf(text: string, range: readonly [number, number]): number | null | undefined {
  return text === '' ? null : (typedNumber(text, range) ?? undefined);
}
