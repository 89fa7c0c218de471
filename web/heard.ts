/** What the thermometer says, as the page shows it: asked of Bowlside, and each line with what is no letter made visible. */
import type { Heard, HeardText } from '../server/core/reading/explained.ts';
import type { ExplainedValue } from '../server/core/reading/explained.ts';
import { checked } from './fetched.ts';
import { type Answer, ask, hasFields } from './post.ts';

export type { ExplainedValue, Heard, HeardText };

export async function fetchHeard(bowl: string): Promise<Answer<Heard>> {
  return checked(
    await ask(`/api/bowls/${encodeURIComponent(bowl)}/heard`),
    hasFields<Heard>('atMs', 'format', 'question', 'lines'),
  );
}

const PICTURES_FROM = 0x2400;
const DELETE_PICTURE = '\u2421';
/** A tab has a sign that people know. */
const TAB_PICTURE = '\u21e5';

/** One character per byte in; text out, with a picture for each control character and ‹B0› for each byte that belongs to no text. */
export function visible(text: string): string {
  const bytes = Uint8Array.from(text, (char) => char.charCodeAt(0));
  return decoded(bytes, text).replace(/\p{Cc}/gu, picture);
}

function decoded(bytes: Uint8Array, text: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return text.replace(/[\u0080-\u00ff]/g, (char) => `‹${char.charCodeAt(0).toString(16).toUpperCase()}›`);
  }
}

function picture(char: string): string {
  const code = char.codePointAt(0)!;
  if (code === 9) return TAB_PICTURE;
  return code < 0x20 ? String.fromCharCode(PICTURES_FROM + code) : DELETE_PICTURE;
}

/** A value with its place in its line, from 0. */
export interface PlacedValue extends ExplainedValue {
  readonly at: number;
}

/** Every value of the newest lines once, by its key: a device may say one thing on each line. */
export function valuesHeard({ lines }: Heard): readonly PlacedValue[] {
  const byKey = new Map<string, PlacedValue>();
  for (const { values } of lines)
    for (const [at, value] of values.entries())
      if (value.value !== null && !byKey.has(value.key)) byKey.set(value.key, { ...value, at });
  return [...byKey.values()].slice(0, MOST_VALUES);
}

/** More than these are no thermometer's (ours). */
const MOST_VALUES = 16;
