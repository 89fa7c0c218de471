/**
 * One value of a line with what was said about it, and the judgement whether that makes it a temperature. Lines of text and lines
 * of JSON come together here. Judges words, not values: an absurd temperature is still one.
 */
import type { Channel, LineReading } from './channel.ts';
import { celsius, type Scale } from './scale.ts';
import { sentinelReason } from './sentinel.ts';
import { isClearLabel, isKnownLabel, isOtherLabel, scaleOfLabel } from './words.ts';

export interface Entry {
  /** As written; empty where there is none. */
  readonly label: string;
  /** A colon, an equals sign or a cell of its own tells the label from the value. */
  readonly marked: boolean;
  /** null: no number here, but a place taken. */
  readonly value: number | null;
  /** Written without decimals. */
  readonly whole: boolean;
  readonly scale: Scale | null;
  /** Another quantity, by its unit. */
  readonly other: boolean;
}

/** A place whose number is missing: an empty cell, a fault. */
export function emptyEntry(label: string): Entry {
  return { label, marked: true, value: null, whole: false, scale: null, other: false };
}

/** A date or a time of day. */
export function timeEntry(label: string): Entry {
  return { ...emptyEntry(label), other: true };
}

/** Unlabelled whole numbers from here on, beside other values, are counters or milliseconds. Ours. */
const COUNTER_FROM = 1000;

/** Those entries that are temperatures; null where there is none, or where the line is rather a sentence. */
export function readingOf(entries: readonly Entry[]): LineReading | null {
  if (entries.some(isStrayText)) return null;
  const channels: Channel[] = [];
  const places: string[] = [];
  for (const entry of entries) {
    if (isOtherQuantity(entry, entries)) continue;
    const key = freeKey(entry.label === '' ? String(places.length + 1) : entry.label.toLowerCase(), places);
    places.push(key);
    if (entry.value === null || !isBelievable(entry)) continue;
    const scale = entry.scale ?? scaleOfLabel(entry.label) ?? 'C';
    channels.push({ key, valueC: celsius(entry.value, scale) });
  }
  return channels.length > 0 ? { ok: true, channels, places } : null;
}

/** A number after words that nothing marks as a label: a sentence with a number in it, most likely. */
function isStrayText({ label, marked, value, whole, scale, other }: Entry): boolean {
  if (value === null || marked || label === '' || other || scale !== null || isOtherLabel(label)) return false;
  return !isKnownLabel(label) || (whole && !isClearLabel(label));
}

function isOtherQuantity(entry: Entry, beside: readonly Entry[]): boolean {
  if (entry.other || isOtherLabel(entry.label)) return true;
  if (entry.scale !== null) return false;
  if (entry.label === '') return isCounter(entry, beside);
  return entry.label === 't' && beside.some(({ label }) => label !== 't' && isClearLabel(label));
}

/** A marked label that we don't know, with a whole number and no unit, may be any setting or count. */
function isBelievable({ label, whole, scale }: Entry): boolean {
  const isPlace = label === '' || /^[\d.]+$/.test(label);
  return !whole || isPlace || scale !== null || scaleOfLabel(label) !== null || isKnownLabel(label);
}

function isCounter({ value, whole }: Entry, beside: readonly Entry[]): boolean {
  return beside.length > 1 && whole && value !== null && value >= COUNTER_FROM && sentinelReason(value) === null;
}

/** Two equal labels in a line: the second is called `t 2`. */
function freeKey(wanted: string, taken: readonly string[]): string {
  let key = wanted;
  for (let next = 2; taken.includes(key); next += 1) key = `${wanted} ${next}`;
  return key;
}
