/**
 * Shapes of what stands in our files and requests: each can check a decoded JSON value, with an exact complaint, write it back in
 * one fixed key order, and describe itself as JSON Schema. Knows nothing of what the values mean.
 */

import { isMoment } from './calendar.ts';

/** What is wrong with a value: where it stands (`command.phase`), what it is (shortened), and the rule it breaks. */
export interface Complaint {
  readonly path: string;
  readonly value: string;
  readonly rule: string;
}

export interface Shape {
  /** null where the value fits. Recursion is as deep as the shape, whatever the value. */
  readonly check: (value: unknown, path: string) => Complaint | null;
  /** JSON text of a value that fits, always the same for the same value. */
  readonly write: (value: unknown) => string;
  /** The same as JSON Schema, draft 2020-12, for those who read our descriptions rather than our code. */
  readonly schema: JsonSchema;
  /** The key may be absent from its object. */
  readonly optional?: true;
}

/** A JSON Schema: an object of its keywords. */
export type JsonSchema = Readonly<Record<string, unknown>>;

/** One shape for each key of T, so that a key added to T and forgotten here does not compile. */
export type Fields<T> = { readonly [K in keyof Required<T>]: Shape };

/** How much of a wrong value is shown, characters (ours). */
const MAX_SHOWN_CHARS = 60;

/** The value as one short line of printable characters. */
export function shown(value: unknown): string {
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object' && value !== null) return 'an object';
  if (value === undefined) return 'missing';
  if (typeof value === 'number') return String(value);
  const text = JSON.stringify(value);
  return text.length > MAX_SHOWN_CHARS ? `${text.slice(0, MAX_SHOWN_CHARS)}…` : text;
}

/** The complaint as it ends a line on the terminal. */
export function complaintText(complaint: Complaint): string {
  const place = complaint.path === '' ? '' : `${complaint.path} `;
  return `${place}is ${complaint.value}: ${complaint.rule}`;
}

/** A value written by JSON itself, wanted to pass a test. */
function plain(rule: string, schema: JsonSchema, fits: (value: unknown) => boolean): Shape {
  return {
    check: (value, path) => (fits(value) ? null : { path, value: shown(value), rule }),
    write: (value) => JSON.stringify(value),
    schema,
  };
}

export const text: Shape = plain('text is wanted', { type: 'string' }, (value) => typeof value === 'string');
export const finite: Shape = plain('a number is wanted', { type: 'number' }, (value) => Number.isFinite(value));
export const whole: Shape = plain('a whole number is wanted', { type: 'integer' }, (value) =>
  Number.isSafeInteger(value),
);
export const flag: Shape = plain('true or false is wanted', { type: 'boolean' }, (value) => typeof value === 'boolean');

/** Text that is not only blanks, no longer than this many characters. */
export function textUpTo(most: number): Shape {
  return plain(
    `1 to ${most} characters are wanted`,
    { type: 'string', minLength: 1, ...(most === Infinity ? {} : { maxLength: most }), pattern: '\\S' },
    (value) => typeof value === 'string' && value.trim() !== '' && value.length <= most,
  );
}

/** Text no longer than this many characters; it may be empty. */
export function textOfAtMost(most: number): Shape {
  return plain(
    `text of at most ${most} characters is wanted`,
    { type: 'string', maxLength: most },
    (value) => typeof value === 'string' && value.length <= most,
  );
}

/** Text of one form; `rule` says it in words. */
export function textLike(form: RegExp, rule: string): Shape {
  return plain(
    rule,
    { type: 'string', pattern: form.source },
    (value) => typeof value === 'string' && form.test(value),
  );
}

/** A moment of the wall clock as we write it: ISO 8601 in UTC, to the millisecond. */
export const wallTime: Shape = plain(
  'a moment of the calendar such as 2026-11-25T14:02:00.000Z is wanted',
  { type: 'string', format: 'date-time' },
  (value) => typeof value === 'string' && isMoment(value),
);

