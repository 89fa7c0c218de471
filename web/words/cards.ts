/** What the card of a run says: its fields, its form, and who changed what. */
import type { TypedField } from '../cards.ts';
import { inLanguage } from './language.ts';
import { unitName } from './manner.ts';

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
    noNumber: (field: string) => `${field}: a number is wanted, such as 2.5.`,
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
