/**
 * One value of a line with what was said about it, and what its words and its unit make of it. Lines of text and lines
 * of JSON come together here. Judges words, and values only by what they show on the line itself.
 */
import type { What } from '../record/format.ts';
import type { Role } from '../record/command.ts';
import type { ElectricUnit } from '../record/sensor.ts';
import type { Channel, LineReading } from './channel.ts';
import { electricOfLabel } from './electric.ts';
import type { Figures } from './figures.ts';
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
  /** Digits behind the mark, as written. */
  readonly decimals: number;
  /** null: nobody can tell how it was written. */
  readonly figures: Figures | null;
  readonly scale: Scale | null;
  /** Another quantity, by its unit. */
  readonly other: boolean;
  /** and this one, where it may be what a sensor gives. */
  readonly electric: ElectricUnit | null;
}

/** Digits behind the decimal mark of a number as written. */
export function decimalsOf(text: string): number {
  return /[.,](\d+)/.exec(text)?.[1]?.length ?? 0;
}

/** A place whose number is missing: an empty cell, a fault. */
export function emptyEntry(label: string): Entry {
  const nothing = { value: null, whole: false, decimals: 0, figures: null, scale: null, other: false, electric: null };
  return { label, marked: true, ...nothing };
}

/** A date or a time of day. */
export function timeEntry(label: string): Entry {
  return { ...emptyEntry(label), other: true };
}

/** What label and unit say of a value; `open`: nothing, and the values of a while have to tell. */
export type Said = 'temperature' | 'other' | 'open';

export function saidOf(entry: Entry, beside: readonly Entry[]): Said {
  const { label, scale, other } = entry;
  if (other || isOtherLabel(label)) return 'other';
  if (scale !== null) return 'temperature';
  if (label === '') return 'open';
  if (label === 't' && beside.some((each) => each.label !== 't' && isClearLabel(each.label))) return 'other';
  return isBelievable(entry) && isKnownLabel(label) ? 'temperature' : 'open';
}

/** What a line by itself makes of its values. */
export function whatsAlone(entries: readonly Entry[]): What[] {
  return entries.map((entry, at) => {
    if (saidOf(entry, entries) === 'other') return 'other';
    if (entry.label === '' && entry.scale === null && isCounter(entry, entries)) return 'count';
    if (isTwin(entry, at, entries)) return 'same';
    return entry.value !== null && !isBelievable(entry) ? 'raw' : 'temperature';
  });
}

/** Those entries of a lone line that are temperatures; null where there is none. */
export function readingOf(entries: readonly Entry[]): LineReading | null {
  return entries.some(isStrayText) ? null : readingBy(entries, whatsAlone(entries), null, {});
}

/**
 * The temperatures among the values, each under its key. `scales`: of those that come without a unit; null: as their labels say. A
 * value that is none is one all the same where `roles`, which a person gave, knows its key (`otherKey`).
 */
export function readingBy(
  entries: readonly Entry[],
  whats: readonly What[],
  scales: readonly Scale[] | null,
  roles: Readonly<Record<string, Role>>,
): LineReading | null {
  return placedReadingBy(entries, whats, scales, roles)?.reading ?? null;
}

/** The same, and for each channel its place among the values. */
export function placedReadingBy(
  entries: readonly Entry[],
  whats: readonly What[],
  scales: readonly Scale[] | null,
  roles: Readonly<Record<string, Role>>,
): { readonly reading: Extract<LineReading, { ok: true }>; readonly ats: readonly number[] } | null {
  const channels: Channel[] = [];
  const ats: number[] = [];
  const { keys, places } = keysOf(entries, whats, roles, scales === null);
  for (const [at, entry] of entries.entries()) {
    const key = keys[at]!;
    const isUsed = whats[at] === 'temperature' || (Object.hasOwn(roles, key) && places.includes(key));
    const channel = isUsed ? channelOf(entry, key, whats[at]!, scales?.[at]) : null;
    if (channel === null) continue;
    channels.push(channel);
    ats.push(at);
  }
  return channels.length > 0 ? { reading: { ok: true, channels, places }, ats } : null;
}

/** What a value gives under its key; null: no number. `scale`: of one that comes without a unit. */
export function channelOf(entry: Entry, key: string, what: What, scale: Scale | undefined): Channel | null {
  const electric = what === 'temperature' ? null : electricOf(entry);
  const number = electric === null ? valueC(entry, scale) : entry.value;
  if (number === null) return null;
  return electric === null ? { key, valueC: number } : { key, valueC: number, electric };
}

/** In what a value is counted that a sensor may have given; null: in degrees, or in nothing that is said. */
export function electricOf({ electric, scale, label }: Entry): ElectricUnit | null {
  return electric ?? (scale === null ? electricOfLabel(label) : null);
}

/** °C; null where there is no number. `scale`: of a value that comes without a unit and without a label that names one. */
export function valueC(entry: Entry, scale: Scale | undefined): number | null {
  return entry.value === null ? null : celsius(entry.value, scaleSaid(entry) ?? scale ?? 'C');
}

/**
 * The key of each value, and those among them that stand for places of temperatures, in order. One that a person named by its place among all
 * values keeps that key, whatever it turns out to be. `isAlone`: nothing but this line is known.
 */
