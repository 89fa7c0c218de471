/**
 * Readings as compact binary columns, and back, without loss: a block is a stretch of readings in the order they came.
 * Pure: knows nothing of files, runs or minutes.
 *
 * Layout: version u8, rows u32, base time f64, then per column a width byte and its values (little endian).
 */
import type { RejectReason } from '../core/record/event.ts';
import type { Quality, Reading } from '../core/record/run.ts';
import type { Role } from '../core/record/command.ts';
import { QUALITY_CODE } from '../core/show/wire.ts';
import type { Tile } from '../core/show/wire.ts';

const LAYOUT_VERSION = 1;
export const HEADER_BYTES = 13;

/** Most rows in one piece (ours: a minute at 100 readings a second). Damaged bytes must not ask for more memory than that. */
export const MAX_ROWS = 6_000;

/** Times are kept as offsets from here after the first, so that those of a minute fit signed two-byte numbers. */
const MIDDLE_MS = 30_000;

/** Stored for good: numbers are only ever added, never reused. 0 stands for no reason. */
const REASON_CODE: Readonly<Record<RejectReason, number>> = {
  empty: 1,
  'no-number': 2,
  'not-a-temperature': 3,
  ambiguous: 4,
  'too-long': 5,
  'broken-json': 6,
  'device-fault': 7,
  'power-on-value': 8,
  sentinel: 9,
  implausible: 10,
  spike: 11,
  'not-the-bowl': 12,
  stuck: 13,
  unsure: 14,
  'bad-checksum': 15,
};
const ROLE_CODE: Readonly<Record<Role, number>> = { chocolate: 0, bath: 1, room: 2, ignored: 3 };

const REASONS = byCode(REASON_CODE);
const ROLES = byCode(ROLE_CODE);
const QUALITIES = byCode(QUALITY_CODE);

function byCode<K extends string>(codes: Readonly<Record<K, number>>): ReadonlyMap<number, K> {
  return new Map((Object.keys(codes) as K[]).map((key) => [codes[key], key]));
}

/** At most `MAX_ROWS` of them. Any finite values, any times, any order; a `NaN` estimate comes back as null. */
export function encodeReadings(readings: readonly Reading[]): Uint8Array {
  const baseMs = (readings[0]?.atMs ?? 0) + MIDDLE_MS;
  return encodeColumns(readings.length, baseMs, [
    readings.map((r) => r.atMs - baseMs),
    readings.map((r) => ROLE_CODE[r.role]),
    readings.map((r) => r.valueC),
    readings.map((r) => QUALITY_CODE[r.quality]),
    readings.map((r) => (r.reason === undefined ? 0 : REASON_CODE[r.reason])),
    readings.map((r) => r.estimateC),
  ]);
}

/** Throws a RangeError on bytes that no `encodeReadings` has written. */
export function decodeReadings(bytes: Uint8Array): Reading[] {
  const { baseMs, rows, columns } = decodeColumns(bytes, 6);
  const [offset, role, value, quality, reason, estimate] = columns;
  const readings: Reading[] = [];
  for (let i = 0; i < rows; i++) {
    const reading = {
      atMs: baseMs + given(offset![i]),
      role: known(ROLES, role![i]),
      valueC: given(value![i]),
      quality: known<Quality>(QUALITIES, quality![i]),
      estimateC: estimate![i] ?? null,
    };
    readings.push(reason![i] === 0 ? reading : { ...reading, reason: known(REASONS, reason![i]) });
  }
  return readings;
}

/** Moment of the first reading of a block, by its first `HEADER_BYTES`. Throws a RangeError on fewer. */
export function firstMsOf(head: Uint8Array): number {
  return baseMsOf(viewOf(head)) - MIDDLE_MS;
}

/** How many rows are in a piece, without decoding them. */
export function rowsIn(bytes: Uint8Array): number {
  return viewOf(bytes).getUint32(1, true);
}

/** Columns of a curve, oldest first, at most `MAX_ROWS`. */
export function encodeTiles(tiles: readonly Tile[]): Uint8Array {
  const baseMs = tiles[0]?.[0] ?? 0;
  return encodeColumns(tiles.length, baseMs, [
    tiles.map(([atMs]) => atMs - baseMs),
    tiles.map(([, lowC]) => lowC),
    tiles.map(([, , highC]) => highC),
    tiles.map(([, , , estimateC]) => estimateC),
  ]);
}

/** Throws a RangeError on bytes that no `encodeTiles` has written. */
export function decodeTiles(bytes: Uint8Array): Tile[] {
  const { baseMs, rows, columns } = decodeColumns(bytes, 4);
  const [offset, low, high, estimate] = columns;
  const tiles: Tile[] = [];
  for (let i = 0; i < rows; i++) {
    tiles.push([baseMs + given(offset![i]), low![i] ?? null, high![i] ?? null, estimate![i] ?? null]);
  }
  return tiles;
}

function given(value: number | null | undefined): number {
  if (value === null || value === undefined) throw new RangeError('a stored column lacks a value');
  return value;
}

function known<K>(names: ReadonlyMap<number, K>, code: number | null | undefined): K {
  const name = names.get(code ?? -1);
  if (name === undefined) throw new RangeError(`a stored column holds the unknown code ${code}`);
  return name;
}

type Column = readonly (number | null)[];

