/**
 * What each place of like lines is, over a while. Labels and units come first; the values tell only where these say nothing. A value that
 * cannot be told from a temperature is one, a lone one always.
 */
import type { Between, Column, What } from '../record/format.ts';
import { type Entry, roundingC, saidOf, scaleSaid } from './entry.ts';
import { celsius, type Scale } from './scale.ts';
import { sentinelReason } from './sentinel.ts';
import { isCount, isFastClock, isJumpy, type Sample, slowClock, spread } from './series.ts';
import { scaleOfLabel } from './words.ts';

/** A line of the group: its values, in the order of their places. */
export interface Row {
  readonly atMs: number;
  readonly entries: readonly Entry[];
}

export type Columns =
  | { readonly kind: 'sure'; readonly columns: readonly Column[]; readonly asks: boolean }
  /** Some more lines will tell. */
  | { readonly kind: 'wait' }
  /** None of the values is a temperature. */
  | { readonly kind: 'none' };

/** What is not sure after this is taken as it looks, or asked; ms. Ours. */
export const PATIENCE_MS = 20_000;
/** A place with fewer values than this in the group says nothing: it counts as a place all the same. */
const FEW = 3;
/** Nothing near a bowl is outside of this, °C (ours: a freezer, a sugar thermometer). */
const COLDEST_C = -50;
const HOTTEST_C = 200;
/** Whole numbers beside decimals that may be a coarse thermometer all the same, °C. Ours. */
const COARSE_C = [10, 120] as const;
/** A value that stays the same while another has gone through so many of its last digits stands still. Ours. */
const DIGITS_MOVED = 8;

export function columnsOf(rows: readonly Row[], between: Between): Columns {
  const places = placesOf(rows);
  const whats = places.map(whatSaid);
  const isNamed = whats.includes('temperature');
  for (const [at, place] of places.entries()) if (whats[at] === null) whats[at] = whatShown(place, places.length);
  markTwins(places, whats);
  if (isNamed) {
    const asks = between === 'blank' && hasLookAlikeBefore(places, whats);
    return sure(
      places,
      whats.map((what, at) => (places[at]!.said === 'open' && what === 'temperature' ? 'raw' : what)),
      asks,
    );
  }
  return byValues(rows, places, whats);
}

/** One place over the group. */
interface Place {
  readonly entries: readonly Entry[];
  readonly said: 'temperature' | 'other' | 'open';
  readonly label: string;
  readonly samples: readonly Sample[];
  /** Written without decimals throughout. */
  readonly whole: boolean;
  readonly decimals: number;
}

function placesOf(rows: readonly Row[]): Place[] {
  return rows[0]!.entries.map((first, at) => {
    const entries = rows.map((row) => row.entries[at]!);
    const said = rows.map((row) => saidOf(row.entries[at]!, row.entries));
    const samples = rows.flatMap(({ atMs, entries: all }) => {
      const { value, decimals } = all[at]!;
      return value === null || sentinelReason(value) !== null ? [] : [{ atMs, value, decimals }];
    });
    const decimals = Math.max(0, ...samples.map((sample) => sample.decimals));
    return {
      entries,
      said: said.includes('other') ? 'other' : said.includes('temperature') ? 'temperature' : 'open',
      label: first.label.toLowerCase(),
      samples,
      whole: decimals === 0,
      decimals,
    };
  });
}

/** null: nothing was said. `t` stands for time as often as for temperature. */
function whatSaid({ said, label, samples, entries }: Place): What | null {
  if (said === 'open') return null;
  if (said === 'other') return entries.every(({ value }) => value === null) ? 'time' : 'other';
  return label === 't' && samples.length >= FEW && isFastClock(samples) ? 'time' : 'temperature';
}

/** What the values show by themselves; `temperature`: nothing speaks against it. */
function whatShown({ samples, whole, label }: Place, places: number): What {
  if (samples.length < FEW) return label === '' ? 'temperature' : 'raw';
  if (isFastClock(samples)) return 'time';
  if (isCount(samples)) return 'count';
  if (places === 1 && label === '') return 'temperature';
  const outside = samples.filter(({ value }) => value < COLDEST_C || value > HOTTEST_C);
  if (outside.length > samples.length / 2) return 'raw';
  if (label !== '' && whole) return 'raw';
  return isJumpy(samples) ? 'raw' : 'temperature';
}

/** Pairs that are one temperature on two scales in every line: the one in °C is kept. */
function markTwins(places: readonly Place[], whats: (What | null)[]): void {
  for (const [at, place] of places.entries()) {
    if (whats[at] === 'time' || whats[at] === 'count' || place.samples.length < FEW) continue;
    const scale = place.entries.map(scaleSaid).find((each) => each !== null) ?? null;
    if (scale === 'C') continue;
    const scales: readonly Scale[] = scale === null ? ['F', 'K'] : [scale];
    const isTwin = (other: Place) => scales.some((each) => isSame(place, each, other));
    if (places.some((other, i) => i !== at && (scale !== null || tellsScales(place, other)) && isTwin(other)))
      whats[at] = 'same';
  }
}