/** A raw line: its characters are bytes. */
export const bytes: Shape = plain(
  'text of characters U+0000 to U+00FF is wanted, one for each byte',
  { type: 'string', pattern: '^[\\u0000-\\u00ff]*$' },
  // oxlint-disable-next-line no-control-regex -- control characters are bytes like any other here
  (value) => typeof value === 'string' && /^[\u0000-\u00ff]*$/.test(value),
);

export function wholeFrom(lowest: number): Shape {
  return plain(
    `a whole number from ${lowest} is wanted`,
    { type: 'integer', minimum: lowest },
    (v) => Number.isSafeInteger(v) && (v as number) >= lowest,
  );
}

/** A number between two bounds, both included. */
export function within(low: number, high: number): Shape {
  return plain(
    `a number from ${low} to ${high} is wanted`,
    { type: 'number', minimum: low, maximum: high },
    (v) => Number.isFinite(v) && low <= Number(v) && Number(v) <= high,
  );
}

/** The same for a whole number written out, as addresses carry it. */
export function wholeFromText(low: number, high: number): Shape {
  return plain(
    `a whole number from ${low} to ${high} is wanted`,
    { type: 'integer', minimum: low, maximum: high },
    (v) => typeof v === 'string' && /^-?\d{1,16}$/.test(v) && low <= Number(v) && Number(v) <= high,
  );
}

export function exactly(number: number): Shape {
  return plain(`${number} is wanted`, { const: number }, (value) => value === number);
}

export function oneOf(words: readonly string[]): Shape {
  return plain(`one of ${words.join(', ')} is wanted`, { enum: words }, (value) => words.includes(value as string));
}

export function orNull(shape: Shape): Shape {
  return {
    check: (value, path) => (value === null ? null : withAlternative(shape.check(value, path), 'or null')),
    write: (value) => (value === null ? 'null' : shape.write(value)),
    schema: { anyOf: [shape.schema, { type: 'null' }] },
  };
}

export function optional(shape: Shape): Shape {
  return { ...shape, optional: true };
}

function withAlternative(complaint: Complaint | null, alternative: string): Complaint | null {
  return complaint && { ...complaint, rule: `${complaint.rule}, ${alternative}` };
}

/** An object with these keys and no others, written in this order. */
export function object(fields: Readonly<Record<string, Shape>>): Shape {
  const shapes = new Map(Object.entries(fields));
  return {
    check: (value, path) => checkObject(shapes, value, path),
    write: (value) => `{${writeFields(shapes, value as Readonly<Record<string, unknown>>).join(',')}}`,
    schema: {
      type: 'object',
      properties: Object.fromEntries(Array.from(shapes, ([key, { schema }]) => [key, schema])),
      required: [...shapes].filter(([, shape]) => shape.optional !== true).map(([key]) => key),
      additionalProperties: false,
    },
  };
}

function checkObject(shapes: ReadonlyMap<string, Shape>, value: unknown, path: string): Complaint | null {
  if (!isObject(value)) return { path, value: shown(value), rule: 'an object is wanted' };
  for (const key of Object.keys(value)) {
    if (!shapes.has(key)) return { path: inside(path, key), value: shown(value[key]), rule: 'there is no such key' };
  }
  for (const [key, shape] of shapes) {
    const field = Object.hasOwn(value, key) ? value[key] : undefined;
    if (field === undefined && shape.optional) continue;
    const complaint = shape.check(field, inside(path, key));
    if (complaint) return complaint;
  }
  return null;
}

function writeFields(shapes: ReadonlyMap<string, Shape>, value: Readonly<Record<string, unknown>>): string[] {
  const written: string[] = [];
  for (const [key, shape] of shapes) {
    const field = value[key];
    if (field !== undefined) written.push(`${JSON.stringify(key)}:${shape.write(field)}`);
  }
  return written;
}