/** How a column's values are laid down: bytes per value (0: one value stands for all) and the factor that makes them whole. */
interface Width {
  readonly code: number;
  readonly bytes: 0 | 1 | 2 | 4 | 8;
  readonly scale: 1 | 100;
}

/** Narrowest first. */
const WIDTHS: readonly Width[] = [
  { code: 0x01, bytes: 1, scale: 1 },
  { code: 0x11, bytes: 1, scale: 100 },
  { code: 0x02, bytes: 2, scale: 1 },
  { code: 0x12, bytes: 2, scale: 100 },
  { code: 0x04, bytes: 4, scale: 1 },
  { code: 0x14, bytes: 4, scale: 100 },
];
const CONSTANT: Width = { code: 0x00, bytes: 0, scale: 1 };
const EXACT: Width = { code: 0x08, bytes: 8, scale: 1 };

function encodeColumns(rows: number, baseMs: number, columns: readonly Column[]): Uint8Array {
  const widths = columns.map(widthOf);
  const sizes = widths.map((width) => 1 + (width.bytes === 0 ? 8 : width.bytes * rows));
  const bytes = new Uint8Array(HEADER_BYTES + sizes.reduce((sum, size) => sum + size, 0));
  const view = new DataView(bytes.buffer);
  view.setUint8(0, LAYOUT_VERSION);
  view.setUint32(1, rows, true);
  view.setFloat64(5, baseMs, true);
  let at = HEADER_BYTES;
  columns.forEach((column, c) => {
    writeColumn(view, at, column, widths[c]!);
    at += sizes[c]!;
  });
  return bytes;
}

function widthOf(column: Column): Width {
  if (column.every((value) => Object.is(value, column[0]))) return CONSTANT;
  return WIDTHS.find((width) => fits(column, width)) ?? EXACT;
}

function fits(column: Column, { bytes, scale }: Width): boolean {
  const most = 2 ** (8 * bytes - 1);
  return column.every((value) => {
    if (value === null) return true;
    const whole = Math.round(value * scale);
    return whole / scale === value && Math.abs(whole) < most && !Object.is(value, -0);
  });
}

function writeColumn(view: DataView, at: number, column: Column, width: Width): void {
  view.setUint8(at, width.code);
  if (width.bytes === 0) return view.setFloat64(at + 1, column[0] ?? NaN, true);
  const { bytes } = width;
  const none = noneOf(bytes);
  column.forEach((value, row) => writeValue(view, at + 1 + row * bytes, value, width, none));
}

function writeValue(view: DataView, at: number, value: number | null, { bytes, scale }: Width, none: number): void {
  if (bytes === 8) return view.setFloat64(at, value ?? none, true);
  const whole = value === null ? none : Math.round(value * scale);
  if (bytes === 1) view.setInt8(at, whole);
  else if (bytes === 2) view.setInt16(at, whole, true);
  else view.setInt32(at, whole, true);
}

/** What stands for null: the lowest whole number of a width, `NaN` where there are fractions. */
function noneOf(bytes: Width['bytes']): number {
  return bytes === 0 || bytes === 8 ? NaN : -(2 ** (8 * bytes - 1));
}

interface Decoded {
  readonly baseMs: number;
  readonly rows: number;
  readonly columns: readonly Column[];
}

function decodeColumns(bytes: Uint8Array, count: number): Decoded {
  const view = viewOf(bytes);
  const version = view.getUint8(0);
  if (version !== LAYOUT_VERSION) throw new RangeError(`stored columns have the unknown layout ${version}`);
  const rows = view.getUint32(1, true);
  if (rows > MAX_ROWS) throw new RangeError(`stored columns claim ${rows} rows`);
  const columns: Column[] = [];
  for (let at = HEADER_BYTES; columns.length < count;) {
    const width = widthByCode(view.getUint8(at));
    columns.push(readColumn(view, at + 1, rows, width));
    at += 1 + (width.bytes === 0 ? 8 : width.bytes * rows);
  }
  return { baseMs: baseMsOf(view), rows, columns };
}

/** What a damaged file gives may be text or a number: a RangeError, as for all else that is not as it was written. */
function viewOf(bytes: unknown): DataView {
  if (!(bytes instanceof Uint8Array)) throw new RangeError('stored columns are no bytes');
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

function baseMsOf(view: DataView): number {
  return view.getFloat64(5, true);
}

const BY_CODE: ReadonlyMap<number, Width> = new Map([CONSTANT, EXACT, ...WIDTHS].map((width) => [width.code, width]));

function widthByCode(code: number): Width {
  const width = BY_CODE.get(code);
  if (width === undefined) throw new RangeError(`a stored column has the unknown width ${code}`);
  return width;
}

/** Plain loops: a list of ten thousand runs decodes millions of values. */
function readColumn(view: DataView, at: number, rows: number, { bytes, scale }: Width): Column {
  const column: (number | null)[] = [];
  const none = noneOf(bytes);
  for (let row = 0; row < rows; row++) {
    const value = readValue(view, at + row * bytes, bytes);
    column.push(value === none || Number.isNaN(value) ? null : value / scale);
  }
  return column;
}

function readValue(view: DataView, at: number, bytes: Width['bytes']): number {
  if (bytes === 2) return view.getInt16(at, true);
  if (bytes === 1) return view.getInt8(at);
  if (bytes === 4) return view.getInt32(at, true);
  return view.getFloat64(at, true);
}