/** Without a word about scales whole numbers fit too easily, the more so if they never move. */
function tellsScales(place: Place, other: Place): boolean {
  return !other.whole || (spread(place.samples) > 0 && spread(other.samples) > 0);
}

function isSame(place: Place, scale: Scale, other: Place): boolean {
  let pairs = 0;
  for (const [row, { value, decimals }] of place.entries.entries()) {
    const beside = other.entries[row]!;
    if (value === null || beside.value === null) continue;
    if ((scaleSaid(beside) ?? 'C') !== 'C') return false;
    const apartC = Math.abs(celsius(value, scale) - beside.value);
    if (apartC > roundingC(decimals, scale) + roundingC(beside.decimals, 'C')) return false;
    pairs += 1;
  }
  return pairs >= FEW;
}

/** `45.2 31.4 C`: one unit for both, or for the second? Before a value that has one stands another that looks like it. */
function hasLookAlikeBefore(places: readonly Place[], whats: readonly (What | null)[]): boolean {
  const named = places.findIndex((place, at) => whats[at] === 'temperature' && place.said === 'temperature');
  return places.some(
    (place, at) =>
      at < named && place.label === '' && place.said === 'open' && whats[at] === 'temperature' && !place.whole,
  );
}

/** Nothing is named: which of the values look like temperatures, and which of them stand still. */
function byValues(rows: readonly Row[], places: readonly Place[], whats: readonly (What | null)[]): Columns {
  const final = [...whats];
  const isLong = rows.at(-1)!.atMs - rows[0]!.atMs >= PATIENCE_MS;
  const candidates = () => places.flatMap((place, at) => (final[at] === 'temperature' ? [{ place, at }] : []));
  const withDecimals = candidates().filter(({ place }) => !place.whole);
  if (withDecimals.length > 0) {
    for (const { place, at } of candidates())
      if (place.whole && place.samples.length >= FEW && !isCoarse(place, at, withDecimals[0]!.at)) {
        final[at] = spread(place.samples) === 0 ? 'constant' : 'raw';
      }
  }
  // The last value with decimals is the temperature, however steadily it goes.
  for (const { place, at } of candidates().filter((each) => !each.place.whole)) {
    const clock = slowClock(place.samples);
    if (clock === 'no' || candidates().filter((each) => !each.place.whole).length < 2) continue;
    if (clock === 'perhaps') return { kind: 'wait' };
    final[at] = 'time';
  }
  const still = candidates().filter(({ place }) => place.samples.length >= FEW && spread(place.samples) === 0);
  const moved = candidates().filter(({ place }) => place.samples.length >= FEW && spread(place.samples) > 0);
  const asksWhich = still.length > 0 && candidates().length > 1 && !showsStillness(still[0]!.at, moved);
  if (asksWhich && !isLong) return { kind: 'wait' };
  if (!asksWhich && moved.length > 0) for (const { at } of still) final[at] = 'constant';
  const left = candidates();
  if (left.length === 0) return { kind: 'none' };
  const isMixed = left[0]!.place.whole && left.some(({ place }) => !place.whole);
  if (isMixed && !isLong) return { kind: 'wait' };
  return sure(places, final, asksWhich || isMixed);
}

/** What stands still behind the first value that moves changes no key; before it, another must have moved far meanwhile. */
function showsStillness(firstStill: number, moved: readonly { readonly place: Place; readonly at: number }[]): boolean {
  if (moved.length === 0) return false;
  return (
    firstStill > moved[0]!.at ||
    moved.some(({ place }) => spread(place.samples) >= (DIGITS_MOVED - 0.5) * 10 ** -place.decimals)
  );
}

/** Whole numbers before the first decimals that move like a temperature: a coarse thermometer, or a percentage. */
function isCoarse({ samples }: Place, at: number, firstDecimals: number): boolean {
  const inside = samples.every(({ value }) => value >= COARSE_C[0] && value <= COARSE_C[1]);
  return at < firstDecimals && inside && spread(samples) > 0;
}

function sure(places: readonly Place[], whats: readonly (What | null)[], asks: boolean): Columns {
  const columns = places.map(({ label, entries }, at): Column => {
    const scale = entries.map(scaleSaid).find((each) => each !== null) ?? scaleOfLabel(label) ?? 'C';
    return { label, what: whats[at] ?? 'raw', scale };
  });
  return columns.some(({ what }) => what === 'temperature') ? { kind: 'sure', columns, asks } : { kind: 'none' };
}
