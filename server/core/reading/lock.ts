/** From a while of lines to how the device writes: groups of like lines, and what each of their places is. */
import type { Format, LineKind } from '../record/format.ts';
import { BETWEEN_PLACES, LONGEST_SHAPE, MOST_KINDS } from '../record/format.ts';
import type { Apart } from './channel.ts';
import { columnsOf, type Row } from './columns.ts';
import { commasOver, isEnough } from './comma-window.ts';
import { type Entry, saidOf } from './entry.ts';
import { type Headings, headingsOf, named } from './headings.ts';
import { takeApart } from './line.ts';
import { takesTurns } from './series.ts';
import type { HeardLine } from './heard.ts';

export interface Judged {
  readonly format: Format | null;
  /** One number with a decimal comma, or two numbers: nothing tells, and a person has to. */
  readonly asksComma: boolean;
  /** How commas are to be read meanwhile; null: by each line alone. Undefined: not at all yet. */
  readonly decimalComma: boolean | null | undefined;
}

/** `said`: what a person said of commas; null: nothing. `least`: `said` where only kinds count that say themselves what they are. */
export function judged(lines: readonly HeardLine[], said: boolean | null, least: 'any' | 'said' = 'any'): Judged {
  const commas = said === null ? commasOver(lines) : said ? 'decimal' : 'separator';
  if (commas === 'wait' || commas === 'ask')
    return { format: null, asksComma: commas === 'ask', decimalComma: undefined };
  const decimalComma = commas === 'alone' ? null : commas === 'decimal';
  const kinds = kindsOf(lines, decimalComma, least);
  return { format: kinds === null ? null : { decimalComma, ...kinds }, asksComma: false, decimalComma };
}

interface Group {
  readonly shape: string;
  readonly rows: Row[];
  readonly between: LineKind['between'];
  /** Every value has a label, or a unit: several of them do not contradict each other. */
  readonly isNamed: boolean;
}

function kindsOf(
  lines: readonly HeardLine[],
  decimalComma: boolean | null,
  least: 'any' | 'said',
): Pick<Format, 'kinds' | 'asks'> | null {
  // Where all of them are not, no group of them is: most lines that come before a format is found are asked no more.
  if (!isEnough(lines)) return null;
  const kinds: LineKind[] = [];
  let asks = false;
  const groups = groupsOf(lines, decimalComma);
  const saidLines = Math.max(0, ...groups.filter(isSaid).map(({ rows }) => rows.length));
  for (const group of groups) {
    const { rows, shape, between, isNamed } = group;
    if (!isEnough(rows)) continue;
    if (shape.length > LONGEST_SHAPE || (!isSaid(group) && least === 'said')) continue;
    // Beside lines that say "temperature" no others are guessed at.
    if (!isSaid(group) && saidLines >= SAID_LEAST && saidLines >= SAID_SHARE * rows.length) continue;
    if (!isNamed && kinds.some((kind) => kind.columns.some(({ label }) => label === ''))) continue;
    if (rows[0]!.entries.length === 1 && !isNamed && takesTurns(samplesOf(rows))) continue;
    const columns = columnsOf(rows, between);
    if (columns.kind !== 'sure' || kinds.length === MOST_KINDS) continue;
    kinds.push({ shape, between, columns: columns.columns });
    asks ||= columns.asks;
  }
  return kinds.length === 0 ? null : { kinds, asks };
}

/** So many lines that say what they are, and so many for each of a kind that does not, keep the latter out (ours: a banner may say it once). */
const SAID_LEAST = 2;
const SAID_SHARE = 0.25;

function isSaid({ rows }: Group): boolean {
  const { entries } = rows.at(-1)!;
  return entries.some((entry) => saidOf(entry, entries) === 'temperature');
}

function groupsOf(lines: readonly HeardLine[], decimalComma: boolean | null): Group[] {
  const groups = new Map<string, Group>();
  let headings: Headings | null = null;
  for (const line of lines) {
    const apart = apartOf(line, decimalComma);
    if (!apart.ok) {
      headings = headingsIn(line) ?? headings;
      continue;
    }
    const entries = named(apart.entries, apart.between, headings);
    const shape = shapeHeard(apart.entries);
    const group = groups.get(shape);
    if (group === undefined) {
      const isNamed = entries.every(({ label, scale, other }) => label !== '' || scale !== null || other);
      groups.set(shape, { shape, between: apart.between, isNamed, rows: [{ atMs: line.atMs, entries }] });
    } else group.rows.push({ atMs: line.atMs, entries });
  }
  return [...groups.values()].toSorted(byWeight);
}

/** What comes most often first; of lines that take turns `T1` before `T2`, whichever was heard first. */
function byWeight(a: Group, b: Group): number {
  const [more, fewer] = [Math.max(a.rows.length, b.rows.length), Math.min(a.rows.length, b.rows.length)];
  if (more > 2 * fewer || a.shape === b.shape) return b.rows.length - a.rows.length;
  return a.shape < b.shape ? -1 : 1;
}

function samplesOf(rows: readonly Row[]) {
  return rows.flatMap(({ atMs, entries: [entry] }) =>
    entry === undefined || entry.value === null ? [] : [{ atMs, value: entry.value, decimals: entry.decimals }],
  );
}

/** What lines have in common that are alike: their labels, and what stands where there is none. */
export function shapeOf(entries: readonly Entry[]): string {
  return entries.map(placeIn).join(BETWEEN_PLACES);
}

const shaped = new WeakMap<readonly Entry[], string>();

/** The same of a line that stands in the window, where it is looked at many times. */
export function shapeHeard(entries: readonly Entry[]): string {
  let shape = shaped.get(entries);
  if (shape === undefined) shaped.set(entries, (shape = shapeOf(entries)));
  return shape;
}

/** Names of JSON may hold anything, also what stands between places: lines of one shape have as many values each. */
function placeIn({ label, other }: Entry): string {
  if (label === '') return other ? '%' : '#';
  return label.toLowerCase().replaceAll(BETWEEN_PLACES, '/');
}

/** The shape of a number and nothing else. */
export const BARE_SHAPE = '#';

const headed = new WeakMap<HeardLine, { readonly headings: Headings | null }>();

function headingsIn(line: HeardLine): Headings | null {
  const known = headed.get(line);
  if (known !== undefined) return known.headings;
  const headings = headingsOf(line.text);
  headed.set(line, { headings });
  return headings;
}

/** Lines taken apart already, by how commas were read. */
const taken = new WeakMap<HeardLine, Map<boolean | null, Apart>>();

export function apartOf(line: HeardLine, decimalComma: boolean | null): Apart {
  let byComma = taken.get(line);
  if (byComma === undefined) taken.set(line, (byComma = new Map()));
  let apart = byComma.get(decimalComma);
  if (apart === undefined) byComma.set(decimalComma, (apart = takeApart(line.text, decimalComma)));
  return apart;
}