export function keysOf(
  entries: readonly Entry[],
  whats: readonly What[],
  roles: Readonly<Record<string, Role>>,
  isAlone: boolean,
): { readonly keys: readonly string[]; readonly places: readonly string[] } {
  const places: string[] = [];
  const keys = entries.map(({ label }, at) => {
    const isPlace = takesPlace(whats[at], label, places.length, isAlone);
    const own = otherKey(label, at);
    const isOwn = !isPlace || (label === '' && Object.hasOwn(roles, own));
    const key = isOwn ? own : placeKey(label, places);
    if (isPlace || (Object.hasOwn(roles, key) && !places.includes(key))) places.push(key);
    return key;
  });
  return { keys, places };
}

/**
 * The keys under which a person may name the values of a line as long as nothing but this line is known: by their place among all values where a
 * while of lines may show that one before them is no temperature. `keys`: as `keysOf` has them.
 */
export function lastingKeys(entries: readonly Entry[], keys: readonly string[]): readonly string[] {
  const isOpen = entries.some((entry) => entry.label === '' && saidOf(entry, entries) === 'open');
  if (entries.length === 1 || !isOpen) return keys;
  return entries.map(({ label }, at) => (label === '' ? otherKey(label, at) : keys[at]!));
}

/**
 * What may be a temperature another day is counted among the places, so that the others keep their keys: without a label what stands still
 * behind another; of a lone line whatever it could not believe.
 */
function takesPlace(what: What | undefined, label: string, before: number, isAlone: boolean): boolean {
  if (what === 'temperature') return true;
  return label === '' ? what === 'constant' && before > 0 : isAlone && what === 'raw';
}

/** The key of a value that is no temperature: its label, or its place among all values of the line. */
export function otherKey(label: string, at: number): string {
  return label === '' ? `#${at + 1}` : label.toLowerCase();
}

function placeKey(label: string, taken: readonly string[]): string {
  return freeKey(label === '' ? String(taken.length + 1) : label.toLowerCase(), taken);
}

/**
 * The same temperature on another scale as a value beside it; both scales must be said. °C is kept, but for a value without a label
 * behind one that has one: `Heat index: 23.7 C 74.6 F` says one thing, whatever that is.
 */
function isTwin(entry: Entry, at: number, entries: readonly Entry[]): boolean {
  const before = entries[at - 1];
  if (before !== undefined && isAppended(entry, before)) return true;
  if (scaleMeant(entry) === 'C') return false;
  return entries.some((other, place) => {
    const isBehind = place === at + 1 && isAppended(other, entry);
    return place !== at && !isBehind && scaleMeant(other) === 'C' && isSameOnScales(entry, other);
  });
}

function isAppended(entry: Entry, before: Entry): boolean {
  return entry.label === '' && before.label !== '' && isSameOnScales(entry, before);
}

export function scaleSaid({ scale, label }: Entry): Scale | null {
  return scale ?? scaleOfLabel(label);
}

/** A label that means a temperature and names no scale means °C. */
function scaleMeant(entry: Entry): Scale | null {
  return scaleSaid(entry) ?? (isKnownLabel(entry.label) ? 'C' : null);
}

function isSameOnScales(a: Entry, b: Entry): boolean {
  const [scaleA, scaleB] = [scaleMeant(a), scaleMeant(b)];
  if (scaleA === null || scaleB === null || scaleA === scaleB || a.value === null || b.value === null) return false;
  const apartC = Math.abs(celsius(a.value, scaleA) - celsius(b.value, scaleB));
  return apartC <= roundingC(a.decimals, scaleA) + roundingC(b.decimals, scaleB);
}

/** Half of the last digit written, °C, and a little for the arithmetic of small boards. */
export function roundingC(decimals: number, scale: Scale): number {
  return (0.5 * 10 ** -decimals + 0.001) * (scale === 'F' ? 5 / 9 : 1);
}

/** A number after words that nothing marks as a label: a sentence with a number in it, most likely. */
export function isStrayText({ label, marked, value, whole, scale, other }: Entry): boolean {
  if (value === null || marked || label === '' || other || scale !== null || isOtherLabel(label)) return false;
  return !isKnownLabel(label) || (whole && !isClearLabel(label));
}

/** A marked label that we don't know, with a whole number and no unit, may be any setting or count. */
function isBelievable({ label, whole, scale }: Entry): boolean {
  const isPlace = label === '' || /^[\d.]+$/.test(label);
  return !whole || isPlace || scale !== null || scaleOfLabel(label) !== null || isKnownLabel(label);
}

/** Unlabelled whole numbers from here on, beside other values, are counters or milliseconds. Ours. */
const COUNTER_FROM = 1000;

function isCounter({ value, whole }: Entry, beside: readonly Entry[]): boolean {
  return beside.length > 1 && whole && value !== null && value >= COUNTER_FROM && sentinelReason(value) === null;
}

/** Two equal labels in a line: the second is called `t 2`. */
function freeKey(wanted: string, taken: readonly string[]): string {
  let key = wanted;
  for (let next = 2; taken.includes(key); next += 1) key = `${wanted} ${next}`;
  return key;
}
