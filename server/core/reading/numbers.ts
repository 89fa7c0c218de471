/** Every number of a line with its key, temperatures or not: for a person who is to say what they are. */
import type { Channel } from './channel.ts';
import { otherKey, readingBy, whatsAlone } from './entry.ts';
import { fitOf, labelled } from './fit.ts';
import { takeApart } from './line.ts';
import type { Recognition } from './recognition.ts';

/** In the order of the line; empty where it can't be taken apart. `decimalComma`: as a person said it. */
export function numbersOf({ format }: Recognition, text: string, decimalComma: boolean | null): readonly Channel[] {
  const apart = takeApart(text, decimalComma ?? format?.decimalComma ?? null);
  if (!apart.ok) return [];
  const fit = format === null ? null : fitOf(format, apart.entries);
  const entries = fit === null ? apart.entries : labelled(apart.entries, fit);
  const whats = fit === null ? whatsAlone(entries) : fit.columns.map(({ what }) => what);
  const scales = fit === null ? null : fit.columns.map(({ scale }) => scale);
  // Whatever has a role is read, be it a temperature or not.
  const keys = entries.flatMap(({ label }, at) => [otherKey(label, at), String(at + 1)]);
  const reading = readingBy(entries, whats, scales, Object.fromEntries(keys.map((key) => [key, 'ignored'])));
  return reading !== null && reading.ok ? reading.channels : [];
}
