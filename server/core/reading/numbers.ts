/** Every number of a line with its key, temperatures or not: for a person who is to say what they are. */
import type { Channel } from './channel.ts';
import { channelOf, keysOf, lastingKeys, whatsAlone } from './entry.ts';
import { fitOf, labelled } from './fit.ts';
import { takeApart } from './line.ts';
import type { Recognition, SaidOfLines } from './recognition.ts';

/** In the order of the line; empty where it can't be taken apart. */
export function numbersOf({ format }: Recognition, text: string, said: SaidOfLines): readonly Channel[] {
  const apart = takeApart(text, said.decimalComma ?? format?.decimalComma ?? null);
  if (!apart.ok) return [];
  const fit = format === null ? null : fitOf(format, apart.entries);
  const entries = fit === null ? apart.entries : labelled(apart.entries, fit);
  const whats = fit === null ? whatsAlone(entries) : fit.columns.map(({ what }) => what);
  const { keys } = keysOf(entries, whats, said.roles, fit === null);
  const lasting = fit === null ? lastingKeys(entries, keys) : keys;
  return entries.flatMap((entry, at) => {
    const channel = channelOf(entry, lasting[at]!, whats[at]!, fit?.columns[at]!.scale);
    return channel === null ? [] : [channel];
  });
}