/** An object with any keys but those that reach into a prototype, written in the order of the keys' code units. */
export function record(shape: Shape): Shape {
  return {
    check: (value, path) => checkRecord(shape, value, path),
    write: (value) => {
      const entries = value as Readonly<Record<string, unknown>>;
      const keys = Object.keys(entries).toSorted();
      return `{${keys.map((key) => `${JSON.stringify(key)}:${shape.write(entries[key])}`).join(',')}}`;
    },
    schema: { type: 'object', additionalProperties: shape.schema },
  };
}

function checkRecord(shape: Shape, value: unknown, path: string): Complaint | null {
  if (!isObject(value)) return { path, value: shown(value), rule: 'an object is wanted' };
  for (const [key, entry] of Object.entries(value)) {
    if (key === '__proto__') return { path: inside(path, key), value: shown(entry), rule: 'there is no such key' };
    const complaint = shape.check(entry, inside(path, key));
    if (complaint) return complaint;
  }
  return null;
}

/** A list of no more than `most`. */
export function list(shape: Shape, most = Infinity): Shape {
  return {
    check: (value, path) => {
      if (!Array.isArray(value)) return { path, value: shown(value), rule: 'a list is wanted' };
      if (value.length > most) return { path, value: `${value.length} long`, rule: `no more than ${most} are wanted` };
      for (const [index, entry] of value.entries()) {
        const complaint = shape.check(entry, `${path}[${index}]`);
        if (complaint) return complaint;
      }
      return null;
    },
    write: (value) => `[${(value as readonly unknown[]).map((entry) => shape.write(entry)).join(',')}]`,
    schema: { type: 'array', items: shape.schema, ...(most === Infinity ? {} : { maxItems: most }) },
  };
}

/** The same, and no empty one. */
export function filledList(shape: Shape, most: number): Shape {
  const any = list(shape, most);
  const rule = 'at least one is wanted';
  return {
    ...any,
    check: (value, path) =>
      any.check(value, path) ?? ((value as readonly unknown[]).length === 0 ? { path, value: '[]', rule } : null),
    schema: { ...any.schema, minItems: 1 },
  };
}

/** A list of exactly these, each at its place. */
export function tuple(...shapes: readonly Shape[]): Shape {
  const rule = `a list of ${shapes.length} is wanted`;
  return {
    check: (value, path) => {
      if (!Array.isArray(value) || value.length !== shapes.length) return { path, value: shown(value), rule };
      for (const [place, shape] of shapes.entries()) {
        const complaint = shape.check(value[place], `${path}[${place}]`);
        if (complaint) return complaint;
      }
      return null;
    },
    write: (value) => `[${shapes.map((shape, place) => shape.write((value as readonly unknown[])[place])).join(',')}]`,
    schema: {
      type: 'array',
      prefixItems: shapes.map(({ schema }) => schema),
      items: false,
      minItems: shapes.length,
    },
  };
}

/** Objects of several kinds, told apart by the text under `key`. Each kind's shape names that key among its own. */
export function union(key: string, kinds: Readonly<Record<string, Shape>>): Shape {
  const shapes = new Map(Object.entries(kinds));
  const name = oneOf([...shapes.keys()]);
  const shapeOf = (value: unknown) => shapes.get((value as Readonly<Record<string, string>>)[key] ?? '');
  return {
    check: (value, path) => {
      if (!isObject(value)) return { path, value: shown(value), rule: 'an object is wanted' };
      const kind = Object.hasOwn(value, key) ? value[key] : undefined;
      return name.check(kind, inside(path, key)) ?? shapeOf(value)!.check(value, path);
    },
    write: (value) => shapeOf(value)!.write(value),
    schema: { oneOf: [...shapes.values()].map(({ schema }) => schema) },
  };
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function inside(path: string, key: string): string {
  const name = /^[\w-]{1,40}$/.test(key) ? key : shown(key);
  return path === '' ? name : `${path}.${name}`;
}
