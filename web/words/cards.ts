/** What the card of a run says: its fields, its form, and who changed what. */
import { CARD_RANGE } from '../cards.ts';
import type { NumberField, TypedField, TypingRule } from '../cards.ts';
import { inLanguage } from './language.ts';
import { marked, unitName } from './manner.ts';
import { bound } from './measure.ts';
import { NOTE_TIME } from './notes.ts';

export const CARD = inLanguage({
  en: {
    title: 'Card',
    of: (name: string) => `Card: ${name}`,
    fetching: 'Fetching it.',
    empty: 'Nothing is written on it yet.',
    write: 'Write on it',
    keep: 'Keep it',
    leave: 'Leave it as it was',
    by: 'Who writes this',
    noNumber: (field: string, least: string, most: string) => `${field}: a number from ${least} to ${most} is wanted.`,
    history: 'Who changed what',
    somebody: 'Somebody',
    changed: (what: string, value: string) => `${what}: ${value}`,
    cleared: (what: string) => `${what}: taken off`,
    and: '; ',
    kg: (figure: string) => `${figure} kg`,
    percent: (figure: string) => `${figure} %`,
    other: { setting: 'Setting', outcome: 'Outcome' },
    written: 'written down',
  },
});

const FIELDS = inLanguage<Readonly<Record<TypedField, string>>>({
  en: {
    name: 'What this run is called',
    centre: 'What was coated',
    lot: 'Lot number',
    kg: 'Chocolate, kg',
    tags: 'Tags, with commas between',
    allergens: 'Allergens',
    roomC: 'Room',
    roomHumidity: 'Humidity of the room, %',
    signedBy: 'Signed by',
  },
});

/** What a field is called in the form; a temperature with the unit it is typed in. */
export function fieldName(field: TypedField): string {
  return field === 'roomC' ? `${FIELDS.roomC}, ${unitName()}` : FIELDS[field];
}

/** Why what was typed in a field can't stand on a card. */
export function slipWords(field: TypedField, rule: TypingRule): string {
  if (rule === 'tag-long') return NOTE_TIME.tagFault.long;
  if (rule === 'tag-many') return NOTE_TIME.tagFault.many;
  const range = CARD_RANGE[field as NumberField];
  const figure = field === 'roomC' ? bound : (value: number): string => marked(String(value));
  return CARD.noNumber(fieldName(field), figure(range[0]), figure(range[1]));
}

/** The same beside its value, which brings the unit. */
export const FIELD_SHORT = inLanguage<Readonly<Record<TypedField, string>>>({
  en: {
    name: 'Called',
    centre: 'Coated',
    lot: 'Lot',
    kg: 'Chocolate',
    tags: 'Tags',
    allergens: 'Allergens',
    roomC: 'Room',
    roomHumidity: 'Humidity',
    signedBy: 'Signed by',
  },
});
